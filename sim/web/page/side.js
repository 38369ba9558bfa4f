//! The swim from the side, and the weight in the net.

import { depth, plain, weight } from "./measures.js";
import { colours, disc, fit, TURN } from "./paint.js";
import { APPROACHING, FEEDING, UP } from "./tracks.js";

/** The water column along the line that is fished. */
export function drawSide(canvas, tracks, s, units, chosen) {
  const [to, width, height] = fit(canvas);
  const ink = colours();
  const [tackle] = tracks.tackle(s);
  const at = tackle?.[2] ?? 0;
  const line = tracks.film.lines[at];
  const most = Math.max(...line.profile_cm) / 100;
  const top = 26;
  const x = (m) => 14 + (m / line.reach_m) * (width - 28);
  const y = (m) => top + (m / most) * (height - top - 16);
  to.fillStyle = ink.page;
  to.fillRect(0, 0, width, height);
  to.fillStyle = ink.shallow;
  to.fillRect(0, top, width, height - top);
  to.fillStyle = ink.bank;
  to.beginPath();
  to.moveTo(0, height);
  line.profile_cm.forEach((cm, step) => to.lineTo(x((line.reach_m * step) / (line.profile_cm.length - 1)), y(cm / 100)));
  to.lineTo(width, height);
  to.fill();
  to.strokeStyle = ink.edge;
  to.lineWidth = 1.5;
  to.beginPath();
  to.moveTo(0, top);
  to.lineTo(width, top);
  to.stroke();
  const far = Math.hypot(line.x_m, line.y_m);
  const bed = y(line.depth_m);
  const [pile, scatter, hanging] = tracks.lying(at, s);
  if (hanging > 0.05) {
    to.globalAlpha = Math.min(0.45, 0.08 + hanging / 40);
    to.fillStyle = ink.cloud;
    to.beginPath();
    to.ellipse(x(far), (top + bed) / 2, 34, (bed - top) / 2, 0, 0, 7);
    to.fill();
    to.globalAlpha = 1;
  }
  to.fillStyle = ink.bait;
  if (pile + scatter > 0.05) {
    to.beginPath();
    to.ellipse(x(far), bed, 8 + Math.cbrt(scatter) * 6, 2 + Math.cbrt(pile) * 2, 0, Math.PI, 0);
    to.fill();
  }
  for (const handful of tracks.falling(at, s)) {
    const grains = Math.max(4, Math.min(24, handful.grams * 2));
    for (let n = 0; n < grains; n += 1) {
      const lag = handful.share * (0.75 + 0.4 * (((n * 7 + handful.id) % 10) / 10));
      disc(to, x(far) + (((n * 37) % 40) - 20) * (0.5 + handful.share), top + Math.min(1, lag) * (bed - top), 1.6);
    }
  }
  const rig = tackle?.[5] ?? 0;
  if (rig) {
    const out = Math.hypot(tackle[3], tackle[4]) / 100;
    const next = tracks.tackle(s)[1];
    const share = next ? Math.min(1, (s * 10 - tackle[0]) / Math.max(1, next[0] - tackle[0])) : 1;
    const fx = rig === 3 ? x(out * (1 - share)) : x(out);
    const fy = rig === 1 ? top + share * (bed - top) : rig === 3 ? top + (bed - top) * (1 - share) * 0.7 : bed - 3;
    to.strokeStyle = ink.line;
    to.lineWidth = 1;
    to.beginPath();
    to.moveTo(4, top - 10);
    to.lineTo(fx, fy);
    to.stroke();
    to.fillStyle = ink.feeder;
    to.fillRect(fx - 4, fy - 4, 8, 7);
    if (rig === 2 && (tackle[6] === 1 || tackle[6] === 2)) {
      to.fillStyle = ink.hookbait;
      disc(to, fx + 7, fy, 2.6);
    }
  }
  tracks.film.fish.forEach(([, , cm], fish) => {
    const [px, py, move] = tracks.place(fish, s);
    const state = move[7];
    const here = move[8] === at && (state === FEEDING || state === UP || state === APPROACHING);
    if (!here) return;
    const size = Math.max(5, cm * 0.13);
    let [fx, fy] = [x(Math.min(line.reach_m, Math.hypot(px, py))), bed - size * 0.5];
    if (state !== APPROACHING) fx += Math.cos(fish * TURN) * (12 + (fish % 17) * 3);
    if (state === UP) fy = top + (bed - top) * (0.2 + 0.06 * (fish % 6));
    to.save();
    to.translate(fx, fy);
    if (state === FEEDING) to.rotate(0.35 * (fish % 2 ? 1 : -1));
    if (fish % 2) to.scale(-1, 1);
    to.fillStyle = ink[{ [FEEDING]: "fish-feeding", [UP]: "fish-up", [APPROACHING]: "fish-coming" }[state]];
    to.strokeStyle = ink.ink;
    to.lineWidth = fish === chosen ? 2.5 : 0.7;
    to.beginPath();
    to.ellipse(0, 0, size, size * 0.42, 0, 0, 7);
    to.moveTo(-size * 0.8, 0);
    to.lineTo(-size * 1.4, size * 0.4);
    to.lineTo(-size * 1.4, -size * 0.4);
    to.closePath();
    to.fill();
    to.stroke();
    to.restore();
  });
  to.font = "600 12px system-ui, sans-serif";
  to.textAlign = "left";
  to.fillStyle = ink.ink;
  to.fillText(`From the side: ${plain(line.name)}, ${depth(line.depth_m, units)} deep`, 20, 15);
}

/** Weight in the net against time, a line a plan, with a marker at now. */
export function drawWeight(canvas, all, s, units) {
  const [to, width, height] = fit(canvas);
  const ink = colours();
  to.fillStyle = ink.page;
  to.fillRect(0, 0, width, height);
  const end = all[0].film.session_s;
  const most = Math.max(0.5, ...all.map((tracks) => tracks.film.weight_g / 1000));
  const x = (t) => 10 + (t / end) * (width - 20);
  const y = (kg) => height - 8 - (kg / most) * (height - 34);
  all.forEach((tracks, at) => {
    to.strokeStyle = ink[`plan-${at}`];
    to.lineWidth = 2.5;
    to.setLineDash(at ? [9, 4] : []);
    to.beginPath();
    to.moveTo(x(0), y(0));
    let kg = 0;
    for (const [t, sum] of tracks.caught) {
      to.lineTo(x(t / 10), y(kg));
      kg = sum / 1000;
      to.lineTo(x(t / 10), y(kg));
    }
    to.lineTo(x(end), y(kg));
    to.stroke();
    to.setLineDash([]);
    to.fillStyle = ink[`plan-${at}`];
    disc(to, x(s), y(tracks.net(s)[0]), 5);
  });
  to.strokeStyle = ink.ink;
  to.lineWidth = 1.5;
  to.beginPath();
  to.moveTo(x(s), 20);
  to.lineTo(x(s), height - 6);
  to.stroke();
  to.font = "600 12px system-ui, sans-serif";
  to.fillStyle = ink.ink;
  to.textAlign = "left";
  to.fillText(`In the net; ${weight(most, units)} at the end`, 10, 15);
}
