//! What now? From the bank log so far: what each way to go on is worth, at a glance.

import { adviceNow } from "./api.js";
import { announce, el, errorBox, selectField, sentence, svgEl } from "./elements.js";
import { linkTo, requestParams } from "./state.js";

const BOOK = "learned-book";
/** Ways that are shown before the others are unfolded. */
const SHOWN = 5;
/** A log whose last moment is longer ago than this is not of now [s]. */
const LATEST = 47 * 3600;

const storedBook = () => {
  try {
    return JSON.parse(localStorage.getItem(BOOK));
  } catch {
    return null;
  }
};

/** A bar from the low to the high end of what is expected, with a mark in the middle; `most` is the end of the scale. */
function rangeBar({ low80_kg: low, high80_kg: high, final_kg: final }, most) {
  const at = (kg) => 100 * Math.min(1, kg / most);
  return svgEl("svg", { class: "range", viewBox: "0 0 100 10", preserveAspectRatio: "none", "aria-hidden": "true" },
    svgEl("rect", { class: "track", x: 0, y: 4, width: 100, height: 2 }),
    svgEl("rect", { class: "spread", x: at(low), y: 2, width: Math.max(0.6, at(high) - at(low)), height: 6 }),
    svgEl("rect", { class: "middle", x: Math.max(0, at(final) - 0.6), y: 0, width: 1.2, height: 10 }));
}

/** One way to go on: what it is, what it leads to, and how sure that is. */
function wayItem(words, way, most, isBetter) {
  const details = [`${words.range}, 8 times in 10`, words.target && `target ${words.target}`, words.frame && `frames ${words.frame}`, words.against_plan && `${words.against_plan} against the plan`];
  return el("li", { class: isBetter ? "way better" : "way" },
    el("p", { class: "ends" }, el("strong", {}, sentence(words.way)), el("span", {}, words.final_weight)),
    rangeBar(way, most),
    el("p", { class: "quiet" }, details.filter(Boolean).join(" · ")));
}

/** The part of the bank log that asks for advice and shows it. */
export class NowCard {
  #plans = [];
  #asking = null;
  /** The answer, with the number of entries from which it came. */
  #answer = null;

  /** `bank` has the log that is kept, what the model made of it, and the time on its clock. */
  constructor(page, bank) {
    this.page = page;
    this.bank = bank;
    this.form = el("form", { onsubmit: (event) => event.preventDefault() });
    this.shown = el("div", { class: "advice", "data-testid": "advice" });
    this.node = el("section", { class: "card what-now", "aria-labelledby": "what-now" }, el("h2", { id: "what-now" }, "What now?"), this.form, this.shown, this.#bookField());
  }

  /** Takes the plans of the scenario. */
  setPlans(plans) {
    this.#plans = plans;
    this.#forget();
    this.draw();
  }

  /** Draws what fits the log as it is. */
  draw() {
    const casts = this.bank.log.entries.filter((entry) => / c$/.test(entry)).length;
    const isAsking = this.#asking !== null;
    const names = this.#plans;
    this.form.replaceChildren(...[
      names.length > 1 ? selectField("now-plan", "You fish", names.map((name) => [name, name]), this.#plan(), (name) => {
        this.bank.log.plan = name;
        this.bank.save();
        this.#forget();
        this.draw();
      }) : null,
      el("button", { type: "button", class: "tap", disabled: !casts || !names.length || isAsking, onclick: () => this.#ask() }, isAsking ? "Simulating …" : "Ask"),
    ].filter(Boolean));
    if (isAsking) return;
    if (!casts) {
      this.shown.replaceChildren(el("p", { class: "quiet" }, "No cast is written down yet. After the first one, this says what each way to go on is worth. Until then, ",
        el("a", { href: linkTo({ ...this.page.state, view: "compare" }) }, "Compare"), " shows the plans side by side."));
    } else if (!this.#answer) {
      this.shown.replaceChildren(el("p", { class: "quiet" }, `From your log so far, on ${this.page.titleOf(this.page.state.scenario)}: what each way to go on is worth at the end.`));
    } else {
      const isOld = this.#answer.entries !== this.bank.log.entries.length;
      this.shown.classList.toggle("old", isOld);
      this.since.textContent = isOld ? "The log has changed since: ask again." : "";
    }
  }

  leave() {
    this.#asking?.abort();
    this.#forget();
  }

  #plan() {
    const { plan } = this.bank.log;
    return this.#plans.includes(plan) ? plan : this.#plans[0];
  }

  #forget() {
    this.#asking?.abort();
    this.#asking = null;
    this.#answer = null;
    this.shown.classList.remove("old");
  }

