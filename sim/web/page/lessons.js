//! Five lessons: each asks a question first, then fishes the days and shows the answer.

import { LiveRun } from "./api.js";
import { planSign } from "./chart.js";
import { announce, el, errorBox } from "./elements.js";
import { Verdict } from "./results.js";
import { defaultState, requestParams } from "./state.js";
import { weight } from "./units.js";

const recastOptions = (times) => times.map((time) => ({ name: time.replaceAll(" ", "-"), sets: { recast: time } }));

/** Each lesson asks what one choice in one plan is worth. No text here may give the answer: it is measured. */
export const LESSONS = [
  {
    id: "on-the-bar", title: "On the bar: how long to wait", plan: "bar-five-minutes", options: recastOptions(["1 min", "2 min", "5 min", "12 min"]),
    question: "Fish graze on a gravel bar. Fresh groundbait and its scent bring them; each splash may frighten those that are there, and each recast takes the bait out of the water for a while. How often should you recast the feeder?",
    look: "Watch a day: which fish come to the splash, which flee from it, and how long is there nothing left on the line?",
  },
  {
    id: "bare-lead", title: "A bare lead over pellets: does patience pay?", plan: "bar-lead", options: recastOptions(["2 min", "5 min", "10 min", "20 min"]),
    question: "A catapult does the feeding, so nothing needs to be brought to the fish by casting. How long should you leave the bait out?",
    look: "Watch a day, pick a fish, and read what it noticed and what scared it.",
  },
  {
    id: "too-much", title: "Can one feed too much?", plan: "bar-five-minutes",
    options: ["5 g", "25 g", "70 g", "150 g"].map((load) => ({ name: load.replace(" ", "-"), sets: { load } })),
    question: "More bait gives more scent and keeps more fish feeding. It also hides the hookbait and fills the fish. How much bait should each cast carry?",
    look: "Watch a day: how much of the pile in the side view is left when the feeder is wound in?",
  },
  {
    id: "priming", title: "Priming the margin", plan: "bar-then-margin",
    options: [
      { name: "fed-all-day", sets: { "feed.margin.from": "0 min" } },
      { name: "fed-from-3-h", sets: { "feed.margin.from": "3 h" } },
      { name: "never-fed", sets: { "feed.margin.amount": "0 g" } },
    ],
    question: "The plan fishes the margin only for the last hour and a half. Should you feed it by hand from the start, only shortly before, or not at all?",
    look: "Watch two of the plans together: which fish are in the margin when you first cast there?",
  },
  {
    id: "hookbait", title: "Hookbait on top, or buried", plan: "bar-five-minutes",
    options: [["top", "2 min"], ["buried", "2 min"], ["top", "8 min"], ["buried", "8 min"]].map(([style, recast]) => ({
      name: `${style}-${recast.replace(" ", "-")}`, sets: { load_style: style, recast },
    })),
    question: "On top of the load, the hookbait can be taken as soon as the load opens, but it may roll off. Buried, it lies in the middle of the feed, but only once all of the load is out. Which is better, and does it depend on how soon you recast?",
    look: "Watch a day: the side view shows the hookbait from the moment it can be taken.",
  },
];

/** The state in which each option of a lesson is a plan, copied from the lesson's plan. */
export function lessonState(lesson, base) {
  const state = { ...defaultState(), scenario: "built-in.tern-bar", seed: base.seed, days: base.days, units: base.units };
  for (const option of lesson.options) {
    state.copies.push(`${lesson.plan}:${option.name}`);
    state.plans.push(option.name);
    for (const [key, value] of Object.entries(option.sets)) state.sets.set(`plan.${option.name}.${key}`, value);
  }
  return state;
}

/** The view of the lessons. */
export class LessonsView {
  #run = new LiveRun();

  constructor(page) {
    this.page = page;
    this.node = el("div", { class: "lessons" });
  }

