//! One day of one plan, looked up by time: where each fish is and why, the rig, the bait, what was said.

import { plain } from "./measures.js";

export const STATES = ["roaming", "on the way", "feeding", "up in the water", "fled", "hooked", "in the net", "resting"];
export const [ROAMING, APPROACHING, FEEDING, UP, FLED, HOOKED, KEPT, RESTING] = STATES.keys();

const HANDS = ["casting", "waiting", "playing a fish", "unhooking and loading", "loose feeding", "changing over"];

/** Place of the last row that is not later than `t`; −1 where all are. Rows begin with their time. */
export function last(rows, t) {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle][0] <= t) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** A film with its rows sorted by fish; times here are in seconds. */
export class Tracks {
  constructor(film) {
    this.film = film;
    this.moves = film.fish.map(() => []);
    for (const move of film.moves) this.moves[move[1]].push(move);
    let sum = 0;
    this.caught = film.catches.map(([t, fish, g]) => [t, (sum += g), fish]);
    this.hookedAt = new Map();
  }

  /** The move a fish is on. */
  move(fish, s) {
    const rows = this.moves[fish];
    return rows[Math.max(0, last(rows, s * 10))];
  }

  /** Where a fish is [m], and its move. */
  place(fish, s) {
    const move = this.move(fish, s);
    const [begins, , x, y, toX, toY, ends] = move;
    if (move[7] === HOOKED) {
      // It is led to the bank while it is played.
      const next = this.moves[fish][this.moves[fish].indexOf(move) + 1];
      const share = Math.min(1, (s * 10 - begins) / Math.max(1, (next?.[0] ?? begins + 900) - begins));
      return [(x / 100) * (1 - share), (y / 100) * (1 - share), move];
    }
    const share = ends > begins ? Math.min(1, Math.max(0, (s * 10 - begins) / (ends - begins))) : 1;
    return [(x + (toX - x) * share) / 100, (y + (toY - y) * share) / 100, move];
  }

  tackle(s) {
    const at = last(this.film.tackle, s * 10);
    return [this.film.tackle[Math.max(0, at)], this.film.tackle[at + 1]];
  }

  hands(s) {
    return HANDS[this.tackle(s)[0]?.[7] ?? 5];
  }

  /** Bait at a line now [g]: in the pile, scattered, hanging. */
  lying(line, s) {
    const { lying, cloud_loss_per_s: loss } = this.film.lines[line];
    const row = lying[last(lying, s * 10)];
    if (!row) return [0, 0, 0];
    const age = s - row[0] / 10;
    return [row[1] / 10, row[2] / 10, (row[3] / 10) * Math.exp(-loss * age)];
  }

  /** Weight in the net [kg] and fish in it. */
  net(s) {
    const at = last(this.caught, s * 10);
    return [at < 0 ? 0 : this.caught[at][1] / 1000, at + 1];
  }

  /** Handfuls still falling over a line. */
  falling(line, s) {
    const rows = this.film.handfuls;
    const found = [];
    for (let at = last(rows, s * 10); at >= 0 && found.length < 12; at -= 1) {
      const [t, over, grams, fall] = rows[at];
      if (s * 10 - t > 3000) break;
      if (over === line && s * 10 < t + fall) found.push({ share: (s * 10 - t) / fall, grams, id: at });
    }
    return found;
  }

  /** Times of what is told [s], and the rows told by `s`. */
  toldBy(s) {
    return last(this.film.told, s * 10) + 1;
  }

  /** The time of the next thing told after `s`, or of the one before. */
  step(s, forward) {
    const { told } = this.film;
    const at = last(told, s * 10);
    if (forward) return told[at + 1] ? told[at + 1][0] / 10 : this.film.session_s;
    let back = at;
    while (back >= 0 && told[back][0] >= s * 10 - 0.5) back -= 1;
    return back < 0 ? 0 : told[back][0] / 10;
  }

  /** What a fish does and why, in words. */
  words(move) {
    const [, , , , , , , state, line, why, chance] = move;
    const place = line >= 0 ? plain(this.film.lines[line].name) : "";
    if (state === APPROACHING) {
      return { 1: `smells the bait on ${place} (chance of that in a look: ${chance} %) and turns to it`,
        2: `sees others feeding on ${place} (chance of that in a look: ${chance} %) and joins them`,
        3: `hears the feeder's splash and turns to ${place}`,
        4: `hears loose feed and turns to ${place}` }[why] ?? `turns to ${place}`;
    }
    if (state === FEEDING) return `feeds on the bed on ${place}`;
    if (state === UP) return `comes up in the water over ${place} for falling feed`;
    if (state === FLED) {
      return { 3: "flees from the feeder's splash", 4: "flees from loose feed hitting the water",
        5: "flees from a fight close by", 6: "flees from the hook" }[why] ?? "flees";
    }
    if (state === HOOKED) return "is hooked";
    if (state === KEPT) return "is netted";
    if (state === RESTING) return "is returned, and rests";
    return { 7: "gives up: it finds less here than it expects elsewhere", 8: "is full, and goes", 9: "leaves, startled" }[why] ?? "roams its home range";
  }

  /** What a fish has done by `s`, newest first; plain roaming is told once. */
  story(fish, s, most) {
    const rows = this.moves[fish];
    const lines = [];
    for (let at = last(rows, s * 10); at >= 0 && lines.length < most; at -= 1) {
      const words = this.words(rows[at]);
      if (lines.at(-1)?.[1] === words) lines.at(-1)[0] = rows[at][0] / 10;
      else lines.push([rows[at][0] / 10, words]);
    }
    return lines;
  }
}
