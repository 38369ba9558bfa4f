//! Lessons: each asks a question first, then fishes the days and shows the answer. They are read from files next to the
//! scenarios; none is written here.

import { getJson, LiveRun } from "./api.js";
import { planSign } from "./chart.js";
import { announce, el, errorBox, sentence } from "./elements.js";
import { Verdict } from "./results.js";
import { defaultState, requestParams } from "./state.js";
import { weight } from "./units.js";

/** What the link calls a lesson. */
const idOf = (lesson) => `${lesson.scenario}/${lesson.name}`;

/** The name of a choice in words: `5-g` is 5 g, `fed-all-day` is fed all day. */
export const choiceWords = (name) => name.replace(/(\d)-/g, "$1\u00a0").replaceAll("-", " ");

/** A sentence about plans with the choices of a lesson in words. */
export function withChoiceWords(text, names) {
  const longestFirst = [...names].sort((a, b) => b.length - a.length);
  return longestFirst.reduce((words, name) => words.replace(new RegExp(`(?<![\\w-])${name}(?![\\w-])`, "g"), choiceWords(name)), text);
}

/** The state in which each choice of a lesson is a plan, copied from the plan that it names. */
export function lessonState(lesson, base) {
  const state = { ...defaultState(), scenario: lesson.scenario, seed: base.seed, days: base.days, units: base.units };
  for (const choice of lesson.choices) {
    state.copies.push(`${choice.plan}:${choice.name}`);
    state.plans.push(choice.name);
    for (const [key, value] of choice.sets) state.sets.set(`plan.${choice.name}.${key}`, value);
  }
  return state;
}

/** The view of the lessons. */
export class LessonsView {
  #run = new LiveRun();
  #request = null;

  constructor(page) {
    this.page = page;
    this.node = el("div", { class: "lessons" });
  }

