//! The bank log: casts, bites and fish, two or three taps each, kept in this browser and downloaded as a catch log.

import { getJson, postJson } from "./api.js";
import { el, errorBox, say, selectField } from "./elements.js";
import { NowCard } from "./now.js";
import { requestParams } from "./state.js";

const STORE = "bank-log";
/** How long ago something may have happened that is written down late [min]. */
const LATE = [["0", "now"], ["1", "1 min ago"], ["2", "2 min ago"], ["5", "5 min ago"], ["10", "10 min ago"], ["20", "20 min ago"]];
/** What the next casts have: key of the log, letter of the entry and label. */
const SETTINGS = [["line", "l", "Line"], ["bait", "h", "Hookbait"], ["feeder", "f", "Feeder holds"]];

const pad = (n) => String(n).padStart(2, "0");
const dateOf = (time) => `${time.getFullYear()}-${pad(time.getMonth() + 1)}-${pad(time.getDate())}`;

/** A log without any entry, for today. */
const newLog = () => ({ session: dateOf(new Date()), date: dateOf(new Date()), entries: [] });

/** What an entry says, without what to type next: here are buttons. */
const onPage = (words) => words.replace(/^bite; .*/, "bite");

/** The log that this browser keeps. */
function storedLog() {
  try {
    const stored = JSON.parse(localStorage.getItem(STORE));
    return Array.isArray(stored?.entries) ? stored : newLog();
  } catch {
    return newLog();
  }
}

/** The view of the bank log. */
export class BankView {
  #lines = [];
  #baits = [];
  #busy = Promise.resolve();
  #water = null;

  constructor(page) {
    this.page = page;
    this.log = storedLog();
    this.late = "0";
    this.problem = el("div");
    this.taps = el("div", { class: "taps" });
    this.shown = el("ol", { class: "log", "data-testid": "entries" });
    this.settings = el("form", { class: "line settings-of-casts", onsubmit: (event) => event.preventDefault() });
    this.files = el("p", { class: "buttons" });
    this.now = new NowCard(page, this);
    this.node = el("div", { class: "bank" }, el("h1", {}, "Bank log"),
      el("p", { class: "quiet" }, "Write down every cast, those without a bite too. The log stays in this browser until you download it; ", el("code", {}, "shoalwise learn"), " reads the file."),
      this.settings, this.taps, this.problem, this.now.node, el("section", { class: "card", "aria-labelledby": "entries" }, el("h2", { id: "entries" }, "So far"), this.shown), this.files);
  }

  async show() {
    this.page.setTitle(this.log.session);
    let plans = [];
    try {
      const params = requestParams(this.page.state, []);
      ({ lines: this.#lines, baits: this.#baits, plans } = await getJson("scenario", params));
    } catch {
      [this.#lines, this.#baits] = [[], []];
    }
    // An empty log goes on with the lines of another water, once it is chosen.
    const { scenario } = this.page.state;
    if (this.#water && this.#water !== scenario && !this.log.entries.length) delete this.log.line;
    this.#water = scenario;
    this.#drawSettings();
    this.now.setPlans(plans);
    await this.#read();
  }

  leave() {
    this.now.leave();
  }

  /** Seconds from the midnight before the session to now. */
  moment() {
    const [year, month, day] = this.log.date.split("-").map(Number);
    return Math.round((Date.now() - new Date(year, month - 1, day).getTime()) / 1000);
  }

  /** Keeps the log in this browser. */
  save() {
    localStorage.setItem(STORE, JSON.stringify(this.log));
  }

  /** Seconds from the midnight before the session to the moment that is written down. */
  #written() {
    return this.moment() - 60 * Number(this.late);
  }

  /** Adds entries, one after another; they are kept before anything else happens, and taken back if they cannot be recorded. */
  #add(...entries) {
    this.#busy = this.#busy.then(async () => {
      const before = [...this.log.entries];
      for (const entry of entries) this.log.entries.push(`${this.#written()} ${entry}`);
      this.save();
      if (await this.#read()) {
        this.late = "0";
        this.#drawTaps();
        return;
      }
      this.log.entries = before;
      this.save();
    });
    return this.#busy;
  }

