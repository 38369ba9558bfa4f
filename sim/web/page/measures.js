//! Weights, lengths and times in words, in the units chosen.

const LB = 0.45359237;

/** A weight in words: `62 lb 5 oz`, `9 oz`, `28.3 kg`. */
export function weight(kg, units) {
  if (!Number.isFinite(kg)) return "–";
  const sign = kg < 0 ? "−" : "";
  const size = Math.abs(kg);
  if (units === "metric") return `${sign}${size.toFixed(size < 9.995 ? 2 : 1)} kg`;
  const ounces = Math.round((size / LB) * 16);
  const [lb, oz] = [Math.floor(ounces / 16), ounces % 16];
  return lb ? `${sign}${lb} lb ${oz} oz` : `${oz ? sign : ""}${oz} oz`;
}

/** Two weights as a range, in whole pounds where the upper end is above twenty. */
export function range(low, high, units) {
  const [from, to] = [onAxis(low, units), onAxis(high, units)];
  if (units === "metric") return `${from.toFixed(to < 9.995 ? 2 : 1)}–${to.toFixed(to < 9.995 ? 2 : 1)} kg`;
  return to >= 20 ? `${from.toFixed(0)}–${to.toFixed(0)} lb` : `${weight(low, units)}–${weight(high, units)}`;
}

/** A weight as a number on an axis. */
export const onAxis = (kg, units) => (units === "metric" ? kg : kg / LB);

/** The unit of such an axis. */
export const axisUnit = (units) => (units === "metric" ? "kg" : "lb");

/** A length in words. */
export function length(m, units) {
  const [size, unit] = units === "metric" ? [m, "m"] : [m / 0.9144, "yd"];
  return `${size.toFixed(size < 9.95 ? 1 : 0)} ${unit}`;
}

/** A depth in words; feet where lengths are yards. */
export const depth = (m, units) => (units === "metric" ? `${m.toFixed(1)} m` : `${(m / 0.3048).toFixed(1)} ft`);

/** A temperature in words. */
export const warmth = (c, units) => (units === "metric" ? `${c.toFixed(0)} °C` : `${(c * 1.8 + 32).toFixed(0)} °F`);

/** A speed of wind in words. */
export const wind = (ms, units) => (units === "metric" ? `${(ms * 3.6).toFixed(0)} km/h` : `${(ms / 0.44704).toFixed(0)} mph`);

/** A moment of the session, `h:mm:ss`. */
export function clock(seconds) {
  const s = Math.max(0, Math.floor(seconds + 1e-6));
  const two = (n) => String(n).padStart(2, "0");
  return `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
}

/** A share in words. */
export function percent(share) {
  const size = 100 * share;
  if (!Number.isFinite(size)) return "–";
  if (size > 0 && size < 0.5) return "under 1 %";
  if (size >= 99.5 && size < 100) return "over 99 %";
  return `${size.toFixed(0)} %`;
}

/** A count or a mean of counts. */
export const count = (n) => (Math.abs(n) < 99.95 ? n.toFixed(1) : n.toFixed(0));

/** Round steps of an axis up to `most`. */
export function ticks(most, wished) {
  if (!(most > 0)) return [0, 1];
  const rough = most / wished;
  const ten = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * ten).find((n) => n >= rough);
  return Array.from({ length: Math.ceil(most / step - 1e-9) + 1 }, (_, i) => i * step);
}

/** A plan's name, as the file and the verdict have it. */
export const named = (plan) => plan;

/** The name of a line, a shoal or a feature as it is read. */
export const plain = (name) => name.replaceAll(/[-_]/g, " ");
