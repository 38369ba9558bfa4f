//! Plans side by side: their settings, and what comes of them while their days are fished.

import { sign } from "./chart.js";
import { card, Dials } from "./dials.js";
import { el, fault, say } from "./elements.js";
import { asking, asWritten } from "./link.js";
import { named } from "./measures.js";
import { details, Verdict } from "./results.js";
import { ask, askText, Runs } from "./wire.js";

/** How long a slider must rest before a new run begins [ms]. */
const RESTS_MS = 90;

/** The view that compares. */
export class Compare {
  #runs = new Runs();
  #timer = null;
  #asked = null;
  #open = new Set();

  constructor(page) {
    this.page = page;
    this.verdict = new Verdict();
    this.dials = new Dials((dial, stop) => this.#turned(dial, stop));
    this.problem = el("div");
    this.plans = el("fieldset", { class: "pick" });
    this.cards = el("div", { class: "cards" });
    this.water = el("details", { class: "card water", hidden: true });
    this.below = el("div", { class: "details" });
    this.cancel = el("button", { type: "button", disabled: true, onclick: () => this.stop() }, "Cancel");
    this.node = el("div", { class: "compare" },
      el("h1", { class: "unseen" }, "Compare plans"),
      el("div", { class: "work" }, this.verdict.node, this.problem,
        el("div", { class: "controls" }, this.plans, this.cards, this.water)),
      this.below);
    this.verdict.node.querySelector(".so-far").append(this.cancel);
  }

  /** Shows the state of the page anew. */
  async show() {
    await this.#settings();
    this.begin();
  }

  leave() {
    this.#runs.cancel();
  }

  #turned(dial, stop) {
    const { state } = this.page;
    if (stop.written === null) state.sets.delete(dial.key);
    else state.sets.set(dial.key, stop.written);
    this.#changed();
  }

