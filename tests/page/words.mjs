//! Where the words of moving pictures stand: nothing of them may be hidden by other words or cut off.

/** Notes, in every canvas that is drawn from now on, where its words stand. To be added before the page loads. */
export const noteWords = () => {
  const { prototype } = CanvasRenderingContext2D;
  const { setTransform, fillText } = prototype;
  // Each picture begins with its scale.
  prototype.setTransform = function (...args) {
    this.canvas.words = [];
    return setTransform.apply(this, args);
  };
  prototype.fillText = function (text, x, y, ...rest) {
    const { width } = this.measureText(text);
    const left = x - (this.textAlign === "center" ? width / 2 : this.textAlign === "right" ? width : 0);
    this.canvas.words?.push({ text, left, right: left + width, top: y - 10, bottom: y + 2 });
    return fillText.call(this, text, x, y, ...rest);
  };
};

/** The words of all pictures on the page that run into others or over the edge. */
export const wordsInTheWay = (page) => page.evaluate(() => [...document.querySelectorAll("canvas")].flatMap((canvas) => {
  const words = canvas.words ?? [];
  const over = words.filter(({ left, right }) => left < -0.5 || right > canvas.clientWidth + 0.5).map(({ text }) => `"${text}" is cut off`);
  const hidden = words.flatMap((a, n) => words.slice(n + 1).filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
    .map((b) => `"${a.text}" runs into "${b.text}"`));
  return [...over, ...hidden];
}));
