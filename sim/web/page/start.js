//! Starts the page: reads the state from the link, keeps the link up to date, and shows one of its views.

import { getJson } from "./api.js";
import { BankView } from "./bank.js";
import { ClassView } from "./class_view.js";
import { CompareView } from "./compare.js";
import { el, errorBox, say, selectField } from "./elements.js";
import { LessonsView } from "./lessons.js";
import { ReplayView } from "./replay.js";
import { linkTo, stateFromLink } from "./state.js";

const VIEWS = [["compare", "Compare"], ["swim", "Swim"], ["lessons", "Lessons"], ["log", "Log"]];
const main = document.getElementById("main");

class Page {
  #catalogue = null;
  #fragment = "";
  #view = null;
  #scenarioUnits = "imperial";

  constructor() {
    this.state = stateFromLink(location.hash);
    this.classView = new ClassView(() => this.#redraw());
    this.views = { compare: new CompareView(this), swim: new ReplayView(this), lessons: new LessonsView(this), log: new BankView(this) };
  }

  /** The units in use. */
  get units() {
    return this.state.units || this.#scenarioUnits;
  }

  async start() {
    setColourScheme(storedColourScheme());
    this.#catalogue = await getJson("shelf", new URLSearchParams());
    this.classView.setAddresses(this.#catalogue.addresses ?? []);
    this.state.scenario ||= this.#catalogue.scenarios[0];
    addEventListener("hashchange", () => {
      if (location.hash === this.#fragment) return;
      this.state = stateFromLink(location.hash);
      this.state.scenario ||= this.#catalogue.scenarios[0];
      this.show();
      main.focus();
    });
    await this.show();
  }

  /** Writes the state into the address bar, so that the link reproduces it. */
  remember() {
    this.#fragment = linkTo(this.state);
    if (location.hash !== this.#fragment) history.replaceState(null, "", this.#fragment);
    // The browser may encode the fragment differently.
    this.#fragment = location.hash;
    this.classView.update();
  }

  /** Takes units and title from the scenario that the server sent. */
  setScenario(scenario) {
    const changed = this.#scenarioUnits !== scenario.units;
    this.#scenarioUnits = scenario.units;
    this.setTitle(scenario.title);
    if (changed) this.#drawSettings();
  }

  /** The title of a water. */
  titleOf(name) {
    const { scenarios, titles } = this.#catalogue;
    const plain = name.replace(/^built-in\./, "");
    return titles[scenarios.indexOf(plain)] ?? plain;
  }

  /** Titles the window: what it shows, and of which water. */
  setTitle(subject) {
    const [, view] = VIEWS.find(([name]) => name === this.state.view);
    document.title = [view, subject, "shoalwise"].filter(Boolean).join(" – ");
  }

  async show() {
    const { view } = this.state;
    this.#drawHeader();
    const next = this.views[view];
    if (this.#view && this.#view !== next) this.#view.leave();
    this.#view = next;
    if (main.firstChild !== next.node) main.replaceChildren(next.node);
    await next.show();
    this.remember();
  }

  /** Draws what is shown in another size; nothing is fished again. */
  #redraw() {
    this.views.compare.verdict.draw();
    this.views.swim.draw();
  }

  /** Opens another state; the back button returns to this one. */
  open(state) {
    this.state = state;
    history.pushState(null, "", linkTo(state));
    this.#fragment = location.hash;
    this.show();
    main.focus({ preventScroll: true });
    scrollTo(0, 0);
  }

  /** Replays a day of some plans. */
  watch(plans) {
    this.open({ ...this.state, view: "swim", swim: plans });
  }

  #drawHeader() {
    document.getElementById("views").replaceChildren(el("ul", {}, VIEWS.map(([view, title]) => el("li", {},
      el("a", { href: linkTo({ ...this.state, view }), "aria-current": view === this.state.view ? "page" : null }, title)))));
    this.#drawSettings();
  }

  #drawSettings() {
    const { state } = this;
    const form = document.getElementById("settings");
    form.onsubmit = (event) => event.preventDefault();
    const { scenarios, titles } = this.#catalogue;
    const isAmbiguous = (title) => titles.filter((other) => other === title).length > 1;
    const names = [...new Set([state.scenario, ...scenarios])].map((name) => [name, this.titleOf(name)])
      .map(([name, title]) => [name, isAmbiguous(title) ? `${title} (${name})` : title]);
    const setter = (key) => (value) => {
      state[key] = value;
      this.remember();
      this.show();
    };
    const numberField = (id, label, key, min, max) => {
      const input = el("input", { id, type: "number", min, max, step: 1, value: state[key], onchange: () => { if (input.value && input.reportValidity()) setter(key)(input.value); } });
      return el("label", { class: "field", for: id }, el("span", {}, label), input);
    };
    const isOpen = form.querySelector(".more")?.open ?? narrow.matches;
    const isComparing = state.view === "compare";
    const fields = [
      state.view === "lessons" ? null : selectField("scenario", "Water", names, state.scenario, (name) => {
        Object.assign(state, stateFromLink(""), { view: state.view, scenario: name, units: state.units, seed: state.seed, days: state.days });
        this.remember();
        this.show();
      }),
      ["swim", "log"].includes(state.view) ? null : numberField("days", "Days", "days", 2, this.#catalogue.most_days),
      this.classView.button,
      el("button", { type: "button", onclick: () => copyLink() }, "Copy link"),
      el("details", { class: "more", open: isOpen }, el("summary", {}, "More"), el("div", { class: "sheet" },
        numberField("seed", "Set of days (seed)", "seed", 0, Number.MAX_SAFE_INTEGER),
        selectField("units", "Units", [["imperial", "lb, yd"], ["metric", "kg, m"]], this.units, setter("units")),
        selectField("light", "Colours", [["", "as device"], ["light", "light"], ["dark", "dark"]], storedColourScheme(), (scheme) => { setColourScheme(scheme); this.#redraw(); }),
        isComparing ? el("button", { type: "button", onclick: () => this.views.compare.export() }, "Export") : null)),
      this.classView.leave,
    ].filter(Boolean);
    const focus = document.activeElement?.id;
    form.replaceChildren(...fields);
    if (focus && form.querySelector(`#${CSS.escape(focus)}`)) document.getElementById(focus).focus();
  }
}

async function copyLink() {
  const isCopied = await copied(location.href);
  say(isCopied ? "The link was copied; it opens exactly what you see." : "This browser does not let the page copy; the link is in the address bar.");
}

/** Copies a text; returns whether it could. */
async function copied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // On other machines of a network the page has no clipboard, but a selected text may be copied.
    const field = el("textarea", { class: "unseen", readonly: true, value: text });
    const focused = document.activeElement;
    document.body.append(field);
    field.select();
    const isCopied = document.execCommand("copy");
    field.remove();
    focused?.focus();
    return isCopied;
  }
}

function storedColourScheme() {
  return localStorage.getItem("light") ?? "";
}

function setColourScheme(scheme) {
  localStorage.setItem("light", scheme);
  if (scheme) document.documentElement.dataset.light = scheme;
  else delete document.documentElement.dataset.light;
}

// On a narrow screen the settings are folded away at first.
const narrow = matchMedia("(max-width: 47.99rem)");
const fold = document.getElementById("fold");
const updateFold = () => { fold.open = !narrow.matches; };
narrow.addEventListener("change", updateFold);
updateFold();
// A click elsewhere closes the sheet of further settings.
addEventListener("pointerdown", (event) => {
  const more = fold.querySelector(".more");
  if (more?.open && !narrow.matches && !more.contains(event.target)) more.open = false;
});

new Page().start().catch((error) => main.replaceChildren(errorBox(error)));
