//! What is known so far: the verdict, the figures of each plan, sizes, bait and time.

import { bar, drawCurves, sign } from "./chart.js";
import { el } from "./elements.js";
import { count, named, percent, range, weight } from "./measures.js";

const TIME = [
  ["waiting", "waiting for a bite"], ["playing", "playing fish"], ["casting", "casting and winding in"],
  ["rebaiting", "unhooking, loading, baiting"], ["feeding", "loose feeding"], ["other", "snags, moving, idle"],
];

/** The half of a result that changes with every day: curves and verdict. */
export class Verdict {
  constructor() {
    this.figure = el("figure", { class: "chart" },
      el("figcaption", {}, "Expected weight against time; the band holds eight days in ten."));
    this.words = el("div", { class: "verdict", "data-testid": "verdict" });
    this.progress = el("progress", { max: 1, value: 0, "aria-label": "days fished" });
    this.days = el("p", { class: "days", "data-testid": "days" });
    this.node = el("section", { class: "head", "aria-label": "Verdict" }, this.figure,
      el("div", { class: "so-far" }, this.progress, this.days), this.words);
    this.told = null;
    new ResizeObserver(() => this.draw()).observe(this.figure);
  }

  show(told, units, signs) {
    Object.assign(this, { told, units, signs });
    this.node.dataset.run = told.run;
    this.progress.value = told.days / told.of;
    this.days.textContent = `${told.days} of ${told.of} days fished`;
    const [first, ...more] = told.verdict;
    this.words.replaceChildren(
      el("p", { class: "first" }, first ?? `${named(told.comparison.plans[0].name)} alone: ${weight(told.comparison.plans[0].weight_kg.mean, units)} a session.`),
      ...more.map((line) => el("p", {}, line)));
    this.draw();
  }

  draw() {
    if (!this.told) return;
    const curves = this.told.comparison.plans.map((plan, at) => ({ name: plan.name, points: plan.curve, at: this.signs?.(plan.name) ?? at }));
    drawCurves(this.figure, curves, this.units, "Expected weight at the end");
  }

  stopped(words) {
    this.days.textContent = words;
  }
}

/** Figures of each plan, and what they rest on. */
export function details(told, units, at) {
  const { plans, warnings } = told.comparison;
  const heads = ["plan", "weight", "range", "fish", "average", "bites", "casts", "bait", "best on"];
  const rows = plans.map((plan) => el("tr", {},
    el("th", { scope: "row" }, sign(at(plan.name)), named(plan.name)),
    [
      weight(plan.weight_kg.mean, units), range(plan.weight_kg.p10, plan.weight_kg.p90, units),
      count(plan.fish.mean), weight(plan.swim.fish_kg, units), count(plan.bites.mean), count(plan.casts.mean),
      weight(plan.bait_kg.mean, units), percent(plan.best_share),
    ].map((cell) => el("td", {}, cell))));
  return [
    el("section", { "aria-labelledby": "figures" }, el("h2", { id: "figures" }, "Figures"),
      el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "Table of figures" },
        el("table", {}, el("thead", {}, el("tr", {}, heads.map((head) => el("th", { scope: "col" }, head)))), el("tbody", {}, rows)))),
    told.reasons.length ? el("section", {}, el("h2", {}, "Why"), el("ul", {}, told.reasons.map((line) => el("li", {}, line)))) : null,
    warnings.length ? el("section", { class: "mind" }, el("h2", {}, "Mind"), el("ul", {}, warnings.map((line) => el("li", {}, line.says)))) : null,
    pairs(told.comparison, at),
    sizes(told, units, at),
    time(plans, at),
  ].filter(Boolean);
}

function pairs({ pairs: all }, at) {
  if (!all.length) return null;
  return el("section", {}, el("h2", {}, "Share of days"),
    all.map((pair) => {
      const ties = pair.tie_share > 0 ? `, level on ${percent(pair.tie_share)}` : "";
      return el("div", { class: "row" },
        el("p", {}, sign(at(pair.a)), `${named(pair.a)} ahead of ${named(pair.b)} on ${percent(pair.a_ahead_share)}${ties}`),
        bar(pair.a_ahead_share, `plan-${at(pair.a)}`));
    }));
}

function sizes({ sizes: { class_kg, plans: counts }, comparison: { plans } }, units, at) {
  const most = Math.max(1e-9, ...counts.flat());
  const classes = Math.max(0, ...counts.map((list) => list.length));
  const unit = units === "metric" ? "kg" : "lb";
  const size = (n) => (units === "metric" ? (n * class_kg).toFixed(1) : String(n));
  return el("section", {}, el("h2", {}, "Fish by size"), el("p", { class: "quiet" }, `Fish a day in each class of ${size(1)} ${unit}.`),
    el("div", { class: "sizes" }, plans.map((plan, i) => {
      const bars = Array.from({ length: classes }, (_, n) => {
        const column = el("span", { class: `column plan-${at(plan.name)}` });
        column.style.height = `${((100 * (counts[i][n] ?? 0)) / most).toFixed(1)}%`;
        return column;
      });
      const top = counts[i].reduce((best, n, c) => (n > (counts[i][best] ?? 0) ? c : best), 0);
      const words = counts[i].some(Boolean)
        ? `most of ${named(plan.name)}'s fish weigh ${size(top)} to ${size(top + 1)} ${unit}` : `${named(plan.name)} lands none`;
      return el("figure", {}, el("div", { class: "columns", role: "img", "aria-label": words }, bars),
        el("p", { class: "ends", "aria-hidden": "true" }, el("span", {}, "0"), el("span", {}, `${size(classes)} ${unit}`)),
        el("figcaption", {}, sign(at(plan.name)), named(plan.name)));
    })));
}

function time(plans, at) {
  return el("section", {}, el("h2", {}, "Where the time went"),
    plans.map((plan) => el("div", { class: "row" }, el("p", {}, sign(at(plan.name)), named(plan.name)),
      el("span", { class: "parts", "aria-hidden": "true" }, TIME.map(([key]) => {
        const part = el("span", { class: `part ${key}` });
        part.style.width = `${(100 * plan.time_share[key]).toFixed(1)}%`;
        return part;
      })),
      el("p", { class: "quiet" }, TIME.filter(([key]) => plan.time_share[key] >= 0.005)
        .map(([key, words], n) => [n ? " · " : "", el("span", { class: `dot ${key}`, "aria-hidden": "true" }), `${words} ${percent(plan.time_share[key])}`])))));
}
