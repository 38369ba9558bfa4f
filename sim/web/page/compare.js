//! The view that compares: settings of each plan, and results while their days are fished.

import { planSign } from "./chart.js";
import { Controls, planCard } from "./controls.js";
import { announce, el, errorBox } from "./elements.js";
import { requestParams, resetPlan } from "./state.js";
import { details, Verdict } from "./results.js";
import { getJson, getText, LiveRun } from "./api.js";

/** Time that a slider must rest before a new run starts [ms]. */
const REST_MS = 90;

/** Identifies a folded part of a plan's card across redraws. */
const foldName = (node) => `${node.closest(".card").getAttribute("aria-labelledby")}${node.firstChild.textContent}`;

/** The view that compares plans. */
export class CompareView {
  #run = new LiveRun();
  #timer = null;
  #request = null;

  constructor(page) {
    this.page = page;
    this.verdict = new Verdict();
    this.controls = new Controls((control, choice) => this.#set(control, choice));
    this.problem = el("div");
    this.plans = el("fieldset", { class: "pick" });
    this.cards = el("div", { class: "cards" });
    this.water = el("details", { class: "card water", hidden: true });
    this.details = el("div", { class: "details" });
    this.cancel = el("button", { type: "button", disabled: true, onclick: () => this.stop() }, "Cancel");
    this.node = el("div", { class: "compare" },
      el("h1", { class: "unseen" }, "Compare plans"),
      el("div", { class: "work" }, this.verdict.node, this.problem,
        el("div", { class: "controls" }, this.plans, this.cards, this.water)),
      this.details);
    this.verdict.node.querySelector(".so-far").append(this.cancel);
  }

  /** Shows the state of the page and starts a run. */
  async show() {
    await this.#loadSettings();
    this.start();
  }

  leave() {
    this.#run.cancel();
  }

  #set(control, choice) {
    const { state } = this.page;
    if (choice.written === null) state.sets.delete(control.key);
    else state.sets.set(control.key, choice.written);
    this.#restart();
  }

