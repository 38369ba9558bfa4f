//! Draws the swim from above, to scale.

import { clock, depth, length, plain, weight } from "./measures.js";
import { colours, disc, dots, fit, ring, tag, TURN } from "./paint.js";
import { APPROACHING, FEEDING, FLED, HOOKED, KEPT, last, RESTING, UP } from "./tracks.js";

/** Oldest scent drawn [s], and how many releases of one line. */
const SCENT_S = 1500;
const MOST_RELEASES = 70;

function mix(a, b, share) {
  const number = (c) => [1, 3, 5].map((i) => parseInt(c.slice(i, i + 2), 16));
  const [from, to] = [number(a), number(b)];
  return from.map((n, i) => Math.round(n + (to[i] - n) * share));
}

/** The water from above; what does not move is drawn once. */
export class Plan {
  #ground = null;
  #scent = null;
  #print = "";
  #smelt = -1e9;

  constructor(tracks) {
    this.tracks = tracks;
    const { lines, water } = tracks.film;
    // From the bank to the far end, and as wide as need be.
    this.width = water.width_m;
    this.length = water.length_m;
    this.lines = lines;
  }

  #scale(width, height) {
    const bank = 26;
    const scale = Math.min(width / this.width, (height - bank) / this.length);
    return { scale, bank, x: (m) => width / 2 + m * scale, y: (m) => height - bank - m * scale };
  }

  #drawGround(width, height, ink, units) {
    const { water } = this.tracks.film;
    const view = this.#scale(width, height);
    const points = dots();
    const ground = new OffscreenCanvas(Math.round(width * points), Math.round(height * points));
    const to = ground.getContext("2d");
    to.scale(points, points);
    to.fillStyle = ink.card;
    to.fillRect(0, 0, width, height);
    to.fillStyle = ink.bank;
    to.fillRect(0, view.y(0), width, height);
    const depths = water.depths_cm;
    const [least, most] = [Math.min(...depths), Math.max(...depths)];
    const picture = new OffscreenCanvas(water.columns, water.rows);
    const cells = picture.getContext("2d");
    const image = cells.createImageData(water.columns, water.rows);
    depths.forEach((cm, cell) => {
      const row = water.rows - 1 - Math.floor(cell / water.columns);
      const band = most > least ? Math.round(((cm - least) / (most - least)) * 7) / 7 : 0.5;
      const at = 4 * (row * water.columns + (cell % water.columns));
      image.data.set([...mix(ink.shallow, ink.deep, band), 255], at);
    });
    cells.putImageData(image, 0, 0);
    const [left, top] = [view.x(-this.width / 2), view.y(this.length)];
    to.imageSmoothingEnabled = true;
    to.save();
    to.beginPath();
    to.rect(left, top, this.width * view.scale, this.length * view.scale);
    to.clip();
    to.drawImage(picture, left, view.y(water.rows * water.cell_m), water.columns * water.cell_m * view.scale, water.rows * water.cell_m * view.scale);
    for (const feature of water.features) {
      to.beginPath();
      to.ellipse(view.x(feature.x_m), view.y(feature.y_m), feature.half_length_m * view.scale, feature.half_width_m * view.scale, 0, 0, 7);
      to.strokeStyle = ink.edge;
      to.setLineDash([3, 3]);
      to.stroke();
      to.setLineDash([]);
      if (!feature.cover) continue;
      to.save();
      to.clip();
      to.strokeStyle = ink.cover;
      to.lineWidth = 1.5;
      const [cx, cy] = [view.x(feature.x_m), view.y(feature.y_m)];
      const span = (feature.half_length_m + feature.half_width_m) * view.scale;
      to.beginPath();
      for (let d = -span; d < span; d += 8) {
        to.moveTo(cx + d - span, cy + span);
        to.lineTo(cx + d + span, cy - span);
      }
      to.stroke();
      to.restore();
    }
    to.restore();
    to.font = "600 12px system-ui, sans-serif";
    to.textAlign = "center";
    for (const feature of water.features.filter((one) => one.cover)) {
      tag(to, ink, `${plain(feature.name)}, cover`, view.x(feature.x_m), Math.max(14, view.y(feature.y_m + feature.half_width_m * 0.4)));
    }
    // A measure of ten metres, or as many yards.
    const bar = (units === "metric" ? 10 : 9.144) * view.scale;
    to.strokeStyle = ink.ink;
    to.lineWidth = 2;
    to.beginPath();
    to.moveTo(10, height - 8);
    to.lineTo(10 + bar, height - 8);
    to.stroke();
    to.textAlign = "left";
    to.fillStyle = ink.ink;
    to.fillText(length(units === "metric" ? 10 : 9.144, units), 16 + bar, height - 5);
    to.textAlign = "right";
    to.fillText(`${depth(least / 100, units)} to ${depth(most / 100, units)} deep`, width - 10, height - 5);
    return ground;
  }

  /** Scent changes slowly: it is drawn anew only when a few seconds of the session have gone. */
  #drawScent(width, height, s, ink) {
    const view = this.#scale(width, height);
    this.#scent ??= new OffscreenCanvas(1, 1);
    const sheet = this.#scent;
    [sheet.width, sheet.height] = [Math.ceil(width / 2), Math.ceil(height / 2)];
    const to = sheet.getContext("2d");
    to.scale(0.5, 0.5);
    const [r, g, b] = mix(ink.scent, ink.scent, 0);
    for (const line of this.lines) {
      const { scent } = line;
      const rows = scent.releases;
      const [u, v] = scent.flow_m_s;
      for (let at = rows.length - 1, drawn = 0; at >= 0 && drawn < MOST_RELEASES; at -= 1) {
        // What bait gives off from one moment to another is drawn out along the way the water went meanwhile.
        const [from, until] = [rows[at][0] / 10, rows[at][1] / 10];
        if (from > s) continue;
        const lasts = Math.min(s, until) - from;
        const age = s - from - lasts;
        if (age > SCENT_S) break;
        drawn += 1;
        const share = until > from ? lasts / (until - from) : 1;
        const amount = share * rows[at][2] * 1e-8 * Math.exp(-scent.loss_per_s * (age + lasts / 2));
        const across = scent.start_m ** 2 + scent.diffusivity_m2_s * (2 * age + lasts);
        const along = across + (u * u + v * v) * lasts * lasts / 12;
        const strength = amount / (2 * Math.PI * Math.sqrt(along * across) * scent.layer_m) / scent.noticed_mol_m3;
        const alpha = Math.min(0.35, 0.14 * strength ** 0.6);
        if (alpha < 0.006) continue;
        const radius = 2.4 * Math.sqrt(across) * view.scale;
        const gone = age + lasts / 2;
        to.save();
        to.translate(view.x(line.x_m + u * gone), view.y(line.y_m + v * gone));
        // The picture has y downwards, away from the bank upwards.
        to.rotate(Math.atan2(view.y(v) - view.y(0), view.x(u) - view.x(0)));
        to.scale(Math.sqrt(along / across), 1);
        const fade = to.createRadialGradient(0, 0, 0, 0, 0, radius);
        fade.addColorStop(0, `rgba(${r},${g},${b},${alpha})`);
        fade.addColorStop(0.5, `rgba(${r},${g},${b},${alpha * 0.45})`);
        fade.addColorStop(1, `rgba(${r},${g},${b},0)`);
        to.fillStyle = fade;
        to.fillRect(-radius, -radius, 2 * radius, 2 * radius);
        to.restore();
      }
    }
    this.#smelt = s;
  }

  /** Where a fish is drawn; those at a line stand round it, so that each can be seen. */
  #spot(fish, s, view) {
    const [x, y, move] = this.tracks.place(fish, s);
    const here = [view.x(x), view.y(y), move];
    if (move[7] === FEEDING || move[7] === UP) {
      const ring = 7 + 2.6 * Math.sqrt(fish % 60) * 1.6;
      here[0] += Math.cos(fish * TURN) * ring;
      here[1] += Math.sin(fish * TURN) * ring * 0.8;
    }
    return here;
  }

  draw(canvas, s, units, chosen) {
    const [to, width, height] = fit(canvas);
    const ink = colours();
    const print = `${width}x${height}${ink.deep}${units}`;
    if (print !== this.#print) {
      this.#ground = this.#drawGround(width, height, ink, units);
      this.#print = print;
      this.#smelt = -1e9;
    }
    if (Math.abs(s - this.#smelt) > 6) this.#drawScent(width, height, s, ink);
    to.drawImage(this.#ground, 0, 0, width, height);
    to.drawImage(this.#scent, 0, 0, width, height);
    const view = this.#scale(width, height);
    const { tracks } = this;
    const [tackle, next] = tracks.tackle(s);
    this.lines.forEach((line, at) => this.#drawLine(to, view, ink, line, at, s, tackle));
    this.#drawRig(to, view, ink, tackle, next, s);
    for (let fish = 0; fish < tracks.film.fish.length; fish += 1) this.#drawFish(to, view, ink, fish, s, fish === chosen);
    for (const line of this.lines) this.#nameLine(to, view, ink, line, units);
    this.#drawNet(to, view, ink, s, units);
  }

  #drawLine(to, view, ink, line, at, s, tackle) {
    const [x, y] = [view.x(line.x_m), view.y(line.y_m)];
    const [pile, scatter, hanging] = this.tracks.lying(at, s);
    if (hanging > 0.05) {
      to.globalAlpha = Math.min(0.5, 0.08 + hanging / 40);
      to.fillStyle = ink.cloud;
      for (let n = 0; n < 26; n += 1) {
        const r = view.scale * 1.5 * Math.sqrt((n + 0.5) / 26);
        to.fillRect(x + Math.cos(n * TURN) * r - 1, y + Math.sin(n * TURN) * r - 1, 2.2, 2.2);
      }
      to.globalAlpha = 1;
    }
    to.fillStyle = ink.bait;
    const grains = Math.min(60, Math.round(Math.sqrt(scatter) * 4));
    for (let n = 0; n < grains; n += 1) {
      const r = view.scale * 0.9 * Math.sqrt((n + 0.5) / 60);
      to.fillRect(x + Math.cos(n * TURN + 1) * r - 0.8, y + Math.sin(n * TURN + 1) * r - 0.8, 1.6, 1.6);
    }
    if (pile > 0.05) disc(to, x, y, 1.5 + Math.sqrt(pile) * 0.6);
    for (const handful of this.tracks.falling(at, s)) {
      to.globalAlpha = 0.9;
      to.strokeStyle = ink.bait;
      to.lineWidth = 1.2;
      ring(to, x, y, 3 + handful.share * 12);
      to.globalAlpha = 1;
    }
    to.strokeStyle = ink.ink;
    to.lineWidth = tackle?.[2] === at && tackle[5] > 0 ? 2 : 1;
    to.setLineDash([4, 4]);
    ring(to, x, y, Math.max(14, view.scale * 2));
    to.setLineDash([]);
  }

  #nameLine(to, view, ink, line, units) {
    const [x, y] = [view.x(line.x_m), view.y(line.y_m)];
    to.font = "600 12px system-ui, sans-serif";
    const far = Math.hypot(line.x_m, line.y_m);
    const words = `${plain(line.name)} ${length(far, units)}`;
    const edge = Math.max(14, view.scale * 2) + 20 + to.measureText(words).width;
    const room = x + edge > to.canvas.clientWidth ? -1 : 1;
    to.textAlign = room > 0 ? "left" : "right";
    tag(to, ink, words, x + room * (Math.max(14, view.scale * 2) + 8), y + 4);
  }

  #drawRig(to, view, ink, tackle, next, s) {
    const [px, py] = [view.x(0), view.y(0)];
    to.fillStyle = ink.ink;
    to.beginPath();
    to.moveTo(px - 8, py + 16);
    to.lineTo(px + 8, py + 16);
    to.lineTo(px, py + 2);
    to.fill();
    if (!tackle || tackle[5] === 0) return;
    let [x, y] = [tackle[3] / 100, tackle[4] / 100];
    if (tackle[5] === 3 && next) {
      const share = Math.min(1, (s * 10 - tackle[0]) / Math.max(1, next[0] - tackle[0]));
      [x, y] = [x * (1 - share), y * (1 - share)];
    }
    to.strokeStyle = ink.line;
    to.lineWidth = 1.2;
    to.beginPath();
    to.moveTo(px, py);
    to.lineTo(view.x(x), view.y(y));
    to.stroke();
    to.fillStyle = ink.feeder;
    to.fillRect(view.x(x) - 4, view.y(y) - 4, 8, 8);
    if (tackle[5] === 1) {
      to.strokeStyle = ink.feeder;
      ring(to, view.x(x), view.y(y), 5 + ((s * 10 - tackle[0]) % 20));
    }
    if (tackle[5] === 2 && (tackle[6] === 1 || tackle[6] === 2)) {
      to.fillStyle = ink.hookbait;
      disc(to, view.x(x), view.y(y) - 1, 3);
    }
  }

  #drawFish(to, view, ink, fish, s, chosen) {
    const [x, y, move] = this.#spot(fish, s, view);
    const state = move[7];
    if (state === KEPT) return;
    const size = Math.max(3, this.tracks.film.fish[fish][2] * 0.01 * view.scale * 0.62 + 1.6);
    const angle = move[6] > move[0] && state !== FEEDING && state !== UP
      ? Math.atan2(-(move[5] - move[3]), move[4] - move[2]) : fish * TURN + Math.PI;
    const [fill, edge] = {
      [APPROACHING]: [ink["fish-coming"], ink.ink], [FEEDING]: [ink["fish-feeding"], ink.ink], [UP]: [ink["fish-up"], ink.ink],
      [FLED]: [null, ink["fish-fled"]], [HOOKED]: [ink["fish-hooked"], ink.ink], [RESTING]: [null, ink["fish-roaming"]],
    }[state] ?? [ink["fish-roaming"], null];
    to.save();
    to.translate(x, y);
    to.rotate(state === HOOKED ? Math.atan2(view.y(0) - y, view.x(0) - x) : angle);
    to.beginPath();
    to.ellipse(0, 0, size, size * 0.45, 0, 0, 7);
    to.moveTo(-size * 0.8, 0);
    to.lineTo(-size * 1.5, size * 0.45);
    to.lineTo(-size * 1.5, -size * 0.45);
    to.closePath();
    if (fill) {
      to.fillStyle = fill;
      to.fill();
    }
    if (edge) {
      to.strokeStyle = edge;
      to.lineWidth = fill ? 0.8 : 1.6;
      to.stroke();
    }
    to.restore();
    if (state === UP) {
      to.strokeStyle = ink["fish-up"];
      to.lineWidth = 1.2;
      ring(to, x, y, size + 3);
    }
    if (chosen) {
      to.strokeStyle = ink.ink;
      to.lineWidth = 2.5;
      ring(to, x, y, size + 7);
    }
  }

  #drawNet(to, view, ink, s, units) {
    const [kg, fish] = this.tracks.net(s);
    to.font = "700 14px system-ui, sans-serif";
    to.textAlign = "left";
    tag(to, ink, `${clock(s)} · ${weight(kg, units)}, ${fish} fish`, 10, 20);
    const at = last(this.tracks.caught, s * 10);
    if (at < 0) return;
    const age = s - this.tracks.caught[at][0] / 10;
    if (age > 45) return;
    const grams = this.tracks.film.catches[at][2];
    to.textAlign = "center";
    to.globalAlpha = 1 - age / 50;
    tag(to, ink, `+ ${weight(grams / 1000, units)}`, view.x(0), view.y(0) - 12 - age * 0.4);
    to.globalAlpha = 1;
  }

  /** The fish nearest to a point of the canvas, if one is close. */
  pick(canvas, px, py, s) {
    const view = this.#scale(canvas.clientWidth, canvas.clientHeight);
    let [best, nearest] = [null, 24];
    for (let fish = 0; fish < this.tracks.film.fish.length; fish += 1) {
      const [x, y, move] = this.#spot(fish, s, view);
      const far = Math.hypot(px - x, py - y);
      if (move[7] !== KEPT && far < nearest) [best, nearest] = [fish, far];
    }
    return best;
  }
}
