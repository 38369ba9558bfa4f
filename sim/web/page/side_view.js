//! Draws the water column from the side, and the weight in the net against time.

import { axisUnit, axisValue, depth, readable, ticks, weight } from "./units.js";
import { colours, disc, fit, TURN } from "./canvas.js";
import { APPROACHING, FEEDING, UP } from "./recording.js";

/** Draws the water column along the line that is being fished. */
export function drawSide(canvas, recording, s, units, selected) {
  const [context, width, height] = fit(canvas);
  const colour = colours();
  const [tackle] = recording.tackle(s);
  const lineIndex = tackle?.[2] ?? 0;
  const line = recording.film.lines[lineIndex];
  const maxDepth = Math.max(...line.profile_cm) / 100;
  const top = 26;
  const x = (m) => 14 + (m / line.reach_m) * (width - 28);
  const y = (m) => top + (m / maxDepth) * Math.max(0, height - top - 16);
  context.fillStyle = colour.page;
  context.fillRect(0, 0, width, height);
  context.fillStyle = colour.shallow;
  context.fillRect(0, top, width, height - top);
  context.fillStyle = colour.bank;
  context.beginPath();
  context.moveTo(0, height);
  line.profile_cm.forEach((cm, step) => context.lineTo(x((line.reach_m * step) / (line.profile_cm.length - 1)), y(cm / 100)));
  context.lineTo(width, height);
  context.fill();
  context.strokeStyle = colour.edge;
  context.lineWidth = 1.5;
  context.beginPath();
  context.moveTo(0, top);
  context.lineTo(width, top);
  context.stroke();
  const distance = Math.hypot(line.x_m, line.y_m);
  const bed = y(line.depth_m);
  const [pile, scatter, hanging] = recording.bait(lineIndex, s);
  if (hanging > 0.05) {
    context.globalAlpha = Math.min(0.45, 0.08 + hanging / 40);
    context.fillStyle = colour.cloud;
    context.beginPath();
    context.ellipse(x(distance), (top + bed) / 2, 34, (bed - top) / 2, 0, 0, 7);
    context.fill();
    context.globalAlpha = 1;
    context.font = "12px system-ui, sans-serif";
    const isLeft = x(distance) > width / 2;
    context.textAlign = isLeft ? "right" : "left";
    context.fillStyle = colour.ink;
    context.fillText("fine particles", x(distance) + (isLeft ? -38 : 38), top + 16);
  }
  context.fillStyle = colour.bait;
  if (pile + scatter > 0.05) {
    context.beginPath();
    context.ellipse(x(distance), bed, 8 + Math.cbrt(scatter) * 6, 2 + Math.cbrt(pile) * 2, 0, Math.PI, 0);
    context.fill();
  }
  for (const handful of recording.falling(lineIndex, s)) {
    const grains = Math.max(4, Math.min(24, handful.grams * 2));
    for (let n = 0; n < grains; n += 1) {
      const progress = handful.share * (0.75 + 0.4 * (((n * 7 + handful.id) % 10) / 10));
      disc(context, x(distance) + (((n * 37) % 40) - 20) * (0.5 + handful.share), top + Math.min(1, progress) * (bed - top), 1.6);
    }
  }
  const rig = tackle?.[5] ?? 0;
  if (rig) {
    const rigDistance = Math.hypot(tackle[3], tackle[4]) / 100;
    const next = recording.tackle(s)[1];
    const share = next ? Math.min(1, (s * 10 - tackle[0]) / Math.max(1, next[0] - tackle[0])) : 1;
    const fx = rig === 3 ? x(rigDistance * (1 - share)) : x(rigDistance);
    const fy = rig === 1 ? top + share * (bed - top) : rig === 3 ? top + (bed - top) * (1 - share) * 0.7 : bed - 3;
    context.strokeStyle = colour.line;
    context.lineWidth = 1;
    context.beginPath();
    context.moveTo(4, top - 10);
    context.lineTo(fx, fy);
    context.stroke();
    context.fillStyle = colour.feeder;
    context.fillRect(fx - 4, fy - 4, 8, 7);
    if (rig === 2 && (tackle[6] === 1 || tackle[6] === 2)) {
      context.fillStyle = colour.hookbait;
      disc(context, fx + 7, fy, 2.6);
    }
  }
  recording.film.fish.forEach(([, , cm], fish) => {
    const [px, py, move] = recording.position(fish, s);
    const state = move[7];
    const isShown = move[8] === lineIndex && (state === FEEDING || state === UP || state === APPROACHING);
    if (!isShown) return;
    const size = Math.max(5, cm * 0.13);
    let [fx, fy] = [x(Math.min(line.reach_m, Math.hypot(px, py))), bed - size * 0.5];
    if (state !== APPROACHING) fx += Math.cos(fish * TURN) * (12 + (fish % 17) * 3);
    if (state === UP) fy = top + (bed - top) * (0.2 + 0.06 * (fish % 6));
    context.save();
    context.translate(fx, fy);
    if (state === FEEDING) context.rotate(0.35 * (fish % 2 ? 1 : -1));
    if (fish % 2) context.scale(-1, 1);
    context.fillStyle = colour[{ [FEEDING]: "fish-feeding", [UP]: "fish-up", [APPROACHING]: "fish-coming" }[state]];
    context.strokeStyle = colour.ink;
    context.lineWidth = fish === selected ? 2.5 : 0.7;
    context.beginPath();
    context.ellipse(0, 0, size, size * 0.42, 0, 0, 7);
    context.moveTo(-size * 0.8, 0);
    context.lineTo(-size * 1.4, size * 0.4);
    context.lineTo(-size * 1.4, -size * 0.4);
    context.closePath();
    context.fill();
    context.stroke();
    context.restore();
  });
  context.font = "600 12px system-ui, sans-serif";
  context.textAlign = "left";
  context.fillStyle = colour.ink;
  context.fillText(`From the side: ${readable(line.name)}, ${depth(line.depth_m, units)} deep`, 20, 15);
}