  async show() {
    this.#run.cancel();
    const lesson = LESSONS.find(({ id }) => id === this.page.state.lesson);
    this.node.replaceChildren(...(lesson ? this.#lesson(lesson) : this.#list()));
  }

  leave() {
    this.#run.cancel();
  }

  #open(id) {
    this.page.state.lesson = id;
    this.page.remember();
    this.show();
    document.getElementById("main").focus();
  }

  #list() {
    return [
      el("h1", {}, "Lessons"),
      el("p", { class: "lead" }, "Five questions about one water. First say what you think. Then the program fishes the days, and you see the result and the reasons. Tern Bar is an invented water."),
      el("ol", { class: "list" }, LESSONS.map((lesson) => el("li", { class: "card" }, el("h2", {}, lesson.title), el("p", {}, lesson.question),
        el("button", { type: "button", "aria-label": `Begin: ${lesson.title}`, onclick: () => this.#open(lesson.id) }, "Begin")))),
    ];
  }

  #lesson(lesson) {
    const state = lessonState(lesson, this.page.state);
    const answer = el("div", { class: "answer" });
    const start = el("button", { type: "submit", disabled: true }, "Fish the days and see");
    const form = el("form", { class: "card", onsubmit: (event) => { event.preventDefault(); this.#measure(lesson, state, form, answer); } },
      el("fieldset", {}, el("legend", {}, "What do you think is best?"),
        lesson.options.map((option) => el("label", { class: "tick" },
          el("input", { type: "radio", name: "guess", value: option.name, onchange: () => { start.disabled = false; } }), option.name))),
      start);
    return [
      el("p", {}, el("button", { type: "button", class: "link", onclick: () => this.#open("") }, "← All lessons")),
      el("h1", {}, lesson.title), el("p", { class: "lead" }, lesson.question), form, answer,
    ];
  }

  #measure(lesson, state, form, answer) {
    const guess = new FormData(form).get("guess");
    const { units } = this.page;
    const verdict = new Verdict();
    const sentence = el("p", { class: "first", "data-testid": "answer" });
    const bars = el("div", { class: "compared" });
    const next = el("div", { class: "buttons" });
    answer.replaceChildren(el("h2", {}, "The result"), sentence, bars, verdict.node, next);
    const params = requestParams(state);
    params.set("seed", state.seed);
    params.set("days", state.days);
    sentence.textContent = "Fishing …";
    this.#run.start(params, (results, isLast) => {
      const indexOf = (plan) => state.plans.indexOf(plan);
      verdict.show(results, units, indexOf);
      bars.replaceChildren(...weightBars(results.comparison.plans, units, guess, indexOf));
      if (!isLast) return;
      sentence.textContent = judgement(results.comparison, guess);
      next.replaceChildren(
        el("p", {}, lesson.look),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "swim", swim: state.plans.slice(0, 2) }) }, "See a day of it"),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "compare" }) }, "Change it yourself"),
        ...results.reasons.map((reason) => el("p", { class: "quiet" }, reason)));
      announce(sentence.textContent);
    }, (error) => answer.replaceChildren(errorBox(error)));
  }
}

/** Whether a guess was right, with no more certainty than the intervals allow. */
export function judgement({ plans, pairs }, guess) {
  const best = plans.reduce((heaviest, plan) => (plan.weight_kg.mean > heaviest.weight_kg.mean ? plan : heaviest));
  const isOpen = (pair) => pair.difference_kg.low95 <= 0 && pair.difference_kg.high95 >= 0;
  if (best.name === guess) {
    const close = pairs.filter((pair) => [pair.a, pair.b].includes(guess) && isOpen(pair)).map((pair) => (pair.a === guess ? pair.b : pair.a));
    return close.length ? `You said ${guess}, and it has the highest mean weight; but ${close.join(" and ")} ${close.length > 1 ? "are" : "is"} too close to call.`
      : `You said ${guess}, and that is right.`;
  }
  const pair = pairs.find(({ a, b }) => [a, b].includes(guess) && [a, b].includes(best.name));
  return pair && isOpen(pair) ? `You said ${guess}. ${best.name} has the higher mean weight, but the two are too close to call.`
    : `You said ${guess}; ${best.name} is better.`;
}

function weightBars(plans, units, guess, indexOf) {
  const max = Math.max(...plans.map((plan) => plan.weight_kg.mean), 1e-9);
  return plans.map((plan) => {
    const fill = el("span", { class: `fill plan-${indexOf(plan.name)}` });
    fill.style.width = `${((100 * plan.weight_kg.mean) / max).toFixed(1)}%`;
    return el("div", { class: "row" }, el("p", {}, planSign(indexOf(plan.name)), `${plan.name}: ${weight(plan.weight_kg.mean, units)}`, plan.name === guess ? el("b", {}, " (your answer)") : null),
      el("span", { class: "bar", "aria-hidden": "true" }, fill));
  });
}
