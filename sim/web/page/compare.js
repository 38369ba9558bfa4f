//! The view that compares: settings of each plan, and results while their days are fished.

import { planSign } from "./chart.js";
import { WhatChanged } from "./changes.js";
import { changesOf, Controls, planCard, valuesNow } from "./controls.js";
import { announce, el, errorBox, say } from "./elements.js";
import { requestParams, resetPlan } from "./state.js";
import { details, Verdict } from "./results.js";
import { setting } from "./units.js";
import { getJson, getText, LiveRun } from "./api.js";

/** Time that a slider must rest before a new run starts [ms]. */
const REST_MS = 90;

/** Identifies a folded part of a plan's card across redraws. */
const foldName = (node) => `${node.closest(".card").getAttribute("aria-labelledby")}${node.matches(".card") ? "" : node.firstChild.textContent}`;

/** The view that compares plans. */
export class CompareView {
  #run = new LiveRun();
  #before = new LiveRun();
  #timer = null;
  /** What was changed, by plan. */
  #changed = new Map();
  /** What each control shows, by key. */
  #shownNow = new Map();
  #request = null;

  constructor(page) {
    this.page = page;
    this.verdict = new Verdict();
    this.controls = new Controls((control, choice) => this.#set(control, choice), () => this.page.units);
    this.whatChanged = new WhatChanged();
    this.paper = el("section", { class: "paper", "aria-hidden": "true" });
    this.problem = el("div");
    this.plans = el("fieldset", { class: "pick" });
    this.cards = el("div", { class: "cards" });
    this.water = el("details", { class: "card water", hidden: true });
    this.details = el("div", { class: "details" });
    this.cancel = el("button", { type: "button", disabled: true, onclick: () => this.stop() }, "Cancel");
    this.node = el("div", { class: "compare" },
      el("h1", { class: "unseen" }, "Compare plans"),
      this.paper,
      el("div", { class: "work" }, this.verdict.node, this.problem,
        el("div", { class: "controls" }, this.plans, this.cards, this.water)),
      this.details);
    this.verdict.node.querySelector(".so-far").append(this.cancel);
    this.verdict.node.append(this.whatChanged.node);
  }

  /** Shows the state of the page and starts a run. */
  async show() {
    this.whatChanged.forget();
    await this.#loadSettings();
    this.start();
  }

  leave() {
    this.#run.cancel();
    this.#before.cancel();
  }

  #set(control, choice) {
    const { state } = this.page;
    this.whatChanged.moved(control, this.#shownNow.get(control.key), choice.shown);
    this.#shownNow.set(control.key, choice.shown);
    if (choice.written === null) state.sets.delete(control.key);
    else state.sets.set(control.key, choice.written);
    this.#restart();
  }

  /** After a change: cancels the run in progress, and starts a new one once the slider rests. */
  #restart() {
    this.page.remember();
    this.#run.cancel();
    this.#before.cancel();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.start(() => this.#loadSettings()), REST_MS);
  }

  /** Index of a plan's colour and line style: its position among the chosen plans. */
  indexOf = (plan) => Math.max(0, this.page.state.plans.indexOf(plan)) % 4;