  /** After a change: cancels the run in progress, and starts a new one once the slider rests. */
  #restart() {
    this.page.remember();
    this.#run.cancel();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.start(() => this.#loadSettings()), REST_MS);
  }

  /** Index of a plan's colour and line style: its position among the chosen plans. */
  indexOf = (plan) => Math.max(0, this.page.state.plans.indexOf(plan)) % 4;

  /** Starts a run; calls `onFirst` after its first results or its error. */
  start(onFirst = () => {}) {
    const { state } = this.page;
    if (!state.plans.length) return;
    let hasAnswered = false;
    const firstAnswer = () => {
      if (!hasAnswered) onFirst();
      hasAnswered = true;
    };
    const params = requestParams(state);
    params.set("seed", state.seed);
    params.set("days", state.days);
    this.cancel.disabled = false;
    this.problem.replaceChildren();
    this.node.classList.add("running");
    announce("Fishing the days.");
    const { units } = this.page;
    this.#run.start(params, (results, isLast) => {
      this.verdict.show(results, units, this.indexOf);
      if (isLast || results.days > 40 || !this.details.childElementCount) this.details.replaceChildren(...details(results, units, this.indexOf));
      firstAnswer();
      if (isLast) this.#ended(`Done: ${results.verdict[0] ?? "there is only one plan."}`);
    }, (error) => {
      this.problem.replaceChildren(errorBox(error), this.#undoButton());
      this.#ended(error.message);
      firstAnswer();
    });
  }

  stop() {
    if (this.#run.cancel()) {
      this.verdict.showStopped("Stopped; the figures are for the days fished so far.");
      this.#ended("Stopped.");
    }
  }

  #ended(text) {
    this.cancel.disabled = true;
    this.node.classList.remove("running");
    announce(text);
  }

  /** Fetches the plans and controls of the scenario, and shows them. */
  async #loadSettings() {
    this.#request?.abort();
    this.#request = new AbortController();
    const { state } = this.page;
    try {
      const scenario = await getJson("scenario", requestParams(state, []), this.#request.signal);
      this.page.setScenario(scenario);
      const kept = state.plans.filter((plan) => scenario.plans.includes(plan));
      state.plans = scenario.plans.filter((plan) => (kept.length ? kept : scenario.plans.slice(0, 4)).includes(plan)).slice(0, 4);
      this.#draw(scenario);
    } catch (error) {
      if (error.name !== "AbortError") this.problem.replaceChildren(errorBox(error), this.#undoButton());
    }
  }

  /** A button that undoes all changes, for a state that cannot be fished. */
  #undoButton() {
    const { state } = this.page;
    if (!state.sets.size && !state.copies.length) return "";
    return el("button", { type: "button", onclick: () => {
      state.sets.clear();
      state.copies = [];
      this.page.remember();
      this.problem.replaceChildren();
      this.show();
    } }, "Take all changes back");
  }

  #draw(scenario) {
    const { state } = this.page;
    this.plans.replaceChildren(el("legend", {}, "Plans to compare, up to four"),
      ...scenario.plans.map((plan) => el("label", { class: "tick" },
        el("input", { type: "checkbox", name: "plan", value: plan, checked: state.plans.includes(plan), onchange: (event) => this.#choose(scenario, plan, event.target) }),
        state.plans.includes(plan) ? planSign(this.indexOf(plan)) : null, plan)));
    const focus = document.activeElement?.id;
    const unfolded = [...this.cards.querySelectorAll("details")].filter((node) => node.open).map(foldName);
    this.cards.replaceChildren(...state.plans.map((plan) => planCard(plan, this.indexOf(plan),
      this.controls.planElements(scenario.dials.filter((control) => control.plan === plan)), this.#buttons(scenario, plan))));
    for (const node of this.cards.querySelectorAll("details")) node.open = unfolded.includes(foldName(node));
    const water = scenario.dials.filter((control) => control.plan === null).map((control) => {
      const value = state.sets.get(control.key);
      const index = value === undefined ? control.at : control.stops.findIndex((choice) => choice.written === value);
      return { ...control, at: Math.max(0, index) };
    });
    this.water.hidden = false;
    this.water.replaceChildren(el("summary", {}, "The water and its fish"), ...water.map((control) => this.controls.element(control)));
    if (focus && document.activeElement?.id !== focus) document.getElementById(focus)?.focus();
  }

  #choose(scenario, plan, box) {
    const { state } = this.page;
    const chosen = scenario.plans.filter((name) => (name === plan ? box.checked : state.plans.includes(name)));
    if (chosen.length < 1 || chosen.length > 4) {
      box.checked = !box.checked;
      announce("Choose one to four plans.");
      return;
    }
    state.plans = chosen;
    this.#restart();
  }

  #buttons(scenario, plan) {
    const { state } = this.page;
    const isChanged = [...state.sets.keys()].some((key) => key.startsWith(`plan.${plan}.`));
    return [
      el("button", { type: "button", disabled: !isChanged, onclick: () => { resetPlan(state, plan); this.#restart(); } }, "Reset"),
      el("button", { type: "button", disabled: state.plans.length >= 4, onclick: () => this.#copy(scenario, plan) }, "Copy"),
      el("button", { type: "button", onclick: () => this.page.watch([plan]) }, "Watch a day"),
    ];
  }

  #copy(scenario, plan) {
    const { state } = this.page;
    let n = 2;
    while (scenario.plans.includes(`${plan}-${n}`)) n += 1;
    const name = `${plan}-${n}`;
    state.copies.push(`${plan}:${name}`);
    for (const [key, value] of [...state.sets]) {
      if (key.startsWith(`plan.${plan}.`)) state.sets.set(key.replace(`plan.${plan}.`, `plan.${name}.`), value);
    }
    state.plans.push(name);
    this.#restart();
  }

  /** Saves the scenario with all changes as a file. */
  async export() {
    try {
      const text = await getText("export", requestParams(this.page.state));
      const href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
      el("a", { href, download: `${this.page.state.scenario.replace("built-in.", "")}-edited.toml` }).click();
      setTimeout(() => URL.revokeObjectURL(href), 10000);
      announce("The scenario was saved as a file.");
    } catch (error) {
      this.problem.replaceChildren(errorBox(error));
    }
  }
}
