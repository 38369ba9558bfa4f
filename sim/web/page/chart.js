//! Chart of expected weight against time, with a band that contains eight days in ten, and the signs of plans.

import { el, svgEl } from "./elements.js";
import { axisUnit, axisValue, ticks, weight } from "./units.js";

/** Line styles, so that plans differ without colour. */
export const DASHES = ["", "9 4", "2 4", "11 3 2 3"];

/** Marks of plans round the origin, the same as in reports: circle, square, triangle, diamond. */
const MARKS = [
  "M1 0A1 1 0 1 1-1 0A1 1 0 1 1 1 0Z", "M.89 .89H-.89V-.89H.89Z", "M0-1.3L1.2 .8H-1.2Z", "M0-1.3L1.3 0L0 1.3L-1.3 0Z",
];

const mark = (index, x, y, size) => svgEl("path", { class: `mark plan-${index}`, d: MARKS[index], transform: `translate(${x} ${y}) scale(${size})` });

/** A short piece of a plan's line with its mark, shown next to its name. */
export const planSign = (index) => svgEl("svg", { class: `sign plan-${index}`, viewBox: "0 0 32 12", "aria-hidden": "true" },
  svgEl("path", { d: "M1 6H31", class: "line", "stroke-dasharray": DASHES[index] }), mark(index, 16, 6, 4.4));

const path = (points) => points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");

/** Width of a chart on paper [pixels]; set while the browser prints. */
const PAPER = 680;
let isPrinting = false;

/** Calls a function before and after the browser prints, when charts have another width. */
export function onPaper(draw) {
  for (const event of ["beforeprint", "afterprint"]) {
    addEventListener(event, () => {
      isPrinting = event === "beforeprint";
      draw();
    });
  }
}

/** Size of the page's type, 1 unless the class view makes it larger. */
const typeSize = () => parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;

/**
 * Draws curves into a figure. Each has `label`, `index` for its style, and `points` with `minute`, `mean_kg`, `p10_kg`
 * and `p90_kg`. `bandOf` is the index of the one whose band is filled, or null for all; a stroke at the right shows where
 * each plan ends on eight days in ten.
 */
