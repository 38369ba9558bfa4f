//! Draws the swim from above, to scale.

import { clock, depth, length, readable, weight } from "./units.js";
import { colours, disc, fit, Labels, pixelRatio, ring, tag, TURN, zoom } from "./canvas.js";
import { APPROACHING, AWAY, FEEDING, FLED, HOOKED, KEPT, lastIndex, RESTING, UP } from "./recording.js";

/** Maximum age of scent that is drawn [s]. */
const MAX_SCENT_AGE_S = 1500;
/** Maximum number of scent releases drawn for one line. */
const MAX_RELEASES = 70;

/** A mixture of two colours `#rrggbb`, as red, green and blue. */
function mix(a, b, share) {
  const channels = (c) => [1, 3, 5].map((i) => parseInt(c.slice(i, i + 2), 16));
  const [from, to] = [channels(a), channels(b)];
  return from.map((n, i) => Math.round(n + (to[i] - n) * share));
}

/** A moving picture of one recording from above. The background is drawn once. */
export class SwimView {
  #background = null;
  #scent = null;
  #backgroundKey = "";
  #scentTime = -1e9;

  constructor(recording) {
    this.recording = recording;
    const { lines, water } = recording.film;
    this.width = water.width_m;
    this.length = water.length_m;
    this.lines = lines;
  }