/** The heaviest net that the picture of the weight has room for, at least [kg]. */
const LEAST_ROOM_KG = 5;

/** Draws the weight in the net so far: one line per plan, and a marker at the current time. What is yet to come stays open. */
export function drawWeight(canvas, recordings, s, units) {
  const [context, width, height] = fit(canvas);
  const colour = colours();
  context.fillStyle = colour.page;
  context.fillRect(0, 0, width, height);
  const end = recordings[0].film.session_s;
  const most = Math.max(...recordings.map((recording) => recording.net(s)[0]), LEAST_ROOM_KG);
  const top = ticks(axisValue(most, units), 2).at(-1);
  const x = (t) => 10 + (t / end) * (width - 20);
  const y = (kg) => height - 8 - (axisValue(kg, units) / top) * (height - 38);
  context.strokeStyle = colour.rule;
  context.lineWidth = 1;
  for (const level of [0, top]) {
    context.beginPath();
    context.moveTo(10, height - 8 - (level / top) * (height - 38));
    context.lineTo(width - 10, height - 8 - (level / top) * (height - 38));
    context.stroke();
  }
  recordings.forEach((recording, index) => {
    context.strokeStyle = colour[`plan-${index}`];
    context.lineWidth = 2.5;
    context.setLineDash(index ? [9, 4] : []);
    context.beginPath();
    context.moveTo(x(0), y(0));
    let kg = 0;
    for (const [t, sum] of recording.caught) {
      if (t > s * 10) break;
      context.lineTo(x(t / 10), y(kg));
      kg = sum / 1000;
      context.lineTo(x(t / 10), y(kg));
    }
    context.lineTo(x(s), y(kg));
    context.stroke();
    context.setLineDash([]);
    context.fillStyle = colour[`plan-${index}`];
    disc(context, x(s), y(kg), 5);
  });
  context.font = "600 12px system-ui, sans-serif";
  context.fillStyle = colour.ink;
  context.textAlign = "left";
  const names = recordings.length > 1 ? ["A ", "B "] : [""];
  const caught = `In the net: ${recordings.map((recording, n) => `${names[n]}${weight(recording.net(s)[0], units)}`).join(", ")}`;
  context.fillText(caught, 10, 15);
  // On a narrow screen the longer words would run into the weights.
  const room = width - 32 - context.measureText(caught).width;
  const scale = [`top line ${top} ${axisUnit(units)}`, `${top} ${axisUnit(units)}`].find((words) => context.measureText(words).width <= room);
  context.textAlign = "right";
  if (scale) context.fillText(scale, width - 10, 15);
}
