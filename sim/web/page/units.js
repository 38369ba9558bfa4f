//! Weights, lengths, times and shares as text, in the chosen units. No text breaks inside a quantity.

const LB = 0.45359237;
/** No-break space between a number and its unit. */
const NBSP = "\u00a0";

/** A weight as text: `62 lb 5 oz`, `9 oz`, `28.3 kg`. */
export function weight(kg, units) {
  if (!Number.isFinite(kg)) return "–";
  const sign = kg < 0 ? "−" : "";
  const size = Math.abs(kg);
  if (units === "metric") return `${sign}${size.toFixed(size < 9.995 ? 2 : 1)}${NBSP}kg`;
  const ounces = Math.round((size / LB) * 16);
  const [lb, oz] = [Math.floor(ounces / 16), ounces % 16];
  return lb ? `${sign}${lb}${NBSP}lb${NBSP}${oz}${NBSP}oz` : `${oz ? sign : ""}${oz}${NBSP}oz`;
}

/** A range of weights as text, in whole pounds if the upper end is at least 20 lb. */
export function range(low, high, units) {
  const [from, to] = [axisValue(low, units), axisValue(high, units)];
  if (units === "metric") return `${from.toFixed(to < 9.995 ? 2 : 1)}–${to.toFixed(to < 9.995 ? 2 : 1)}${NBSP}kg`;
  return to >= 20 ? `${from.toFixed(0)}–${to.toFixed(0)}${NBSP}lb` : `${weight(low, units)}–${weight(high, units)}`;
}

/** A weight as a number on an axis. */
export const axisValue = (kg, units) => (units === "metric" ? kg : kg / LB);

/** The unit of an axis of weights. */
export const axisUnit = (units) => (units === "metric" ? "kg" : "lb");

/** A length as text. */
export function length(m, units) {
  const [size, unit] = units === "metric" ? [m, "m"] : [m / 0.9144, "yd"];
  return `${size.toFixed(size < 9.95 ? 1 : 0)}${NBSP}${unit}`;
}

/** A depth as text, in metres or feet. */
export const depth = (m, units) => (units === "metric" ? `${m.toFixed(1)}${NBSP}m` : `${(m / 0.3048).toFixed(1)}${NBSP}ft`);

/** A temperature as text, in degrees Celsius whatever the units of weight. */
export const temperature = (c) => `${c.toFixed(0)}${NBSP}°C`;

/** The length of a fish as text. */
export const fishLength = (cm, units) => (units === "metric" ? `${cm.toFixed(0)}${NBSP}cm` : `${(cm / 2.54).toFixed(0)}${NBSP}in`);

/** What one metric unit of a setting is in the imperial one. */
const IMPERIAL = { "km/h": [0.621371, "mph"], "kg/ha": [0.892179, "lb/acre"] };

/** A setting in the chosen units; minutes and grams are what anglers use in both. */
export function setting(text, units) {
  const celsius = text.replaceAll(/(\d) C\b/g, `$1${NBSP}°C`);
  if (units === "metric") return celsius;
  const shown = (number, [factor, unit]) => `${(Number(number) * factor).toFixed(0)}${NBSP}${unit}`;
  return celsius.replaceAll(/([\d.]+) (km\/h|kg\/ha)/g, (_, number, unit) => shown(number, IMPERIAL[unit]));
}

/** A wind speed as text. */
export const wind = (ms, units) => (units === "metric" ? `${(ms * 3.6).toFixed(0)}${NBSP}km/h` : `${(ms / 0.44704).toFixed(0)}${NBSP}mph`);

/** A time of the session as text, `h:mm:ss`. */
export function clock(seconds) {
  const s = Math.max(0, Math.floor(seconds + 1e-6));
  const pad = (n) => String(n).padStart(2, "0");
  return `${Math.floor(s / 3600)}:${pad(Math.floor(s / 60) % 60)}:${pad(s % 60)}`;
}

/** A share as text. */
export function percent(share) {
  const size = 100 * share;
  if (!Number.isFinite(size)) return "–";
  if (size > 0 && size <= 0.5) return `under${NBSP}1${NBSP}%`;
  if (size >= 99.5 && size < 100) return `over${NBSP}99${NBSP}%`;
  return `${size.toFixed(0)}${NBSP}%`;
}

/** A count, or a mean of counts, as text. */
export const count = (n) => (Math.abs(n) < 99.95 ? n.toFixed(1) : n.toFixed(0));

/** Round values along an axis from zero to at least `max`, about `wanted` of them. */
export function ticks(max, wanted) {
  if (!(max > 0)) return [0, 1];
  const rough = max / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough);
  return Array.from({ length: Math.ceil(max / step - 1e-9) + 1 }, (_, i) => i * step);
}

/** The name of a line, a shoal or a feature, with spaces for hyphens. */
export const readable = (name) => name.replaceAll(/[-_]/g, " ");