export function drawCurves(figure, curves, units, title, bandOf = null) {
  const em = typeSize();
  const width = isPrinting ? PAPER : Math.max(280, figure.clientWidth || 640);
  const isWide = width > 560 * em;
  const isBig = isWide && !isPrinting && document.documentElement.classList.contains("class-view");
  // On a phone the chart stays above the sliders, which need most of the height.
  const height = Math.round(isBig ? Math.max(240, innerHeight * 0.52) : isWide ? Math.min(400, Math.max(200, width * 0.46)) : Math.min(200, Math.max(160, innerHeight * 0.22)));
  const longest = Math.max(...curves.map((curve) => curve.label.length));
  const strokes = 9 * curves.length + 6;
  const names = isWide ? Math.min(0.42 * width, (26 + 8.3 * longest) * em) : 0;
  const margin = { left: 44 * em, right: strokes + names, top: 22 * em, bottom: 36 * em };
  const minutes = Math.max(1, ...curves.map((curve) => curve.points.at(-1)?.minute ?? 1));
  const max = Math.max(0.5, ...curves.flatMap((c) => c.points.map((p) => axisValue(p.p90_kg, units))));
  const weights = ticks(max, height > 260 ? 5 : 3);
  const x = (minute) => margin.left + (minute / minutes) * (width - margin.left - margin.right);
  const y = (value) => height - margin.bottom - (value / weights.at(-1)) * (height - margin.top - margin.bottom);
  const yOf = (kg) => y(axisValue(kg, units));
  const point = (minute, kg) => [x(minute), yOf(kg)];

  const bands = curves.map((curve) => {
    if (!curve.points.length || (bandOf !== null && curve.index !== bandOf)) return null;
    const upper = curve.points.map((p) => point(p.minute, p.p90_kg));
    const lower = curve.points.map((p) => point(p.minute, p.p10_kg)).reverse();
    return svgEl("path", { class: `band plan-${curve.index}`, d: `${path([...upper, ...lower])}Z` });
  });
  const spans = curves.map((curve, n) => {
    const last = curve.points.at(-1);
    if (!last) return null;
    const at = width - margin.right + 8 + 9 * n;
    return [
      svgEl("path", { class: `span line plan-${curve.index}`, d: `M${at} ${yOf(last.p10_kg).toFixed(1)}V${yOf(last.p90_kg).toFixed(1)}` }),
      mark(curve.index, at, yOf(last.mean_kg).toFixed(1), 4 * em),
    ];
  });
  const lines = curves.map((curve) => svgEl("path", {
    class: `line plan-${curve.index}`, "stroke-dasharray": DASHES[curve.index],
    d: path(curve.points.map((p) => point(p.minute, p.mean_kg))),
  }));
  const labels = isWide ? endLabels(curves, yOf, width - names + 2, height - margin.bottom, em, Math.floor((names / em - 26) / 8.3)) : [];
  const description = curves.map((c) => `${c.label} ${weight(c.points.at(-1)?.mean_kg ?? 0, units)}`).join(", ");
  const svg = svgEl("svg", { class: "curves", viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": `${title}: ${description}` },
    axes({ width, height, margin, minutes, weights, x, y, units, em }), bands, lines, spans, labels);
  const old = figure.querySelector("svg.curves");
  if (old) old.replaceWith(svg);
  else figure.prepend(svg);
}

/** Grid lines, ticks and units of both axes. */
function axes({ width, height, margin, minutes, weights, x, y, units, em }) {
  const hours = minutes / 60;
  const step = hours > 8 ? 2 : hours > 2 ? 1 : 0.25;
  const times = Array.from({ length: Math.floor(hours / step + 1e-9) + 1 }, (_, i) => i * step);
  return [
    ...weights.map((value) => [
      svgEl("path", { class: "grid", d: `M${margin.left} ${y(value)}H${width - margin.right}` }),
      svgEl("text", { class: "axis", x: margin.left - 6, y: y(value) + 4 * em, "text-anchor": "end" }, String(value)),
    ]),
    ...times.map((h) => [
      svgEl("path", { class: "grid", d: `M${x(h * 60)} ${height - margin.bottom}v5` }),
      svgEl("text", { class: "axis", x: x(h * 60), y: height - margin.bottom + 17 * em, "text-anchor": "middle" },
        `${step < 1 ? Math.round(h * 60) : h}`),
    ]),
    svgEl("text", { class: "axis", x: margin.left - 6, y: 12 * em, "text-anchor": "end" }, axisUnit(units)),
    svgEl("text", { class: "axis", x: (margin.left + width - margin.right) / 2, y: height - 3 * em, "text-anchor": "middle" }, step < 1 ? "minutes" : "hours"),
  ];
}

/** A name without its middle if it has more letters than there is room for: plans may begin alike, or end alike. */
const shortened = (name, room) => (name.length <= room ? name
  : `${name.slice(0, Math.ceil((room - 1) / 2))}…${name.slice(name.length - Math.floor((room - 1) / 2))}`);

/** Names at the ends of the curves, each with its mark, moved apart if they overlap. */
function endLabels(curves, y, left, bottom, em, room) {
  const labels = curves.map((curve) => ({ index: curve.index, name: curve.label, y: y(curve.points.at(-1)?.mean_kg ?? 0) }));
  labels.sort((a, b) => a.y - b.y);
  for (let i = 1; i < labels.length; i += 1) labels[i].y = Math.max(labels[i].y, labels[i - 1].y + 18 * em);
  const overflow = Math.max(0, (labels.at(-1)?.y ?? 0) - bottom);
  return labels.map((label) => [
    mark(label.index, left + 7 * em, label.y - overflow, 5 * em),
    svgEl("text", { class: "label", x: left + 18 * em, y: label.y - overflow + 4 * em }, svgEl("title", {}, label.name),
      shortened(label.name, room)),
  ]);
}

/** A bar that is filled to a share of its width. */
export const bar = (share, style) => {
  const fill = el("span", { class: `fill ${style}` });
  fill.style.width = `${Math.max(0, Math.min(100, 100 * share)).toFixed(1)}%`;
  return el("span", { class: "bar", "aria-hidden": "true" }, fill);
};