  /** Something was changed: the run under way is stale, and a new one begins once the slider rests. */
  #changed() {
    this.page.remember();
    this.#runs.cancel();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.begin(() => this.#settings()), RESTS_MS);
  }

  /** Which sign a plan has: its place among those chosen. */
  at = (plan) => Math.max(0, this.page.state.plans.indexOf(plan)) % 4;

  /** Begins a run; `first` is called when it has told of its first days, or failed to. */
  begin(first = () => {}) {
    const { state } = this.page;
    if (!state.plans.length) return;
    let begun = false;
    const once = () => {
      if (!begun) first();
      begun = true;
    };
    const asked = asking(state);
    asked.set("seed", state.seed);
    asked.set("days", state.days);
    this.cancel.disabled = false;
    this.problem.replaceChildren();
    this.node.classList.add("running");
    say("Fishing the days anew.");
    const { units } = this.page;
    this.#runs.begin(asked, (told, last) => {
      this.verdict.show(told, units, this.at);
      if (last || told.days > 40 || !this.below.childElementCount) this.below.replaceChildren(...details(told, units, this.at));
      once();
      if (last) this.#ended(`Done: ${told.verdict[0] ?? "one plan alone."}`);
    }, (problem) => {
      this.problem.replaceChildren(fault(problem), this.#wayBack());
      this.#ended(problem.message);
      once();
    });
  }

  stop() {
    if (this.#runs.cancel()) {
      this.verdict.stopped("Stopped; the figures are those of the days fished so far.");
      this.#ended("Stopped.");
    }
  }

  #ended(words) {
    this.cancel.disabled = true;
    this.node.classList.remove("running");
    say(words);
  }

  /** Fetches what can be set, and shows it. */
  async #settings() {
    this.#asked?.abort();
    this.#asked = new AbortController();
    const { state } = this.page;
    try {
      const told = await ask("scenario", asking(state, []), this.#asked.signal);
      this.page.scenarioIs(told);
      const kept = state.plans.filter((plan) => told.plans.includes(plan));
      state.plans = told.plans.filter((plan) => (kept.length ? kept : told.plans.slice(0, 4)).includes(plan)).slice(0, 4);
      this.#draw(told);
    } catch (why) {
      if (why.name !== "AbortError") this.problem.replaceChildren(fault(why), this.#wayBack());
    }
  }

  /** Out of a state that cannot be fished: all that was changed is taken back. */
  #wayBack() {
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

  #draw(told) {
    const { state } = this.page;
    this.plans.replaceChildren(el("legend", {}, "Plans, two to four side by side"),
      ...told.plans.map((plan) => el("label", { class: "tick" },
        el("input", { type: "checkbox", name: "plan", value: plan, checked: state.plans.includes(plan), onchange: (event) => this.#pick(told, plan, event.target) }),
        state.plans.includes(plan) ? sign(this.at(plan)) : null, named(plan))));
    const focus = document.activeElement?.id;
    const fold = [...this.cards.querySelectorAll("details")].filter((node) => node.open).map((node) => `${node.closest(".card").getAttribute("aria-labelledby")}${node.firstChild.textContent}`);
    this.cards.replaceChildren(...state.plans.map((plan) => card(plan, this.at(plan),
      this.dials.plan(told.dials.filter((dial) => dial.plan === plan)), this.#buttons(told, plan))));
    for (const node of this.cards.querySelectorAll("details")) {
      node.open = fold.includes(`${node.closest(".card").getAttribute("aria-labelledby")}${node.firstChild.textContent}`);
    }
    const water = told.dials.filter((dial) => dial.plan === null).map((dial) => {
      const set = state.sets.get(dial.key);
      const at = set === undefined ? dial.at : dial.stops.findIndex((stop) => stop.written === set);
      return { ...dial, at: Math.max(0, at) };
    });
    this.water.hidden = false;
    this.water.replaceChildren(el("summary", {}, "The water and its fish"), ...water.map((dial) => this.dials.node(dial)));
    if (focus && document.activeElement?.id !== focus) document.getElementById(focus)?.focus();
  }

  #pick(told, plan, box) {
    const { state } = this.page;
    const chosen = told.plans.filter((name) => (name === plan ? box.checked : state.plans.includes(name)));
    if (chosen.length < 1 || chosen.length > 4) {
      box.checked = !box.checked;
      say("One to four plans stand side by side.");
      return;
    }
    state.plans = chosen;
    this.#changed();
  }

  #buttons(told, plan) {
    const { state } = this.page;
    const set = [...state.sets.keys()].some((key) => key.startsWith(`plan.${plan}.`));
    return [
      el("button", { type: "button", disabled: !set, onclick: () => { asWritten(state, plan); this.#changed(); } }, "As written"),
      el("button", { type: "button", disabled: state.plans.length >= 4, onclick: () => this.#copy(told, plan) }, "Copy"),
      el("button", { type: "button", onclick: () => this.page.watch([plan]) }, "Watch a day"),
    ];
  }

  #copy(told, plan) {
    const { state } = this.page;
    let n = 2;
    while (told.plans.includes(`${plan}-${n}`)) n += 1;
    const name = `${plan}-${n}`;
    state.copies.push(`${plan}:${name}`);
    for (const [key, value] of [...state.sets]) {
      if (key.startsWith(`plan.${plan}.`)) state.sets.set(key.replace(`plan.${plan}.`, `plan.${name}.`), value);
    }
    state.plans.push(name);
    this.#changed();
  }

  /** Hands the scenario over as a file. */
  async export() {
    try {
      const text = await askText("export", asking(this.page.state));
      const href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
      el("a", { href, download: `${this.page.state.scenario.replace("built-in.", "")}-edited.toml` }).click();
      setTimeout(() => URL.revokeObjectURL(href), 10000);
      say("The scenario was handed over as a file.");
    } catch (why) {
      this.problem.replaceChildren(fault(why));
    }
  }
}