  #scale(width, height) {
    const bank = 26;
    const scale = Math.max(0, Math.min(width / this.width, (height - bank) / this.length));
    return { scale, bank, x: (m) => width / 2 + m * scale, y: (m) => height - bank - m * scale };
  }

  #drawBackground(width, height, colour, units) {
    const { water } = this.recording.film;
    const view = this.#scale(width, height);
    const ratio = pixelRatio();
    const background = new OffscreenCanvas(Math.round(width * ratio), Math.round(height * ratio));
    const context = background.getContext("2d");
    context.scale(ratio, ratio);
    context.fillStyle = colour.card;
    context.fillRect(0, 0, width, height);
    context.fillStyle = colour.bank;
    context.fillRect(0, view.y(0), width, height);
    const depths = water.depths_cm;
    const [min, max] = [Math.min(...depths), Math.max(...depths)];
    const picture = new OffscreenCanvas(water.columns, water.rows);
    const cells = picture.getContext("2d");
    const image = cells.createImageData(water.columns, water.rows);
    depths.forEach((cm, cell) => {
      const row = water.rows - 1 - Math.floor(cell / water.columns);
      const band = max > min ? Math.round(((cm - min) / (max - min)) * 7) / 7 : 0.5;
      const offset = 4 * (row * water.columns + (cell % water.columns));
      image.data.set([...mix(colour.shallow, colour.deep, band), 255], offset);
    });
    cells.putImageData(image, 0, 0);
    const [left, top] = [view.x(-this.width / 2), view.y(this.length)];
    context.imageSmoothingEnabled = true;
    context.save();
    context.beginPath();
    context.rect(left, top, this.width * view.scale, this.length * view.scale);
    context.clip();
    context.drawImage(picture, left, view.y(water.rows * water.cell_m), water.columns * water.cell_m * view.scale, water.rows * water.cell_m * view.scale);
    for (const feature of water.features) {
      context.beginPath();
      context.ellipse(view.x(feature.x_m), view.y(feature.y_m), feature.half_length_m * view.scale, feature.half_width_m * view.scale, 0, 0, 7);
      context.strokeStyle = colour.edge;
      context.setLineDash([3, 3]);
      context.stroke();
      context.setLineDash([]);
      if (!feature.cover) continue;
      context.save();
      context.clip();
      context.strokeStyle = colour.cover;
      context.lineWidth = 1.5;
      const [cx, cy] = [view.x(feature.x_m), view.y(feature.y_m)];
      const span = (feature.half_length_m + feature.half_width_m) * view.scale;
      context.beginPath();
      for (let d = -span; d < span; d += 8) {
        context.moveTo(cx + d - span, cy + span);
        context.lineTo(cx + d + span, cy - span);
      }
      context.stroke();
      context.restore();
    }
    context.restore();
    context.font = "600 12px system-ui, sans-serif";
    // A scale bar of ten metres or ten yards.
    const bar = (units === "metric" ? 10 : 9.144) * view.scale;
    context.strokeStyle = colour.ink;
    context.lineWidth = 2;
    context.beginPath();
    context.moveTo(10, height - 8);
    context.lineTo(10 + bar, height - 8);
    context.stroke();
    context.textAlign = "left";
    context.fillStyle = colour.ink;
    context.fillText(length(units === "metric" ? 10 : 9.144, units), 16 + bar, height - 5);
    context.textAlign = "right";
    context.fillText(`${depth(min / 100, units)} to ${depth(max / 100, units)} deep`, width - 10, height - 5);
    return background;
  }

  /** Draws the scent. It changes slowly, so this is done only once every few seconds of the session. */
  #drawScent(width, height, s, colour) {
    const view = this.#scale(width, height);
    this.#scent ??= new OffscreenCanvas(1, 1);
    const layer = this.#scent;
    [layer.width, layer.height] = [Math.ceil(width / 2), Math.ceil(height / 2)];
    const context = layer.getContext("2d");
    context.scale(0.5, 0.5);
    const [r, g, b] = mix(colour.scent, colour.scent, 0);
    for (const line of this.lines) {
      const { scent } = line;
      const rows = scent.releases;
      const [u, v] = scent.flow_m_s;
      for (let index = rows.length - 1, drawn = 0; index >= 0 && drawn < MAX_RELEASES; index -= 1) {
        // Scent released during an interval is stretched along the way that the water flowed in that time.
        const [from, until] = [rows[index][0] / 10, rows[index][1] / 10];
        if (from > s) continue;
        const duration = Math.min(s, until) - from;
        const age = s - from - duration;
        if (age > MAX_SCENT_AGE_S) break;
        drawn += 1;
        const share = until > from ? duration / (until - from) : 1;
        const amount = share * rows[index][2] * 1e-8 * Math.exp(-scent.loss_per_s * (age + duration / 2));
        const across = scent.start_m ** 2 + scent.diffusivity_m2_s * (2 * age + duration);
        const along = across + (u * u + v * v) * duration * duration / 12;
        const strength = amount / (2 * Math.PI * Math.sqrt(along * across) * scent.layer_m) / scent.noticed_mol_m3;
        const alpha = Math.min(0.35, 0.14 * strength ** 0.6);
        if (alpha < 0.006) continue;
        const radius = 2.4 * Math.sqrt(across) * view.scale;
        const drift = age + duration / 2;
        context.save();
        context.translate(view.x(line.x_m + u * drift), view.y(line.y_m + v * drift));
        // In the picture y points down; in the model it points away from the bank.
        context.rotate(Math.atan2(view.y(v) - view.y(0), view.x(u) - view.x(0)));
        context.scale(Math.sqrt(along / across), 1);
        const fade = context.createRadialGradient(0, 0, 0, 0, 0, radius);
        fade.addColorStop(0, `rgba(${r},${g},${b},${alpha})`);
        fade.addColorStop(0.5, `rgba(${r},${g},${b},${alpha * 0.45})`);
        fade.addColorStop(1, `rgba(${r},${g},${b},0)`);
        context.fillStyle = fade;
        context.fillRect(-radius, -radius, 2 * radius, 2 * radius);
        context.restore();
      }
    }
    this.#scentTime = s;
  }

  /** Where a fish is drawn, and its move. Fish at a line are drawn around it, so that each can be seen. */
  #screenPosition(fish, s, view) {
    const [x, y, move] = this.recording.position(fish, s);
    const point = [view.x(x), view.y(y), move];
    if (move[7] === FEEDING || move[7] === UP) {
      const ring = 7 + 2.6 * Math.sqrt(fish % 60) * 1.6;
      point[0] += Math.cos(fish * TURN) * ring;
      point[1] += Math.sin(fish * TURN) * ring * 0.8;
    }
    return point;
  }

  draw(canvas, s, units, selected) {
    const [context, width, height] = fit(canvas);
    if (canvas.width < 1 || canvas.height < 1) return;
    const colour = colours();
    const key = `${width}x${height}x${pixelRatio()}${colour.deep}${units}`;
    if (key !== this.#backgroundKey) {
      this.#background = this.#drawBackground(width, height, colour, units);
      this.#backgroundKey = key;
      this.#scentTime = -1e9;
    }
    if (Math.abs(s - this.#scentTime) > 6) this.#drawScent(width, height, s, colour);
    context.drawImage(this.#background, 0, 0, width, height);
    context.drawImage(this.#scent, 0, 0, width, height);
    const view = this.#scale(width, height);
    const { recording } = this;
    const [tackle, next] = recording.tackle(s);
    this.lines.forEach((line, index) => this.#drawLine(context, view, colour, line, index, s, tackle));
    this.#drawRig(context, view, colour, tackle, next, s);
    for (let fish = 0; fish < recording.film.fish.length; fish += 1) this.#drawFish(context, view, colour, fish, s, fish === selected);
    this.#drawNames(context, view, colour, units, width, height);
    this.#drawNet(context, view, colour, s, units);
  }

  #drawLine(context, view, colour, line, index, s, tackle) {
    const [x, y] = [view.x(line.x_m), view.y(line.y_m)];
    const [pile, scatter, hanging] = this.recording.bait(index, s);
    if (hanging > 0.05) {
      context.globalAlpha = Math.min(0.5, 0.08 + hanging / 40);
      context.fillStyle = colour.cloud;
      for (let n = 0; n < 26; n += 1) {
        const r = view.scale * 1.5 * Math.sqrt((n + 0.5) / 26);
        context.fillRect(x + Math.cos(n * TURN) * r - 1, y + Math.sin(n * TURN) * r - 1, 2.2, 2.2);
      }
      context.globalAlpha = 1;
    }
    context.fillStyle = colour.bait;
    const grains = Math.min(60, Math.round(Math.sqrt(scatter) * 4));
    for (let n = 0; n < grains; n += 1) {
      const r = view.scale * 0.9 * Math.sqrt((n + 0.5) / 60);
      context.fillRect(x + Math.cos(n * TURN + 1) * r - 0.8, y + Math.sin(n * TURN + 1) * r - 0.8, 1.6, 1.6);
    }
    if (pile > 0.05) disc(context, x, y, 1.5 + Math.sqrt(pile) * 0.6);
    for (const handful of this.recording.falling(index, s)) {
      context.globalAlpha = 0.9;
      context.strokeStyle = colour.bait;
      context.lineWidth = 1.2;
      ring(context, x, y, 3 + handful.share * 12);
      context.globalAlpha = 1;
    }
    context.strokeStyle = colour.ink;
    context.lineWidth = tackle?.[2] === index && tackle[5] > 0 ? 2 : 1;
    context.setLineDash([4, 4]);
    ring(context, x, y, Math.max(14, view.scale * 2));
    context.setLineDash([]);
  }

  /** Names the lines, then the cover, each where it hides no other name. */
  #drawNames(context, view, colour, units, width, height) {
    const labels = new Labels(width, height);
    context.font = "700 14px system-ui, sans-serif";
    labels.keepFree(0, 0, context.measureText("0:00:00 · 000 lb 00 oz, 000 fish").width + 20, 28);
    labels.keepFree(0, height - 20, width, 20);
    context.font = "600 12px system-ui, sans-serif";
    const reach = Math.max(14, view.scale * 2) + 8;
    for (const line of this.lines) {
      const [x, y] = [view.x(line.x_m), view.y(line.y_m)];
      labels.put(context, colour, `${readable(line.name)} ${length(Math.hypot(line.x_m, line.y_m), units)}`,
        [["left", x + reach, y + 4], ["right", x - reach, y + 4], ["center", x, y - reach], ["center", x, y + reach + 10]]);
    }
    for (const feature of this.recording.film.water.features.filter(({ cover }) => cover)) {
      const [x, y] = [view.x(feature.x_m), view.y(feature.y_m)];
      const [across, out] = [feature.half_length_m * view.scale + 8, feature.half_width_m * view.scale];
      labels.put(context, colour, `${readable(feature.name)}, cover`, [["center", x, y - out - 10], ["right", x - across, y + 4],
        ["left", x + across, y + 4], ["center", x, y + out + 18], ["center", x, y - out - 30], ["center", x, y - out - 50]]);
    }
  }

  #drawRig(context, view, colour, tackle, next, s) {
    const [px, py] = [view.x(0), view.y(0)];
    context.fillStyle = colour.ink;
    context.beginPath();
    context.moveTo(px - 8, py + 16);
    context.lineTo(px + 8, py + 16);
    context.lineTo(px, py + 2);
    context.fill();
    if (!tackle || tackle[5] === 0) return;
    let [x, y] = [tackle[3] / 100, tackle[4] / 100];
    if (tackle[5] === 3 && next) {
      const share = Math.min(1, (s * 10 - tackle[0]) / Math.max(1, next[0] - tackle[0]));
      [x, y] = [x * (1 - share), y * (1 - share)];
    }
    context.strokeStyle = colour.line;
    context.lineWidth = 1.2;
    context.beginPath();
    context.moveTo(px, py);
    context.lineTo(view.x(x), view.y(y));
    context.stroke();
    context.fillStyle = colour.feeder;
    context.fillRect(view.x(x) - 4, view.y(y) - 4, 8, 8);
    if (tackle[5] === 1) {
      context.strokeStyle = colour.feeder;
      ring(context, view.x(x), view.y(y), 5 + ((s * 10 - tackle[0]) % 20));
    }
    if (tackle[5] === 2 && (tackle[6] === 1 || tackle[6] === 2)) {
      context.fillStyle = colour.hookbait;
      disc(context, view.x(x), view.y(y) - 1, 3);
    }
  }

  #drawFish(context, view, colour, fish, s, isSelected) {
    const [x, y, move] = this.#screenPosition(fish, s, view);
    const state = move[7];
    if (state === KEPT || state === AWAY) return;
    const size = Math.max(3, this.recording.film.fish[fish][2] * 0.01 * view.scale * 0.62 + 1.6);
    const angle = move[6] > move[0] && state !== FEEDING && state !== UP
      ? Math.atan2(-(move[5] - move[3]), move[4] - move[2]) : fish * TURN + Math.PI;
    const [fill, edge] = {
      [APPROACHING]: [colour["fish-coming"], colour.ink], [FEEDING]: [colour["fish-feeding"], colour.ink], [UP]: [colour["fish-up"], colour.ink],
      [FLED]: [null, colour["fish-fled"]], [HOOKED]: [colour["fish-hooked"], colour.ink], [RESTING]: [null, colour["fish-roaming"]],
    }[state] ?? [colour["fish-roaming"], null];
    context.save();
    context.translate(x, y);
    context.rotate(state === HOOKED ? Math.atan2(view.y(0) - y, view.x(0) - x) : angle);
    context.beginPath();
    context.ellipse(0, 0, size, size * 0.45, 0, 0, 7);
    context.moveTo(-size * 0.8, 0);
    context.lineTo(-size * 1.5, size * 0.45);
    context.lineTo(-size * 1.5, -size * 0.45);
    context.closePath();
    if (fill) {
      context.fillStyle = fill;
      context.fill();
    }
    if (edge) {
      context.strokeStyle = edge;
      context.lineWidth = fill ? 0.8 : 1.6;
      context.stroke();
    }
    context.restore();
    if (state === UP) {
      context.strokeStyle = colour["fish-up"];
      context.lineWidth = 1.2;
      ring(context, x, y, size + 3);
    }
    if (isSelected) {
      context.strokeStyle = colour.ink;
      context.lineWidth = 2.5;
      ring(context, x, y, size + 7);
    }
  }

  #drawNet(context, view, colour, s, units) {
    const [kg, fish] = this.recording.net(s);
    context.font = "700 14px system-ui, sans-serif";
    context.textAlign = "left";
    tag(context, colour, `${clock(s)} · ${weight(kg, units)}, ${fish} fish`, 10, 20);
    const index = lastIndex(this.recording.caught, s * 10);
    if (index < 0) return;
    const age = s - this.recording.caught[index][0] / 10;
    if (age > 45) return;
    const grams = this.recording.film.catches[index][2];
    context.textAlign = "center";
    context.globalAlpha = 1 - age / 50;
    tag(context, colour, `+ ${weight(grams / 1000, units)}`, view.x(0), view.y(0) - 12 - age * 0.4);
    context.globalAlpha = 1;
  }

  /** Index of the fish nearest to a point of the canvas; `null` if none is close. */
  pick(canvas, px, py, s) {
    const view = this.#scale(canvas.clientWidth / zoom(), canvas.clientHeight / zoom());
    let [nearest, minDistance] = [null, 24];
    for (let fish = 0; fish < this.recording.film.fish.length; fish += 1) {
      const [x, y, move] = this.#screenPosition(fish, s, view);
      const distance = Math.hypot(px / zoom() - x, py / zoom() - y);
      if (move[7] !== KEPT && move[7] !== AWAY && distance < minDistance) [nearest, minDistance] = [fish, distance];
    }
    return nearest;
  }
}
