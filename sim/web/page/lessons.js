//! Five guided scenes: a question first, and then what this program measures, here and now.

import { sign } from "./chart.js";
import { el, fault, say } from "./elements.js";
import { asking, fresh } from "./link.js";
import { named, weight } from "./measures.js";
import { Verdict } from "./results.js";
import { Runs } from "./wire.js";

const times = (all) => all.map((time) => ({ name: time.replaceAll(" ", "-"), sets: { recast: time } }));

/** Each asks what one choice of one plan is worth; nothing here says what comes out. */
export const LESSONS = [
  {
    id: "near-cover", title: "Near cover: how long to wait", plan: "two-minutes", options: times(["1 min", "2 min", "5 min", "12 min"]),
    question: "Small fish live along the island and know what a splash brings. Every recast takes the bait out of the water for a while. How often should the feeder go back?",
    look: "In the swim, watch who comes to the splash, how soon the first mouthfuls are gone, and how long the line lies dead after that.",
  },
  {
    id: "open-water", title: "Open water: is patience paid?", plan: "open-pellets", options: times(["2 min", "5 min", "10 min", "20 min"]),
    question: "In open water larger fish roam. A splash puts them off, a patter of pellets does not. How long should the bait be left?",
    look: "Pick a large fish in the swim and read what it noticed, and what put it to flight.",
  },
  {
    id: "too-much", title: "Can one feed too much?", plan: "two-minutes",
    options: ["5 g", "25 g", "70 g", "150 g"].map((load) => ({ name: load.replace(" ", "-"), sets: { load } })),
    question: "More bait brings more scent and holds more fish. It also hides the hookbait and fills them. How much should each cast carry?",
    look: "Watch the pile in the side view: how much of it is left when the feeder is wound in?",
  },
  {
    id: "priming", title: "Priming a second line", plan: "island-then-open",
    options: [
      { name: "fed-all-day", sets: { "feed.open.from": "0 min" } },
      { name: "fed-from-3-h", sets: { "feed.open.from": "3 h" } },
      { name: "never-fed", sets: { "feed.open.amount": "0 g" } },
    ],
    question: "The open line is fished only for the last hour and a half. Is it worth loose feeding it from the start, only shortly before, or not at all?",
    look: "Replay two of them in step, and see who is at the open line when the rod gets there.",
  },
  {
    id: "hookbait", title: "Hookbait on top, or buried", plan: "two-minutes",
    options: [["top", "2 min"], ["buried", "2 min"], ["top", "8 min"], ["buried", "8 min"]].map(([style, recast]) => ({
      name: `${style}-${recast.replace(" ", "-")}`, sets: { load_style: style, recast },
    })),
    question: "On top of the load the hookbait can be taken as soon as the load opens, but it may roll off. Buried it lies in the middle, once all is down. Which is better, and does it depend on how soon you recast?",
    look: "In the side view the hookbait shows as soon as it can be taken.",
  },
];

/** The state in which a lesson's options are plans of their own, copied from one. */
export function stateOf(lesson, base) {
  const state = { ...fresh(), scenario: "built-in.hazel-mere", seed: base.seed, days: base.days, units: base.units };
  for (const option of lesson.options) {
    state.copies.push(`${lesson.plan}:${option.name}`);
    state.plans.push(option.name);
    for (const [key, value] of Object.entries(option.sets)) state.sets.set(`plan.${option.name}.${key}`, value);
  }
  return state;
}

/** The view of the lessons. */
export class Lessons {
  #runs = new Runs();

  constructor(page) {
    this.page = page;
    this.node = el("div", { class: "lessons" });
  }

