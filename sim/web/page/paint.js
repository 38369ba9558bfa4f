//! Ink, canvas and the few strokes that all pictures of the swim share.

const INKS = ["page", "card", "ink", "plan-0", "plan-1", "shallow", "deep", "bank", "cover", "edge", "line", "plate", "scent", "cloud", "bait",
  "feeder", "hookbait", "fish-roaming", "fish-coming", "fish-feeding", "fish-up", "fish-fled", "fish-hooked"];
const dark = matchMedia("(prefers-color-scheme: dark)");
let inks = {};

/** Colours of the page, read from its style sheet whenever the light has changed. */
export function colours() {
  const light = `${document.documentElement.dataset.light} ${dark.matches}`;
  if (inks.light !== light) {
    const style = getComputedStyle(document.documentElement);
    inks = { light, ...Object.fromEntries(INKS.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) };
  }
  return inks;
}

/** The angle by which each of many is turned from the one before, so that none hides another [rad]. */
export const TURN = 2.399963;

/** Points of the screen in one of the page's; more than two are not seen. */
export const dots = () => Math.min(2, window.devicePixelRatio || 1);

/** Fits a canvas to its box and the screen's points; returns its drawing context and size. */
export function fit(canvas) {
  const points = dots();
  const [width, height] = [canvas.clientWidth, canvas.clientHeight];
  if (canvas.width !== Math.round(width * points) || canvas.height !== Math.round(height * points)) {
    canvas.width = Math.round(width * points);
    canvas.height = Math.round(height * points);
  }
  const to = canvas.getContext("2d");
  to.setTransform(points, 0, 0, points, 0, 0);
  return [to, width, height];
}

/** A filled disc. */
export function disc(to, x, y, r) {
  to.beginPath();
  to.arc(x, y, r, 0, 7);
  to.fill();
}

/** A circle. */
export function ring(to, x, y, r) {
  to.beginPath();
  to.arc(x, y, r, 0, 7);
  to.stroke();
}

/** Words on a plate, legible on anything. */
export function tag(to, ink, words, x, y) {
  const wide = to.measureText(words).width + 10;
  const left = to.textAlign === "center" ? x - wide / 2 : to.textAlign === "right" ? x - wide + 5 : x - 5;
  to.fillStyle = ink.plate;
  to.beginPath();
  to.roundRect(left, y - 13, wide, 18, 5);
  to.fill();
  to.fillStyle = ink.ink;
  to.fillText(words, x, y);
}