  /** A plan's name as shown: followed by its settings if these are no longer those of the file. */
  labelOf = (plan) => (this.#changed.has(plan) ? `${plan}, now ${this.#changed.get(plan)}` : plan);

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
    const request = `${params}`;
    this.#run.start(params, (results, isLast) => {
      this.verdict.show(results, units, this.indexOf, this.labelOf);
      this.whatChanged.shown(results, request, units);
      // Figures of other plans or in other units never stay.
      const shown = `${units} ${results.comparison.plans.map(({ name }) => name).join(" ")}`;
      if (isLast || results.days > 40 || this.details.dataset.shown !== shown) this.details.replaceChildren(...details(results, units, this.indexOf, this.labelOf));
      this.details.dataset.shown = shown;
      firstAnswer();
      if (!isLast) return;
      this.#ended(`Done: ${results.early ?? results.verdict[0] ?? "there is only one plan."}`);
      this.#fishBefore(units);
    }, (error) => {
      this.problem.replaceChildren(errorBox(error), this.#undoButton());
      this.#ended(error.message);
      firstAnswer();
    });
  }

  /** Fishes the days that are missing to say what a change did: the settings before it were shown for a moment only. */
  #fishBefore(units) {
    const request = this.whatChanged.missing();
    if (!request) return;
    this.#before.start(new URLSearchParams(request), (results) => this.whatChanged.shownBefore(results, units), () => {});
  }

  stop() {
    this.#before.cancel();
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
    const { units } = this.page;
    const controlsOf = (plan) => scenario.dials.filter((control) => control.plan === plan);
    const changes = new Map(scenario.plans.map((plan) => [plan, changesOf(controlsOf(plan), units)]));
    this.#changed = new Map(scenario.plans.filter((plan) => changes.get(plan).length).map((plan) => [plan, valuesNow(controlsOf(plan), units)]));
    this.#drawPaper(scenario, controlsOf);
    this.#redrawResults();
    this.plans.replaceChildren(...[el("legend", {}, "Plans to compare, up to four"),
      ...scenario.plans.map((plan) => el("label", { class: "tick" },
        el("input", { type: "checkbox", name: "plan", value: plan, checked: state.plans.includes(plan), onchange: (event) => this.#choose(scenario, plan, event.target) }),
        state.plans.includes(plan) ? planSign(this.indexOf(plan)) : null, plan, this.#changed.has(plan) ? el("span", { class: "badge" }, "changed") : null)),
      this.#changed.size ? el("p", { class: "quiet star" }, "Changed: its settings are no longer those of the file, so the new ones are shown after its name.") : null].filter(Boolean));
    const focus = document.activeElement?.id;
    const folds = new Map([...this.cards.querySelectorAll("details")].map((node) => [foldName(node), node.open]));
    this.cards.replaceChildren(...state.plans.map((plan) => planCard(plan, this.indexOf(plan),
      this.controls.planElements(controlsOf(plan)), changes.get(plan), this.#buttons(scenario, plan))));
    // A phone has room for one card.
    const hasRoom = matchMedia("(min-width: 48rem)").matches;
    [...this.cards.children].forEach((card, index) => { card.open = hasRoom || index === 0; });
    for (const node of this.cards.querySelectorAll("details")) node.open = folds.get(foldName(node)) ?? node.open;
    const water = scenario.dials.filter((control) => control.plan === null).map((control) => {
      const value = state.sets.get(control.key);
      const index = value === undefined ? control.at : control.stops.findIndex((choice) => choice.written === value);
      return { ...control, at: Math.max(0, index) };
    });
    this.#shownNow = new Map([...scenario.dials.filter(({ plan }) => plan !== null), ...water].map((control) => [control.key, control.stops[control.at].shown]));
    this.water.hidden = false;
    this.water.replaceChildren(el("summary", {}, el("h2", {}, "The water and its fish")), ...water.map((control) => this.controls.element(control)));
    if (focus && document.activeElement?.id !== focus) document.getElementById(focus)?.focus();
  }

  /** Draws results again that came before it was known which plans are changed. */
  #redrawResults() {
    const { results, units } = this.verdict;
    if (!results || !results.comparison.plans.every(({ name }) => this.page.state.plans.includes(name))) return;
    this.verdict.show(results, units, this.indexOf, this.labelOf);
    this.details.replaceChildren(...details(results, units, this.indexOf, this.labelOf));
  }

  /** What paper needs with the results: the water, the days and every setting. */
  #drawPaper(scenario, controlsOf) {
    const { state, units } = this.page;
    const words = (control) => `${control.name} ${setting(control.stops[control.at].shown, units)}`;
    const water = scenario.dials.filter((control) => control.plan === null).map((control) => {
      const choice = control.stops.find(({ written }) => written === (state.sets.get(control.key) ?? null)) ?? control.stops[control.at];
      return `${control.name} ${setting(choice.shown, units)}`;
    });
    this.paper.replaceChildren(el("h1", {}, scenario.title), el("p", {}, `${state.days} days, set of days (seed) ${state.seed}. ${water.join("; ")}.`),
      el("ul", {}, state.plans.map((plan) => el("li", {}, planSign(this.indexOf(plan)), el("b", {}, this.labelOf(plan)), `: ${controlsOf(plan).map(words).join(", ")}`))));
  }

  #choose(scenario, plan, box) {
    const { state } = this.page;
    const chosen = scenario.plans.filter((name) => (name === plan ? box.checked : state.plans.includes(name)));
    if (chosen.length < 1 || chosen.length > 4) {
      box.checked = !box.checked;
      say("Choose one to four plans.");
      return;
    }
    state.plans = chosen;
    this.whatChanged.forget();
    this.#restart();
  }

  #buttons(scenario, plan) {
    const { state } = this.page;
    const isChanged = [...state.sets.keys()].some((key) => key.startsWith(`plan.${plan}.`));
    return [
      el("button", { type: "button", disabled: !isChanged, onclick: () => { resetPlan(state, plan); this.whatChanged.forget(); this.#restart(); } }, "Reset"),
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
    this.whatChanged.forget();
    this.#restart();
  }

  /** Saves the scenario with all changes as a file. */
  async export() {
    try {
      const text = await getText("export", requestParams(this.page.state));
      const href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
      el("a", { href, download: `${this.page.state.scenario.replace("built-in.", "")}-edited.toml` }).click();
      setTimeout(() => URL.revokeObjectURL(href), 10000);
      say("The scenario was saved as a file.");
    } catch (error) {
      this.problem.replaceChildren(errorBox(error));
    }
  }
}