  async show() {
    this.#runs.cancel();
    const lesson = LESSONS.find((one) => one.id === this.page.state.lesson);
    this.node.replaceChildren(...(lesson ? this.#scene(lesson) : this.#list()));
  }

  leave() {
    this.#runs.cancel();
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
      el("p", { class: "lead" }, "Five questions about one water. Say first what you think; then the days are fished here and now, and you see what comes out and why. Hazel Mere is an invented water."),
      el("ol", { class: "list" }, LESSONS.map((lesson) => el("li", { class: "card" }, el("h2", {}, lesson.title), el("p", {}, lesson.question),
        el("button", { type: "button", "aria-label": `Begin: ${lesson.title}`, onclick: () => this.#open(lesson.id) }, "Begin")))),
    ];
  }

  #scene(lesson) {
    const state = stateOf(lesson, this.page.state);
    const answer = el("div", { class: "answer" });
    const measure = el("button", { type: "submit", disabled: true }, "Fish the days and see");
    const form = el("form", { class: "card", onsubmit: (event) => { event.preventDefault(); this.#measure(lesson, state, form, answer); } },
      el("fieldset", {}, el("legend", {}, "What do you think is best?"),
        lesson.options.map((option) => el("label", { class: "tick" },
          el("input", { type: "radio", name: "guess", value: option.name, onchange: () => { measure.disabled = false; } }), named(option.name)))),
      measure);
    return [
      el("p", {}, el("button", { type: "button", class: "link", onclick: () => this.#open("") }, "← All lessons")),
      el("h1", {}, lesson.title), el("p", { class: "lead" }, lesson.question), form, answer,
    ];
  }

  #measure(lesson, state, form, answer) {
    const guess = new FormData(form).get("guess");
    const { units } = this.page;
    const verdict = new Verdict();
    const said = el("p", { class: "first", "data-testid": "answer" });
    const bars = el("div", { class: "compared" });
    const on = el("div", { class: "buttons" });
    answer.replaceChildren(el("h2", {}, "What comes out"), said, bars, verdict.node, on);
    const asked = asking(state);
    asked.set("seed", state.seed);
    asked.set("days", state.days);
    said.textContent = "Fishing …";
    this.#runs.begin(asked, (told, last) => {
      const at = (plan) => state.plans.indexOf(plan);
      verdict.show(told, units, at);
      bars.replaceChildren(...compared(told.comparison.plans, units, guess, at));
      if (!last) return;
      said.textContent = judged(told.comparison, guess);
      on.replaceChildren(
        el("p", {}, lesson.look),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "swim", swim: state.plans.slice(0, 2) }) }, "See a day of it"),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "compare" }) }, "Change it yourself"),
        ...told.reasons.map((line) => el("p", { class: "quiet" }, line)));
      say(said.textContent);
    }, (problem) => answer.replaceChildren(fault(problem)));
  }
}

/** How a guess stands to what was measured, no further than the intervals allow. */
export function judged({ plans, pairs }, guess) {
  const best = plans.reduce((most, plan) => (plan.weight_kg.mean > most.weight_kg.mean ? plan : most));
  if (best.name === guess) {
    const close = pairs.filter((pair) => [pair.a, pair.b].includes(guess) && pair.difference_kg.low95 <= 0 && pair.difference_kg.high95 >= 0)
      .map((pair) => named(pair.a === guess ? pair.b : pair.a));
    return close.length ? `You said ${named(guess)}, and in the mean it is ahead; but ${close.join(" and ")} ${close.length > 1 ? "are" : "is"} too close to call.`
      : `You said ${named(guess)}, and so it comes out.`;
  }
  const pair = pairs.find((one) => [one.a, one.b].includes(guess) && [one.a, one.b].includes(best.name));
  const open = pair && pair.difference_kg.low95 <= 0 && pair.difference_kg.high95 >= 0;
  return open ? `You said ${named(guess)}. ${named(best.name)} is ahead in the mean, but the two are too close to call.`
    : `You said ${named(guess)}; ${named(best.name)} comes out ahead of it.`;
}

function compared(plans, units, guess, at) {
  const most = Math.max(...plans.map((plan) => plan.weight_kg.mean), 1e-9);
  return plans.map((plan) => {
    const fill = el("span", { class: `fill plan-${at(plan.name)}` });
    fill.style.width = `${((100 * plan.weight_kg.mean) / most).toFixed(1)}%`;
    return el("div", { class: "row" }, el("p", {}, sign(at(plan.name)), `${named(plan.name)}: ${weight(plan.weight_kg.mean, units)}`, plan.name === guess ? el("b", {}, " (your answer)") : null),
      el("span", { class: "bar", "aria-hidden": "true" }, fill));
  });
}