  #undo() {
    this.#busy = this.#busy.then(async () => {
      // What the next casts have goes with the cast that took it.
      this.log.entries.pop();
      while (/^\d+ [lhf]( |$)/.test(this.log.entries.at(-1) ?? "")) this.log.entries.pop();
      this.save();
      await this.#read();
    });
  }

  /** Has the model make the log of all entries; returns whether it could. */
  async #read() {
    const params = new URLSearchParams({ session: this.log.session, date: this.log.date });
    try {
      this.made = await postJson("bank", params, this.log.entries.join("\n"));
      this.problem.replaceChildren();
    } catch (error) {
      this.problem.replaceChildren(errorBox(error));
      return false;
    }
    this.shown.replaceChildren(...this.made.said.map(([at, words]) => el("li", {}, el("time", {}, at), onPage(words.replace(`${at} `, "")))).reverse());
    this.#drawTaps();
    this.now.draw();
    return true;
  }

  /** What the next cast has, as far as it differs from the last one's. */
  #changed() {
    return SETTINGS.filter(([key]) => this.settings.querySelector(`#bank-${key}`).value.trim() !== this.made.next[key])
      .map(([key, letter]) => `${letter} ${this.settings.querySelector(`#bank-${key}`).value.trim()}`.trim());
  }

  #drawSettings() {
    const { next } = this.made ?? { next: {} };
    const examples = { line: this.#lines[0] ?? "where to", bait: this.#baits[0] ?? "corn", feeder: this.page.units === "metric" ? "25 g" : "1 oz" };
    const session = el("input", { id: "bank-session", value: this.log.session, maxlength: 40, onchange: () => {
      this.log.session = session.value.trim() || this.log.date;
      this.save();
      this.#read();
    } });
    this.settings.replaceChildren(
      el("label", { class: "field", for: "bank-session" }, el("span", {}, "Session"), session),
      ...SETTINGS.map(([key, , label]) => el("label", { class: "field", for: `bank-${key}` }, el("span", {}, label),
        el("input", { id: `bank-${key}`, value: this.log[key] ?? next[key] ?? "", placeholder: examples[key], list: key === "feeder" ? null : `bank-${key}s`, maxlength: 40, autocapitalize: "none",
          // Not once the field is left: the buttons are replaced, and a press on one of them would be lost.
          oninput: (event) => { this.log[key] = event.target.value.trim(); this.save(); this.#drawTaps(); } }))),
      ...[["bank-lines", this.#lines], ["bank-baits", this.#baits]].map(([id, names]) => el("datalist", { id }, names.map((value) => el("option", { value })))));
  }

  #drawTaps() {
    if (!this.made) return;
    const { is_bait_out: isOut, awaits_end: awaits } = this.made;
    const tap = (label, entry, isEnabled, style = "") => el("button", { type: "button", class: `tap ${style}`, disabled: !isEnabled, onclick: () => this.#add(...(typeof entry === "function" ? entry() : [entry])) }, label);
    const hasLine = Boolean(this.settings.querySelector("#bank-line")?.value.trim());
    const unit = this.page.units === "metric" ? ["kg"] : ["lb", "oz"];
    const weights = unit.map((name) => el("input", { type: "number", min: 0, step: name === "kg" ? 0.01 : 1, inputmode: "decimal", "aria-label": `Weight, ${name}`, placeholder: name }));
    const weight = () => weights.map((input, n) => (input.value ? `${input.value} ${unit[n]}` : "")).filter(Boolean).join(" ");
    this.taps.replaceChildren(
      tap("Cast", () => [...this.#changed(), "c"], hasLine && !awaits, "big"), tap("Bite", "b", isOut, "big"),
      ...(awaits ? [el("div", { class: "end card" }, el("span", { class: "weights" }, weights, unit.length > 1 ? "" : unit[0]), tap("Landed", () => [`y ${weight()}`.trim()], true), tap("Got off", "n", true))] : []),
      tap("Wound in", "w", isOut), tap("Snag", "s", isOut), tap("Robbed", "r", isOut), tap("Moved", "m", isOut),
      selectField("bank-late", "When", LATE, this.late, (minutes) => { this.late = minutes; }),
      el("button", { type: "button", class: "tap", disabled: !this.log.entries.length, onclick: () => this.#undo() }, "Undo"));
    if (!hasLine) this.taps.append(el("p", { class: "quiet" }, "Say first where you cast to."));
    this.files.replaceChildren(
      el("button", { type: "button", disabled: !this.log.entries.length, onclick: () => this.#download() }, "Download the log"),
      el("button", { type: "button", disabled: !this.log.entries.length, onclick: () => this.#begin() }, "Begin a new log"));
  }

  #download() {
    const href = URL.createObjectURL(new Blob([this.made.text], { type: "text/csv" }));
    el("a", { href, download: `${this.log.session.replaceAll(/[^\w-]+/g, "-")}.csv` }).click();
    setTimeout(() => URL.revokeObjectURL(href), 10000);
    say("The log was saved as a file; it stays here too.");
  }

  #begin() {
    if (!confirm("Begin a new log? The one here is gone unless you have downloaded it.")) return;
    const { line, bait, feeder } = { ...this.log, ...this.made.next };
    this.log = { ...newLog(), line, bait, feeder };
    this.save();
    this.made = null;
    this.show();
  }
}
