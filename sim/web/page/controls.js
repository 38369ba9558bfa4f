//! Sliders and lists for the settings of each plan and of the water, as listed in
//! `scenario/edit/controls.rs`.

import { planSign } from "./chart.js";
import { el } from "./elements.js";
import { setting } from "./units.js";

/** Settings that are rarely changed; they are folded away below the others. */
const RARELY_CHANGED = /(load_style|squeeze|feeder)$/;

/** The element of one control. */
function controlElement(control, onChange, units) {
  const words = (choice) => setting(choice.shown, units);
  const id = `dial-${control.key.replaceAll(/[^\w]/g, "-")}`;
  const hint = `${id}-hint`;
  const shown = el("output", { for: id }, words(control.stops[control.at]));
  let input;
  if (control.ordered) {
    const showChoice = () => {
      const choice = control.stops[input.value];
      shown.textContent = words(choice);
      input.setAttribute("aria-valuetext", words(choice));
    };
    input = el("input", {
      id, type: "range", min: 0, max: control.stops.length - 1, step: 1, "aria-describedby": hint,
      "aria-valuetext": words(control.stops[control.at]), "data-key": control.key,
      oninput: () => {
        showChoice();
        onChange(control, control.stops[input.value]);
      },
    });
    input.value = control.at;
  } else {
    input = el("select", { id, "aria-describedby": hint, "data-key": control.key, onchange: () => onChange(control, control.stops[input.value]) },
      control.stops.map((choice, index) => el("option", { value: String(index), selected: index === control.at }, words(choice))));
  }
  return el("div", { class: control.ordered ? "dial" : "dial choice" },
    el("label", { for: id }, capitalised(control.name.replace(/^phase \d+: /, ""))), control.ordered ? shown : null, input,
    el("p", { class: "unseen", id: hint }, control.says));
}

const capitalised = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** All controls by key. An element is kept while its choices stay the same, so that a slider is not replaced while it is moved. */
export class Controls {
  #kept = new Map();

  /** `units` gives the units in use. */
  constructor(onChange, units) {
    this.onChange = onChange;
    this.units = units;
  }

  /** The element of a control. */
  element(control) {
    const units = this.units();
    const content = JSON.stringify([control.stops, control.name, units]);
    const kept = this.#kept.get(control.key);
    if (kept?.content === content) {
      const input = kept.node.querySelector("input, select");
      if (document.activeElement !== input && input.value !== String(control.at)) {
        input.value = String(control.at);
        if (control.ordered) {
          const words = setting(control.stops[control.at].shown, units);
          kept.node.querySelector("output").textContent = words;
          input.setAttribute("aria-valuetext", words);
        }
      }
      return kept.node;
    }
    const node = controlElement(control, this.onChange, units);
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
        phase ? el("h3", {}, `Phase ${phase}`) : phases.size > 1 ? el("h3", {}, "All phases") : null,
        ...common.map((control) => this.element(control)),
        rare.length ? el("details", {}, el("summary", {}, `More tackle${phase ? `, phase ${phase}` : ""}`), rare.map((control) => this.element(control))) : null,
      ].filter(Boolean);
    });
  }
}

const isChanged = (control) => control.file && control.file !== control.stops[control.at].shown;

/** What a plan's changed settings are now, to follow its name: two of them at most. */
export function valuesNow(controls, units) {
  const values = controls.filter(isChanged).map((control) => setting(control.stops[control.at].shown, units));
  return [...values.slice(0, 2), ...(values.length > 2 ? ["…"] : [])].join(", ");
}

/** What a plan's settings were in the file and are now, where they differ, in words. */
export const changesOf = (controls, units) => controls.filter(isChanged)
  .map((control) => `${control.name} ${setting(control.file, units)} → ${setting(control.stops[control.at].shown, units)}`);

/** The card of a plan, which folds away, with what is no longer as in the file. */
export function planCard(plan, index, controls, changes, buttons) {
  return el("details", { class: `card plan-${index}`, "aria-labelledby": `plan-${plan}`, open: true },
    el("summary", {}, el("h2", { id: `plan-${plan}` }, planSign(index), plan, changes.length ? el("span", { class: "badge" }, "changed") : null)),
    changes.length ? el("p", { class: "quiet changes" }, `Not as in the file: ${changes.join("; ")}.`) : null,
    ...controls, el("p", { class: "buttons" }, buttons));
}
