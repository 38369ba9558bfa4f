//! Colours, canvas set-up and the shapes that all pictures of the swim share.

const COLOUR_NAMES = ["page", "card", "ink", "rule", "plan-0", "plan-1", "shallow", "deep", "bank", "cover", "edge", "line", "plate", "scent", "cloud", "bait",
  "feeder", "hookbait", "fish-roaming", "fish-coming", "fish-feeding", "fish-up", "fish-fled", "fish-hooked"];
const dark = matchMedia("(prefers-color-scheme: dark)");
const paper = matchMedia("print");
let cached = {};

/** The colours of the page's style sheet, read again whenever the colour scheme has changed. */
export function colours() {
  const scheme = `${document.documentElement.dataset.light} ${dark.matches} ${paper.matches}`;
  if (cached.scheme !== scheme) {
    const style = getComputedStyle(document.documentElement);
    cached = { scheme, ...Object.fromEntries(COLOUR_NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) };
  }
  return cached;
}

/** Angle between one item and the next when many stand round a point, so that none hides another [rad]. */
export const TURN = 2.399963;

/** Calls a function whenever the colours may have changed without anything else. */
export function onColours(draw) {
  for (const query of [dark, paper]) query.addEventListener("change", draw);
}

/** How much larger everything is drawn, so that a whole room can read it. */
export const zoom = () => (isBig() ? 1.5 : 1);

/** Whether type is big: in the class view, unless the screen is a phone's. */
export const isBig = () => document.documentElement.classList.contains("class-view") && matchMedia("(min-width: 48rem)").matches;

/** Pixels of a canvas per unit of drawing: device pixels, at most 2 for each of the page, times the zoom. */
export const pixelRatio = () => Math.min(2, window.devicePixelRatio || 1) * zoom();

/** Fits a canvas to its box and the pixels of the screen; returns its drawing context and size. */
export function fit(canvas) {
  const ratio = pixelRatio();
  const [width, height] = [canvas.clientWidth / zoom(), canvas.clientHeight / zoom()];
  if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
    canvas.width = Math.round(width * ratio);
    canvas.height = Math.round(height * ratio);
  }
  const context = canvas.getContext("2d");
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  return [context, width, height];
}

/** Draws a filled circle. */
export function disc(context, x, y, r) {
  context.beginPath();
  context.arc(x, y, r, 0, 7);
  context.fill();
}

/** Draws the outline of a circle. */
export function ring(context, x, y, r) {
  context.beginPath();
  context.arc(x, y, r, 0, 7);
  context.stroke();
}

/** Draws text on a plate, legible on any background. */
export function tag(context, colour, text, x, y) {
  context.fillStyle = colour.plate;
  context.beginPath();
  context.roundRect(...plate(context, text, x, y), 5);
  context.fill();
  context.fillStyle = colour.ink;
  context.fillText(text, x, y);
}

/** The plate of a text: left, top, width and height. */
function plate(context, text, x, y) {
  const width = context.measureText(text).width + 10;
  const left = context.textAlign === "center" ? x - width / 2 : context.textAlign === "right" ? x - width + 5 : x - 5;
  return [left, y - 13, width, 18];
}

/** Names on a picture that do not hide each other. */
export class Labels {
  #taken = [];

  constructor(width, height) {
    [this.width, this.height] = [width, height];
  }

  /** Keeps a rectangle free of names. */
  keepFree(left, top, width, height) {
    this.#taken.push([left, top, width, height]);
  }

  #isFree([left, top, width, height]) {
    return left >= 0 && top >= 0 && left + width <= this.width && top + height <= this.height
      && this.#taken.every(([l, t, w, h]) => left + width <= l || l + w <= left || top + height <= t || t + h <= top);
  }

  /** Writes a text at the first of some places, each an alignment, x and y, that is free; nowhere if none is. */
  put(context, colour, text, places) {
    for (const [align, x, y] of places) {
      context.textAlign = align;
      const wanted = plate(context, text, x, y);
      if (!this.#isFree(wanted)) continue;
      this.#taken.push(wanted);
      tag(context, colour, text, x, y);
      return;
    }
  }
}