  async show() {
    this.#run.cancel();
    this.#request?.abort();
    this.#request = new AbortController();
    if (!this.node.childElementCount) this.node.append(el("p", { class: "quiet" }, "Loading …"));
    try {
      // Files may have changed since the view was last shown.
      const { lessons, faults } = await getJson("lessons", new URLSearchParams(), this.#request.signal);
      const wanted = this.page.state.lesson;
      const lesson = wanted && (lessons.find((lesson) => idOf(lesson) === wanted) ?? lessons.find(({ name }) => name === wanted));
      this.page.setTitle(lesson ? lesson.title : "");
      this.node.replaceChildren(...(lesson ? this.#lesson(lesson) : this.#list(lessons, faults)));
    } catch (error) {
      if (error.name !== "AbortError") this.node.replaceChildren(errorBox(error));
    }
  }

  leave() {
    this.#run.cancel();
    this.#request?.abort();
  }

  async #open(id) {
    this.page.state.lesson = id;
    this.page.remember();
    await this.show();
    document.getElementById("main").focus();
  }

  #list(lessons, faults) {
    return [
      el("h1", {}, "Lessons"),
      el("p", { class: "lead" }, "First say what you think. Then the program fishes the days, and you see the result and the reasons. The waters are invented."),
      faults.length ? errorBox({ message: "Lessons that cannot be read are left out:", faults }) : null,
      el("ol", { class: "list" }, lessons.map((lesson) => el("li", { class: "card" }, el("h2", {}, lesson.title),
        el("p", { class: "quiet" }, this.page.titleOf(lesson.scenario)), el("p", {}, lesson.question),
        el("button", { type: "button", "aria-label": `Begin: ${lesson.title}`, onclick: () => this.#open(idOf(lesson)) }, "Begin")))),
    ].filter(Boolean);
  }

  #lesson(lesson) {
    const state = lessonState(lesson, this.page.state);
    const answer = el("div", { class: "answer" });
    const back = el("div", { class: "back" });
    const start = el("button", { type: "submit", disabled: true }, "Fish the days and see");
    const form = el("form", { class: "card", onsubmit: (event) => { event.preventDefault(); this.#measure(lesson, state, form, answer, back); } },
      el("fieldset", {}, el("legend", {}, "What do you think is best?"),
        lesson.choices.map((choice) => el("label", { class: "tick" },
          el("input", { type: "radio", name: "guess", value: choice.name, onchange: () => { start.disabled = false; } }), choiceWords(choice.name)))),
      el("p", { class: "buttons" }, start, el("button", { type: "button", onclick: () => print() }, "Print as a handout")));
    return [
      el("p", {}, el("button", { type: "button", class: "link", onclick: () => this.#open("") }, "← All lessons")),
      el("h1", {}, lesson.title), el("p", { class: "lead" }, lesson.question), form, answer, handout(lesson, this.page.titleOf(lesson.scenario), back),
    ];
  }

  #measure(lesson, state, form, answer, back) {
    const guess = new FormData(form).get("guess");
    const { units } = this.page;
    const verdict = new Verdict();
    const judged = el("p", { class: "first", "data-testid": "answer" });
    const bars = el("div", { class: "compared" });
    const next = el("div", { class: "buttons" });
    answer.replaceChildren(el("h2", {}, "The result"), judged, bars, verdict.node, next);
    const params = requestParams(state);
    params.set("seed", state.seed);
    params.set("days", state.days);
    judged.textContent = "Fishing …";
    answer.scrollIntoView({ block: "start" });
    const inWords = (text) => text && withChoiceWords(text, state.plans);
    this.#run.start(params, (fished, isLast) => {
      const results = { ...fished, early: inWords(fished.early), verdict: fished.verdict.map(inWords), reasons: fished.reasons.map(inWords) };
      const indexOf = (plan) => state.plans.indexOf(plan);
      verdict.show(results, units, indexOf, choiceWords);
      bars.replaceChildren(...weightBars(results.comparison.plans, units, guess, indexOf));
      if (!isLast) return;
      judged.textContent = results.early ?? judgement(results.comparison, guess);
      next.replaceChildren(
        ...(lesson.answer ? [el("p", {}, lesson.answer)] : []),
        el("p", {}, lesson.look),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "swim", swim: state.plans.slice(0, 2) }) }, "See a day of it"),
        el("button", { type: "button", onclick: () => this.page.open({ ...state, view: "compare" }) }, "Change it yourself"),
        ...results.reasons.map((reason) => el("p", { class: "quiet" }, sentence(reason))));
      back.replaceChildren(el("p", {}, `Measured on ${results.days} days.`), ...weightBars(results.comparison.plans, units, "", indexOf),
        ...[results.early, ...results.verdict, ...results.reasons].filter(Boolean).map((words) => el("p", {}, words)));
      announce(judged.textContent);
    }, (error) => answer.replaceChildren(errorBox(error)));
  }
}

/** What a printer gets of a lesson: a page with the question, and a second one with the answer. */
function handout(lesson, water, back) {
  back.append(el("p", {}, "Fish the days on the page before you print, and the result stands here."));
  return el("section", { class: "paper handout", "aria-hidden": "true" },
    el("h1", {}, lesson.title), el("p", {}, water), el("p", { class: "lead" }, lesson.question),
    el("h2", {}, "What do you think is best? Tick one."),
    el("ul", { class: "boxes" }, lesson.choices.map((choice) => el("li", {}, choiceWords(choice.name)))),
    el("h2", {}, "Why?"), ...Array.from({ length: 4 }, () => el("p", { class: "write-here" })),
    el("h2", {}, "Then"), el("p", {}, lesson.look),
    el("div", { class: "second-page" }, el("h1", {}, "The answer"), el("p", {}, lesson.title), lesson.answer ? el("p", { class: "lead" }, lesson.answer) : null, back));
}

/** Whether a guess was right, with no more certainty than the intervals allow. */
export function judgement({ plans, pairs }, guess) {
  const best = plans.reduce((heaviest, plan) => (plan.weight_kg.mean > heaviest.weight_kg.mean ? plan : heaviest));
  const [said, ahead] = [choiceWords(guess), choiceWords(best.name)];
  const isOpen = (pair) => pair.difference_kg.low95 <= 0 && pair.difference_kg.high95 >= 0;
  if (best.name === guess) {
    const close = pairs.filter((pair) => [pair.a, pair.b].includes(guess) && isOpen(pair)).map((pair) => choiceWords(pair.a === guess ? pair.b : pair.a));
    return close.length ? `You said ${said}, and it has the highest mean weight; but ${close.join(" and ")} ${close.length > 1 ? "are" : "is"} too close to call.`
      : `You said ${said}, and that is right.`;
  }
  const pair = pairs.find(({ a, b }) => [a, b].includes(guess) && [a, b].includes(best.name));
  return pair && isOpen(pair) ? `You said ${said}; ${ahead} has the higher mean weight, but the two are too close to call.`
    : `You said ${said}; ${ahead} is better.`;
}

function weightBars(plans, units, guess, indexOf) {
  const max = Math.max(...plans.map((plan) => plan.weight_kg.mean), 1e-9);
  return plans.map((plan) => {
    const fill = el("span", { class: `fill plan-${indexOf(plan.name)}` });
    fill.style.width = `${((100 * plan.weight_kg.mean) / max).toFixed(1)}%`;
    return el("div", { class: "row" }, el("p", {}, planSign(indexOf(plan.name)), `${choiceWords(plan.name)}: ${weight(plan.weight_kg.mean, units)}`, plan.name === guess ? el("b", {}, " (your answer)") : null),
      el("span", { class: "bar", "aria-hidden": "true" }, fill));
  });
}
