//! Results so far: the verdict, figures of each plan, fish by size, and use of time.

import { bar, drawCurves, planSign } from "./chart.js";
import { el } from "./elements.js";
import { count, percent, range, weight } from "./units.js";

const ACTIVITIES = [
  ["waiting", "waiting for a bite"], ["playing", "playing fish"], ["casting", "casting and winding in"],
  ["rebaiting", "unhooking, loading, baiting"], ["feeding", "loose feeding"], ["other", "snags, moving, idle"],
];

/** The part of the results that changes with every day: curves and verdict. */
export class Verdict {
  constructor() {
    this.figure = el("figure", { class: "chart" },
      el("figcaption", {}, "Expected weight against time. On eight days in ten the weight is inside the band, what nobody knows about fish included."));
    this.sentences = el("div", { class: "verdict", "data-testid": "verdict" });
    this.progress = el("progress", { max: 1, value: 0, "aria-label": "days fished" });
    this.days = el("p", { class: "days", "data-testid": "days" });
    this.node = el("section", { class: "head", "aria-label": "Verdict" }, this.figure,
      el("div", { class: "so-far" }, this.progress, this.days), this.sentences);
    this.results = null;
    this.units = "";
    this.indexOf = null;
    new ResizeObserver(() => this.draw()).observe(this.figure);
  }

  /** Shows results; `indexOf` gives the colour and line style of a plan. */
  show(results, units, indexOf) {
    Object.assign(this, { results, units, indexOf });
    this.node.dataset.run = results.run;
    this.progress.value = results.days / results.of;
    this.days.textContent = `${results.days} of ${results.of} days fished`;
    const [plan] = results.comparison.plans;
    const [first, ...others] = results.verdict;
    this.sentences.replaceChildren(
      el("p", { class: "first" }, first ?? `${plan.name}, the only plan: ${weight(plan.weight_kg.mean, units)} per session.`),
      ...others.map((sentence) => el("p", {}, sentence)));
    this.draw();
  }

  draw() {
    if (!this.results) return;
    const curves = this.results.comparison.plans.map((plan) => ({ name: plan.name, points: plan.curve, index: this.indexOf(plan.name) }));
    drawCurves(this.figure, curves, this.units, "Expected weight at the end");
  }

  showStopped(text) {
    this.days.textContent = text;
  }
}

/** Sections with the figures of each plan and the reasons for them. */
export function details(results, units, indexOf) {
  const { plans, warnings } = results.comparison;
  const heads = ["plan", "weight", "8 days in 10", "fish", "per fish", "bites", "casts", "bait", "best on"];
  const rows = plans.map((plan) => el("tr", {},
    el("th", { scope: "row" }, planSign(indexOf(plan.name)), plan.name),
    [
      weight(plan.weight_kg.mean, units), range(plan.weight_kg.p10, plan.weight_kg.p90, units),
      count(plan.fish.mean), weight(plan.swim.fish_kg, units), count(plan.bites.mean), count(plan.casts.mean),
      weight(plan.bait_kg.mean, units), percent(plan.best_share),
    ].map((cell) => el("td", {}, cell))));
  return [
    el("section", { "aria-labelledby": "figures" }, el("h2", { id: "figures" }, "Figures"),
      el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "Table of figures" },
        el("table", {}, el("thead", {}, el("tr", {}, heads.map((head) => el("th", { scope: "col" }, head)))), el("tbody", {}, rows)))),
    list("Why", results.reasons),
    list("Note", warnings.map((warning) => warning.says)),
    daysAhead(results.comparison, indexOf),
    fishBySize(results, units, indexOf),
    useOfTime(plans, indexOf),
  ].filter(Boolean);
}

function list(title, sentences) {
  if (!sentences.length) return null;
  return el("section", {}, el("h2", {}, title), el("ul", {}, sentences.map((sentence) => el("li", {}, sentence))));
}

function daysAhead({ pairs }, indexOf) {
  if (!pairs.length) return null;
  return el("section", {}, el("h2", {}, "Days ahead"),
    pairs.map((pair) => {
      const ties = pair.tie_share > 0 ? `, level on ${percent(pair.tie_share)}` : "";
      return el("div", { class: "row" },
        el("p", {}, planSign(indexOf(pair.a)), `${pair.a} is ahead of ${pair.b} on ${percent(pair.a_ahead_share)} of days${ties}`),
        bar(pair.a_ahead_share, `plan-${indexOf(pair.a)}`));
    }));
}

function fishBySize({ sizes: { class_kg, plans: counts }, comparison: { plans } }, units, indexOf) {
  const max = Math.max(1e-9, ...counts.flat());
  const classes = Math.max(0, ...counts.map((row) => row.length));
  const unit = units === "metric" ? "kg" : "lb";
  const size = (n) => (units === "metric" ? (n * class_kg).toFixed(1) : String(n));
  return el("section", {}, el("h2", {}, "Fish by size"), el("p", { class: "quiet" }, `Fish per day; each column is ${size(1)}\u00a0${unit} wide.`),
    el("div", { class: "sizes" }, plans.map((plan, i) => {
      const columns = Array.from({ length: classes }, (_, n) => {
        const column = el("span", { class: `column plan-${indexOf(plan.name)}` });
        column.style.height = `${((100 * (counts[i][n] ?? 0)) / max).toFixed(1)}%`;
        return column;
      });
      const top = counts[i].reduce((best, n, c) => (n > (counts[i][best] ?? 0) ? c : best), 0);
      const description = counts[i].some(Boolean)
        ? `${plan.name}: the most frequent size is ${size(top)} to ${size(top + 1)} ${unit}` : `${plan.name} lands no fish`;
      return el("figure", {}, el("div", { class: "columns", role: "img", "aria-label": description }, columns),
        el("p", { class: "ends", "aria-hidden": "true" }, el("span", {}, "0"), el("span", {}, `${size(classes)}\u00a0${unit}`)),
        el("figcaption", {}, planSign(indexOf(plan.name)), plan.name));
    })));
}

function useOfTime(plans, indexOf) {
  return el("section", {}, el("h2", {}, "Use of time"),
    plans.map((plan) => el("div", { class: "row" }, el("p", {}, planSign(indexOf(plan.name)), plan.name),
      el("span", { class: "parts", "aria-hidden": "true" }, ACTIVITIES.map(([key]) => {
        const part = el("span", { class: `part ${key}` });
        part.style.width = `${(100 * plan.time_share[key]).toFixed(1)}%`;
        return part;
      })),
      el("p", { class: "quiet" }, ACTIVITIES.filter(([key]) => plan.time_share[key] >= 0.005)
        .map(([key, activity], n) => [n ? " · " : "", el("span", { class: `dot ${key}`, "aria-hidden": "true" }), `${activity} ${percent(plan.time_share[key])}`])))));
}
