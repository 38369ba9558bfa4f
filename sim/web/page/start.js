//! Starts the page: reads the link, keeps it true, and shows one of three views.

import { Compare } from "./compare.js";
import { choice, el, fault, say } from "./elements.js";
import { Lessons } from "./lessons.js";
import { fromLink, toLink } from "./link.js";
import { Replay } from "./replay.js";
import { ask } from "./wire.js";

const VIEWS = [["compare", "Compare"], ["swim", "Swim"], ["lessons", "Lessons"]];
const main = document.getElementById("main");

class Page {
  #shelf = null;
  #own = "";
  #view = null;
  #usual = "imperial";

  constructor() {
    this.state = fromLink(location.hash);
    this.views = { compare: new Compare(this), swim: new Replay(this), lessons: new Lessons(this) };
  }

  /** The units shown. */
  get units() {
    return this.state.units || this.#usual;
  }

  async start() {
    light(storedLight());
    this.#shelf = await ask("shelf", new URLSearchParams());
    this.state.scenario ||= this.#shelf.scenarios[0];
    addEventListener("hashchange", () => {
      if (location.hash === this.#own) return;
      this.state = fromLink(location.hash);
      this.state.scenario ||= this.#shelf.scenarios[0];
      this.show();
    });
    await this.show();
  }

  /** Puts the state into the address, so that its link reproduces it. */
  remember() {
    this.#own = toLink(this.state);
    if (location.hash !== this.#own) history.replaceState(null, "", this.#own);
    // The browser may write the fragment a little differently.
    this.#own = location.hash;
  }

  /** What the server told of the scenario. */
  scenarioIs(told) {
    const changed = this.#usual !== told.units;
    this.#usual = told.units;
    document.title = `${told.title} – shoalwise`;
    if (changed) this.#settings();
  }

  async show() {
    const { view } = this.state;
    this.#bars();
    const next = this.views[view];
    if (this.#view && this.#view !== next) this.#view.leave();
    this.#view = next;
    if (main.firstChild !== next.node) main.replaceChildren(next.node);
    await next.show();
    this.remember();
  }

  /** Opens another state, as a step that the back button undoes. */
  open(state) {
    this.state = state;
    history.pushState(null, "", toLink(state));
    this.#own = location.hash;
    this.show();
    main.focus();
  }

  /** Replays a day of some plans. */
  watch(plans) {
    this.open({ ...this.state, view: "swim", swim: plans });
  }

  #bars() {
    document.getElementById("views").replaceChildren(el("ul", {}, VIEWS.map(([view, words]) => el("li", {},
      el("a", { href: toLink({ ...this.state, view }), "aria-current": view === this.state.view ? "page" : null }, words)))));
    this.#settings();
  }

  #settings() {
    const { state } = this;
    const form = document.getElementById("settings");
    form.onsubmit = (event) => event.preventDefault();
    const names = [...new Set([state.scenario, ...this.#shelf.scenarios])].map((name) => [name, name.replace(/^built-in\./, "").replaceAll("-", " ")]);
    const again = (key) => (value) => {
      state[key] = value;
      this.remember();
      this.show();
    };
    const whole = (id, label, key, least, most) => {
      const input = el("input", { id, type: "number", min: least, max: most, step: 1, value: state[key], onchange: () => { if (input.value && input.reportValidity()) again(key)(input.value); } });
      return el("label", { class: "field", for: id }, el("span", {}, label), input);
    };
    const compares = state.view === "compare";
    const fields = [
      state.view === "lessons" ? null : choice("scenario", "Water", names, state.scenario, (name) => {
        Object.assign(state, fromLink(""), { view: state.view, scenario: name, units: state.units, seed: state.seed, days: state.days });
        this.remember();
        this.show();
      }),
      state.view === "swim" ? null : whole("days", "Days", "days", 2, this.#shelf.most_days),
      whole("seed", "Seed", "seed", 0, Number.MAX_SAFE_INTEGER),
      choice("units", "Units", [["imperial", "lb, yd"], ["metric", "kg, m"]], this.units, again("units")),
      choice("light", "Light", [["", "device"], ["light", "light"], ["dark", "dark"]], storedLight(), light),
      compares ? el("button", { type: "button", onclick: () => this.views.compare.export() }, "Export") : null,
      el("button", { type: "button", onclick: () => copyLink() }, "Copy link"),
    ].filter(Boolean);
    const focus = document.activeElement?.id;
    form.replaceChildren(...fields);
    if (focus && form.querySelector(`#${CSS.escape(focus)}`)) document.getElementById(focus).focus();
  }
}

async function copyLink() {
  try {
    await navigator.clipboard.writeText(location.href);
    say("The link was copied; it opens this very state.");
  } catch {
    say("The link stands in the address bar.");
  }
}

function storedLight() {
  return localStorage.getItem("light") ?? "";
}

function light(kind) {
  localStorage.setItem("light", kind);
  if (kind) document.documentElement.dataset.light = kind;
  else delete document.documentElement.dataset.light;
  dispatchEvent(new Event("resize"));
}

new Page().start().catch((why) => main.replaceChildren(fault(why)));

// On a narrow screen the settings are folded away until they are asked for.
const narrow = matchMedia("(max-width: 47.99rem)");
const fold = () => { document.getElementById("fold").open = !narrow.matches; };
narrow.addEventListener("change", fold);
fold();