  async #ask() {
    const asking = new AbortController();
    this.#forget();
    this.#asking = asking;
    const entries = this.bank.log.entries.length;
    const params = requestParams(this.page.state, [this.#plan()]);
    params.set("seed", this.page.state.seed);
    params.set("units", this.page.units);
    const moment = this.bank.moment();
    if (moment > 0 && moment < LATEST) params.set("at", moment);
    const progress = el("progress", { max: 1 });
    this.shown.replaceChildren(el("p", { class: "quiet" }, "The rest of the day is fished many times …"), progress);
    this.draw();
    try {
      const log = { log: this.bank.made.text, book: storedBook()?.text ?? null };
      const answer = await adviceNow(params, log, (share) => { progress.value = share; }, asking.signal);
      if (this.#asking !== asking) return;
      this.#asking = null;
      this.#answer = { ...answer, entries };
      this.#show();
    } catch (error) {
      if (this.#asking !== asking) return;
      this.#asking = null;
      this.shown.replaceChildren(errorBox(error));
    }
    this.#drawAfter();
  }

  /** Draws the form again; what is shown stays. */
  #drawAfter() {
    if (this.#answer) {
      this.draw();
      return;
    }
    const shown = [...this.shown.childNodes];
    this.draw();
    this.shown.replaceChildren(...shown);
  }

  #show() {
    const { words, result, has_book: hasBook } = this.#answer;
    const most = Math.max(...result.ways.map((way) => way.high80_kg), result.weight_kg, 0.001) * 1.02;
    const better = JSON.stringify(result.better);
    const items = result.ways.map((way, n) => wayItem(words.ways[n], way, most, result.better !== null && JSON.stringify(way.way) === better));
    const isFallback = result.method === "own-rate";
    this.since = el("p", { class: "since" });
    this.shown.replaceChildren(...[
      this.since,
      el("p", { class: "lead" }, words.advice),
      el("p", { class: "quiet" }, words.so_far),
      isFallback ? el("p", { class: "note" }, words.method) : null,
      el("ol", { class: "ways" }, items.slice(0, SHOWN)),
      items.length > SHOWN ? el("details", {}, el("summary", {}, `${items.length - SHOWN} more ways`), el("ol", { class: "ways" }, items.slice(SHOWN))) : null,
      el("p", { class: "quiet" }, [isFallback ? "" : words.method, hasBook ? "With the learned book." : ""].filter(Boolean).join(" ")),
    ].filter(Boolean));
    announce(words.advice);
  }

  /** Lets a learned book be chosen, which then stays in this browser. */
  #bookField() {
    const about = el("span", { class: "quiet" });
    const input = el("input", { id: "now-book", type: "file", accept: ".toml", onchange: async () => {
      const [file] = input.files;
      if (!file) return;
      localStorage.setItem(BOOK, JSON.stringify({ name: file.name, text: await file.text() }));
      show();
    } });
    const remove = el("button", { type: "button", onclick: () => {
      localStorage.removeItem(BOOK);
      input.value = "";
      show();
    } }, "Leave it out");
    const show = () => {
      const book = storedBook();
      about.textContent = book ? `${book.name} is laid over the scenario.` : "learn --scenario writes one from your earlier logs; with it, the advice knows your water better.";
      remove.hidden = !book;
      this.#forget();
      if (this.form.childNodes.length) this.draw();
    };
    const field = el("details", {}, el("summary", {}, "Learned book"), el("p", {}, about), el("label", { class: "field", for: "now-book" }, el("span", {}, "File"), input), remove);
    show();
    return field;
  }
}
