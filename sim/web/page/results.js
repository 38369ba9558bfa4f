//! Results so far: the verdict, figures of each plan, fish by size, and use of time.

import { drawCurves, onPaper, planSign } from "./chart.js";
import { el, selectField, sentence } from "./elements.js";
import { count, percent, range, weight } from "./units.js";

const ACTIVITIES = [
  ["waiting", "waiting for a bite"], ["playing", "playing fish"], ["casting", "casting and winding in"],
  ["rebaiting", "unhooking, loading, baiting"], ["feeding", "loose feeding"], ["other", "snags, moving, idle"],
];

/** With more plans than this, only one band is drawn at a time: several would cover one another. */
const MAX_BANDS = 2;

/** A sentence for the command line as one for the page. */
const onPage = (text) => text.replaceAll("(--days)", "(under Days)");

/** The part of the results that changes with every day: curves and verdict. */
export class Verdict {
  #band = "";

  constructor() {
    this.caption = el("p", { class: "quiet caption" });
    this.figure = el("figure", { class: "chart" }, el("figcaption", {}, this.caption));
    this.sentences = el("div", { class: "verdict", "data-testid": "verdict" });
    this.progress = el("progress", { max: 1, value: 0, "aria-label": "days fished" });
    this.days = el("p", { class: "days", "data-testid": "days" });
    this.node = el("section", { class: "head", "aria-label": "Verdict" }, this.figure,
      el("div", { class: "so-far" }, this.progress, this.days), this.sentences);
    this.results = null;
    this.units = "";
    this.indexOf = null;
    this.labelOf = null;
    new ResizeObserver(() => this.draw()).observe(this.figure);
    onPaper(() => this.draw());
  }

  /** Shows results; `indexOf` gives the colour and line style of a plan, `labelOf` its name as shown. */
  show(results, units, indexOf, labelOf = (plan) => plan) {
    Object.assign(this, { results, units, indexOf, labelOf });
    this.node.dataset.run = results.run;
    this.progress.value = results.days / results.of;
    this.days.textContent = `${results.days} of ${results.of} days fished`;
    const [plan] = results.comparison.plans;
    const sentences = results.verdict.length ? results.verdict : [`${plan.name}, the only plan: ${weight(plan.weight_kg.mean, units)} per session.`];
    const [first, ...others] = results.early ? [results.early, ...sentences] : sentences;
    this.sentences.replaceChildren(el("p", { class: "first" }, sentence(first)),
      ...others.map((other) => el("p", { class: results.early ? "quiet" : null }, sentence(other))));
    this.#drawCaption();
    this.draw();
  }

  /** What the band is, and whose it is. */
  #drawCaption() {
    const plans = this.results.comparison.plans.map((plan) => plan.name);
    const key = plans.map(this.labelOf).join(" ");
    if (this.caption.dataset.key === key) return;
    this.caption.dataset.key = key;
    const says = "Expected weight against time. On eight days in ten the weight is inside the band, what nobody knows about fish included; the strokes at the right are where each plan ends on those days.";
    if (plans.length <= MAX_BANDS) {
      this.caption.replaceChildren(says);
      return;
    }
    if (!plans.includes(this.#band)) this.#band = "";
    this.caption.replaceChildren(says, " ",
      selectField("band", "Band of", [["", "the heaviest plan"], ...plans.map((plan) => [plan, this.labelOf(plan)])], this.#band, (plan) => {
        this.#band = plan;
        this.draw();
      }));
  }

  draw() {
    if (!this.results) return;
    const { plans } = this.results.comparison;
    const curves = plans.map((plan) => ({ label: this.labelOf(plan.name), points: plan.curve, index: this.indexOf(plan.name) }));
    const heaviest = plans.reduce((best, plan) => (plan.weight_kg.mean > best.weight_kg.mean ? plan : best));
    const shown = plans.some((plan) => plan.name === this.#band) ? this.#band : heaviest.name;
    drawCurves(this.figure, curves, this.units, "Expected weight at the end", plans.length > MAX_BANDS ? this.indexOf(shown) : null);
  }

  showStopped(text) {
    this.days.textContent = text;
  }
}

/** Sections with the figures of each plan and the reasons for them. */
export function details(results, units, indexOf, labelOf) {
  const { plans, warnings } = results.comparison;
  const heads = ["weight", "8 days in 10", "fish", "per fish", "bites", "casts", "bait", "best on"];
  const rows = plans.map((plan) => {
    const cells = [
      weight(plan.weight_kg.mean, units), range(plan.weight_kg.p10, plan.weight_kg.p90, units),
      count(plan.fish.mean), weight(plan.swim.fish_kg, units), count(plan.bites.mean), count(plan.casts.mean),
      // A plan that catches nothing is best on no day, also where others catch nothing either.
      weight(plan.bait_kg.mean, units), plan.fish.mean > 0 ? percent(plan.best_share) : "–",
    ];
    return el("tr", {}, el("th", { scope: "row" }, planSign(indexOf(plan.name)), labelOf(plan.name)),
      cells.map((cell, n) => el("td", { "data-head": heads[n] }, cell)));
  });
  return [
    el("section", { class: "figures", "aria-labelledby": "figures" }, el("h2", { id: "figures" }, "Figures"),
      el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "Table of figures" },
        el("table", {}, el("thead", {}, el("tr", {}, ["plan", ...heads].map((head) => el("th", { scope: "col" }, head)))), el("tbody", {}, rows)))),
    list("Why", results.reasons),
    list("Note", warnings.map((warning) => onPage(warning.says))),
    daysAhead(results.comparison, indexOf),
    fishBySize(results, units, indexOf),
    useOfTime(plans, indexOf),
  ].filter(Boolean);
}

function list(title, sentences) {
  if (!sentences.length) return null;
  return el("section", {}, el("h2", {}, title), el("ul", {}, sentences.map((text) => el("li", {}, sentence(text)))));
}

/** How often one plan of a pair is ahead, behind and level: together all days. */
function daysAhead({ pairs }, indexOf) {
  if (!pairs.length) return null;
  const part = (share, style) => {
    const fill = el("span", { class: `fill ${style}` });
    fill.style.width = `${(100 * share).toFixed(1)}%`;
    return fill;
  };
  return el("section", {}, el("h2", {}, "Days ahead"),
    pairs.map((pair) => {
      const behind = Math.max(0, 1 - pair.a_ahead_share - pair.tie_share);
      const words = pair.tie_share >= 1 ? `${pair.a} and ${pair.b} weigh the same on every day`
        : `${pair.a} against ${pair.b}: ahead on ${percent(pair.a_ahead_share)} of days, behind on ${percent(behind)}${pair.tie_share > 0 ? `, level on ${percent(pair.tie_share)}` : ""}`;
      return el("div", { class: "row" }, el("p", {}, planSign(indexOf(pair.a)), sentence(words)),
        el("span", { class: "bar", "aria-hidden": "true" }, part(pair.a_ahead_share, `plan-${indexOf(pair.a)}`), part(pair.tie_share, "level"), part(behind, `plan-${indexOf(pair.b)}`)));
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
        .map(([key, activity], n) => [n ? " · " : "", el("span", { class: "whole" }, el("span", { class: `dot ${key}`, "aria-hidden": "true" }), `${activity} ${percent(plan.time_share[key])}`)])))));
}
