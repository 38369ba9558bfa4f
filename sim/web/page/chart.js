//! Chart of expected weight against time, with bands that contain eight days in ten.

import { el, svgEl } from "./elements.js";
import { axisUnit, axisValue, ticks, weight } from "./units.js";

/** Line styles, so that plans differ without colour. */
export const DASHES = ["", "9 4", "2 4", "11 3 2 3"];

/** A short piece of a plan's line, shown next to its name. */
export const planSign = (index) => svgEl("svg", { class: `sign plan-${index}`, viewBox: "0 0 28 10", "aria-hidden": "true" },
  svgEl("path", { d: "M1 5H27", class: "line", "stroke-dasharray": DASHES[index] }));

const path = (points) => points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");

/** Draws curves into a figure. Each has `name`, `index` for its style, and `points` with `minute`, `mean_kg`, `p10_kg` and `p90_kg`. */
export function drawCurves(figure, curves, units, title) {
  const width = Math.max(280, figure.clientWidth || 640);
  const isWide = width > 560;
  const height = Math.round(Math.min(400, Math.max(200, width * (isWide ? 0.46 : 0.58))));
  const margin = { left: 44, right: isWide ? 150 : 12, top: 22, bottom: 30 };
  const minutes = Math.max(1, ...curves.map((curve) => curve.points.at(-1)?.minute ?? 1));
  const max = Math.max(0.5, ...curves.flatMap((c) => c.points.map((p) => axisValue(p.p90_kg, units))));
  const weights = ticks(max, height > 260 ? 5 : 3);
  const x = (minute) => margin.left + (minute / minutes) * (width - margin.left - margin.right);
  const y = (value) => height - margin.bottom - (value / weights.at(-1)) * (height - margin.top - margin.bottom);
  const point = (minute, kg) => [x(minute), y(axisValue(kg, units))];

  const bands = curves.map((curve) => {
    if (!curve.points.length) return null;
    const upper = curve.points.map((p) => point(p.minute, p.p90_kg));
    const lower = curve.points.map((p) => point(p.minute, p.p10_kg)).reverse();
    return svgEl("path", { class: `band plan-${curve.index}`, d: `${path([...upper, ...lower])}Z` });
  });
  const lines = curves.map((curve) => svgEl("path", {
    class: `line plan-${curve.index}`, "stroke-dasharray": DASHES[curve.index],
    d: path(curve.points.map((p) => point(p.minute, p.mean_kg))),
  }));
  const labels = isWide ? endLabels(curves, (kg) => y(axisValue(kg, units)), width - margin.right + 8, height - margin.bottom) : [];
  const description = curves.map((c) => `${c.name} ${weight(c.points.at(-1)?.mean_kg ?? 0, units)}`).join(", ");
  const svg = svgEl("svg", { class: "curves", viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": `${title}: ${description}` },
    axes({ width, height, margin, minutes, weights, x, y, units }), bands, lines, labels);
  const old = figure.querySelector("svg.curves");
  if (old) old.replaceWith(svg);
  else figure.prepend(svg);
}

/** Grid lines, ticks and units of both axes. */
function axes({ width, height, margin, minutes, weights, x, y, units }) {
  const hours = minutes / 60;
  const step = hours > 8 ? 2 : hours > 2 ? 1 : 0.25;
  const times = Array.from({ length: Math.floor(hours / step + 1e-9) + 1 }, (_, i) => i * step);
  return [
    ...weights.map((value) => [
      svgEl("path", { class: "grid", d: `M${margin.left} ${y(value)}H${width - margin.right}` }),
      svgEl("text", { class: "axis", x: margin.left - 6, y: y(value) + 4, "text-anchor": "end" }, String(value)),
    ]),
    ...times.map((h) => [
      svgEl("path", { class: "grid", d: `M${x(h * 60)} ${height - margin.bottom}v5` }),
      svgEl("text", { class: "axis", x: x(h * 60), y: height - margin.bottom + 18, "text-anchor": "middle" },
        `${step < 1 ? Math.round(h * 60) : h}`),
    ]),
    svgEl("text", { class: "axis", x: margin.left - 6, y: 12, "text-anchor": "end" }, axisUnit(units)),
    svgEl("text", { class: "axis", x: width - margin.right, y: height - 2, "text-anchor": "end" }, step < 1 ? "minutes" : "hours"),
  ];
}

/** Names at the ends of the curves, moved apart if they overlap. */
function endLabels(curves, y, left, bottom) {
  const labels = curves.map((curve) => ({ index: curve.index, name: curve.name, y: y(curve.points.at(-1)?.mean_kg ?? 0) }));
  labels.sort((a, b) => a.y - b.y);
  for (let i = 1; i < labels.length; i += 1) labels[i].y = Math.max(labels[i].y, labels[i - 1].y + 17);
  const overflow = Math.max(0, (labels.at(-1)?.y ?? 0) - bottom);
  return labels.map((label) => svgEl("text", { class: `label plan-${label.index}`, x: left, y: label.y - overflow + 4 },
    label.name.length > 17 ? `${label.name.slice(0, 16)}…` : label.name));
}

/** A bar that is filled to a share of its width. */
export const bar = (share, style) => {
  const fill = el("span", { class: `fill ${style}` });
  fill.style.width = `${Math.max(0, Math.min(100, 100 * share)).toFixed(1)}%`;
  return el("span", { class: "bar", "aria-hidden": "true" }, fill);
};
