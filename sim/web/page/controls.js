//! Sliders and lists for the settings of each plan and of the water.

import { planSign } from "./chart.js";
import { el } from "./elements.js";

/** Settings that are rarely changed; they are folded away below the others. */
const RARELY_CHANGED = /(load_style|squeeze|feeder)$/;

/** The element of one control. */
function controlElement(control, onChange) {
  const id = `dial-${control.key.replaceAll(/[^\w]/g, "-")}`;
  const hint = `${id}-hint`;
  const shown = el("output", { for: id }, control.stops[control.at].shown);
  let input;
  if (control.ordered) {
    const showChoice = () => {
      const choice = control.stops[input.value];
      shown.textContent = choice.shown;
      input.setAttribute("aria-valuetext", choice.shown);
    };
    input = el("input", {
      id, type: "range", min: 0, max: control.stops.length - 1, step: 1, "aria-describedby": hint,
      "aria-valuetext": control.stops[control.at].shown, "data-key": control.key,
      oninput: () => {
        showChoice();
        onChange(control, control.stops[input.value]);
      },
    });
    input.value = control.at;
  } else {
    input = el("select", { id, "aria-describedby": hint, "data-key": control.key, onchange: () => onChange(control, control.stops[input.value]) },
      control.stops.map((choice, index) => el("option", { value: String(index), selected: index === control.at }, choice.shown)));
  }
  return el("div", { class: control.ordered ? "dial" : "dial choice" },
    el("label", { for: id }, capitalised(control.name.replace(/^phase \d+: /, ""))), control.ordered ? shown : null, input,
    el("p", { class: "unseen", id: hint }, control.says));
}

const capitalised = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** All controls by key. An element is kept while its choices stay the same, so that a slider is not replaced while it is moved. */
export class Controls {
  #kept = new Map();

  constructor(onChange) {
    this.onChange = onChange;
  }

  /** The element of a control. */
  element(control) {
    const content = JSON.stringify([control.stops, control.name]);
    const kept = this.#kept.get(control.key);
    if (kept?.content === content) {
      const input = kept.node.querySelector("input, select");
      if (document.activeElement !== input && input.value !== String(control.at)) {
        input.value = String(control.at);
        if (control.ordered) {
          kept.node.querySelector("output").textContent = control.stops[control.at].shown;
          input.setAttribute("aria-valuetext", control.stops[control.at].shown);
        }
      }
      return kept.node;
    }
    const node = controlElement(control, this.onChange);
    this.#kept.set(control.key, { content, node });
    return node;
  }

  /** The elements of one plan's controls, by phase; those rarely changed are folded away. */
  planElements(controls) {
    const phases = new Map();
    for (const control of controls) {
      const phase = control.name.match(/^phase (\d+): /)?.[1] ?? "";
      phases.set(phase, [...(phases.get(phase) ?? []), control]);
    }
    return [...phases].flatMap(([phase, group]) => {
      const common = group.filter((control) => !RARELY_CHANGED.test(control.key));
      const rare = group.filter((control) => RARELY_CHANGED.test(control.key));
      return [
        phase ? el("h4", {}, `Phase ${phase}`) : null,
        ...common.map((control) => this.element(control)),
        rare.length ? el("details", {}, el("summary", {}, `More tackle${phase ? `, phase ${phase}` : ""}`), rare.map((control) => this.element(control))) : null,
      ].filter(Boolean);
    });
  }
}

/** The card of a plan. */
export function planCard(plan, index, controls, buttons) {
  return el("section", { class: `card plan-${index}`, "aria-labelledby": `plan-${plan}` },
    el("h3", { id: `plan-${plan}` }, planSign(index), plan), ...controls, el("p", { class: "buttons" }, buttons));
}
