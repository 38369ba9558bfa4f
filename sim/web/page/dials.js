//! Sliders and choices of each plan and of the water.

import { sign } from "./chart.js";
import { el } from "./elements.js";
import { named } from "./measures.js";

/** Settings that most plans are told apart by; the rest stand below. */
const SELDOM = /(load_style|squeeze|feeder)$/;

/** One dial. It is kept while it has the same stops, so that a slider in somebody's hand stays there. */
function dialNode(dial, turned) {
  const id = `dial-${dial.key.replaceAll(/[^\w]/g, "-")}`;
  const hint = `${id}-hint`;
  const shown = el("output", { for: id }, dial.stops[dial.at].shown);
  let input;
  if (dial.ordered) {
    const move = () => {
      const stop = dial.stops[input.value];
      shown.textContent = stop.shown;
      input.setAttribute("aria-valuetext", stop.shown);
    };
    input = el("input", {
      id, type: "range", min: 0, max: dial.stops.length - 1, step: 1, "aria-describedby": hint,
      "aria-valuetext": dial.stops[dial.at].shown, "data-key": dial.key,
      oninput: () => {
        move();
        turned(dial, dial.stops[input.value]);
      },
    });
    input.value = dial.at;
  } else {
    input = el("select", { id, "aria-describedby": hint, "data-key": dial.key, onchange: () => turned(dial, dial.stops[input.value]) },
      dial.stops.map((stop, at) => el("option", { value: String(at), selected: at === dial.at }, stop.shown)));
  }
  return el("div", { class: dial.ordered ? "dial" : "dial choice" },
    el("label", { for: id }, capital(dial.name.replace(/^phase \d+: /, ""))), dial.ordered ? shown : null, input,
    el("p", { class: "unseen", id: hint }, dial.says));
}

const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** Keeps dials by key, and makes anew only those whose stops have changed. */
export class Dials {
  #kept = new Map();

  constructor(turned) {
    this.turned = turned;
  }

  node(dial) {
    const print = JSON.stringify([dial.stops, dial.name]);
    const kept = this.#kept.get(dial.key);
    if (kept?.print === print) {
      const input = kept.node.querySelector("input, select");
      if (document.activeElement !== input && input.value !== String(dial.at)) {
        input.value = String(dial.at);
        if (dial.ordered) {
          kept.node.querySelector("output").textContent = dial.stops[dial.at].shown;
          input.setAttribute("aria-valuetext", dial.stops[dial.at].shown);
        }
      }
      return kept.node;
    }
    const node = dialNode(dial, this.turned);
    this.#kept.set(dial.key, { print, node });
    return node;
  }

  /** The dials of one plan, by phase, those seldom turned folded away. */
  plan(dials) {
    const phases = new Map();
    for (const dial of dials) {
      const phase = dial.name.match(/^phase (\d+): /)?.[1] ?? "";
      phases.set(phase, [...(phases.get(phase) ?? []), dial]);
    }
    return [...phases].flatMap(([phase, group]) => {
      const often = group.filter((dial) => !SELDOM.test(dial.key));
      const seldom = group.filter((dial) => SELDOM.test(dial.key));
      return [
        phase ? el("h4", {}, `Phase ${phase}`) : null,
        ...often.map((dial) => this.node(dial)),
        seldom.length ? el("details", {}, el("summary", {}, `More tackle${phase ? `, phase ${phase}` : ""}`), seldom.map((dial) => this.node(dial))) : null,
      ].filter(Boolean);
    });
  }
}

/** A plan's card. */
export function card(plan, at, inside, buttons) {
  return el("section", { class: `card plan-${at}`, "aria-labelledby": `plan-${plan}` },
    el("h3", { id: `plan-${plan}` }, sign(at), named(plan)), ...inside, el("p", { class: "buttons" }, buttons));
}
