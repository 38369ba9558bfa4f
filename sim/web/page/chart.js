//! Expected weight against time, with bands that hold eight days in ten.

import { el, shape } from "./elements.js";
import { axisUnit, named, onAxis, ticks, weight } from "./measures.js";

/** Dashes that tell plans apart without colour. */
export const DASHES = ["", "9 4", "2 4", "11 3 2 3"];

/** The sign of a plan beside its name. */
export const sign = (at) => shape("svg", { class: `sign plan-${at}`, viewBox: "0 0 28 10", "aria-hidden": "true" },
  shape("path", { d: "M1 5H27", class: "line", "stroke-dasharray": DASHES[at] }));

const path = (points) => points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");

/** Draws curves into a figure: each a name and points of `minute`, `mean_kg` and, for a band, `p10_kg` and `p90_kg`. */
export function drawCurves(figure, curves, units, note, marker = null) {
  const width = Math.max(280, figure.clientWidth || 640);
  const wide = width > 560;
  const height = Math.round(Math.min(400, Math.max(200, width * (wide ? 0.46 : 0.58))));
  const edge = { left: 44, right: wide ? 150 : 12, top: 22, bottom: 30 };
  const minutes = Math.max(1, ...curves.map((curve) => curve.points.at(-1)?.minute ?? 1));
  const top = Math.max(0.5, ...curves.flatMap((c) => c.points.map((p) => onAxis(p.p90_kg ?? p.mean_kg, units))));
  const up = ticks(top, height > 260 ? 5 : 3);
  const x = (minute) => edge.left + (minute / minutes) * (width - edge.left - edge.right);
  const y = (value) => height - edge.bottom - (value / up.at(-1)) * (height - edge.top - edge.bottom);
  const place = (minute, kg) => [x(minute), y(onAxis(kg, units))];

  const hours = minutes / 60;
  const step = hours > 8 ? 2 : hours > 2 ? 1 : 0.25;
  const across = Array.from({ length: Math.floor(hours / step + 1e-9) + 1 }, (_, i) => i * step);
  const grid = [
    ...up.map((value) => [
      shape("path", { class: "grid", d: `M${edge.left} ${y(value)}H${width - edge.right}` }),
      shape("text", { class: "axis", x: edge.left - 6, y: y(value) + 4, "text-anchor": "end" }, String(value)),
    ]),
    ...across.map((h) => [
      shape("path", { class: "grid", d: `M${x(h * 60)} ${height - edge.bottom}v5` }),
      shape("text", { class: "axis", x: x(h * 60), y: height - edge.bottom + 18, "text-anchor": "middle" },
        `${step < 1 ? Math.round(h * 60) : h}`),
    ]),
    shape("text", { class: "axis", x: edge.left - 6, y: 12, "text-anchor": "end" }, axisUnit(units)),
    shape("text", { class: "axis", x: width - edge.right, y: height - 2, "text-anchor": "end" }, step < 1 ? "minutes" : "hours"),
  ];

  const bands = curves.map((curve, at) => {
    const banded = curve.points.filter((p) => p.p10_kg !== undefined);
    if (!banded.length) return null;
    const out = banded.map((p) => place(p.minute, p.p90_kg));
    const back = banded.map((p) => place(p.minute, p.p10_kg)).reverse();
    return shape("path", { class: `band plan-${curve.at ?? at}`, d: `${path([...out, ...back])}Z` });
  });
  const lines = curves.map((curve, at) => shape("path", {
    class: `line plan-${curve.at ?? at}`, "stroke-dasharray": DASHES[curve.at ?? at],
    d: path(curve.points.map((p) => place(p.minute, p.mean_kg))),
  }));
  const labels = wide ? endLabels(curves, (kg) => y(onAxis(kg, units)), width - edge.right + 8, height - edge.bottom) : [];
  const mark = marker === null ? null
    : shape("path", { class: "marker", d: `M${x(marker)} ${edge.top - 4}V${height - edge.bottom}` });
  const words = curves.map((c) => `${named(c.name)} ${weight(c.points.at(-1)?.mean_kg ?? 0, units)}`).join(", ");
  const svg = shape("svg", { class: "curves", viewBox: `0 0 ${width} ${height}`, width, height, role: "img", "aria-label": `${note}: ${words}` },
    grid, bands, lines, mark, labels);
  const old = figure.querySelector("svg.curves");
  if (old) old.replaceWith(svg);
  else figure.prepend(svg);
}

/** Names at the ends of the curves, moved apart where they would meet. */
function endLabels(curves, y, left, bottom) {
  const labels = curves.map((curve, at) => ({ at: curve.at ?? at, name: named(curve.name), y: y(curve.points.at(-1)?.mean_kg ?? 0) }));
  labels.sort((a, b) => a.y - b.y);
  for (let i = 1; i < labels.length; i += 1) labels[i].y = Math.max(labels[i].y, labels[i - 1].y + 17);
  const over = Math.max(0, (labels.at(-1)?.y ?? 0) - bottom);
  return labels.map((label) => shape("text", { class: `label plan-${label.at}`, x: left, y: label.y - over + 4 },
    label.name.length > 17 ? `${label.name.slice(0, 16)}…` : label.name));
}

/** A bar with its share of the whole. */
export const bar = (share, kind) => {
  const fill = el("span", { class: `fill ${kind}` });
  fill.style.width = `${Math.max(0, Math.min(100, 100 * share)).toFixed(1)}%`;
  return el("span", { class: "bar", "aria-hidden": "true" }, fill);
};
