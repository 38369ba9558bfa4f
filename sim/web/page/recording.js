//! The recording of one session, looked up by time: fish and their reasons, rig, bait and events.

import { readable } from "./units.js";

export const STATES = ["roaming", "on the way", "feeding", "up in the water", "fleeing", "hooked", "in the net", "resting", "out of reach"];
export const [ROAMING, APPROACHING, FEEDING, UP, FLED, HOOKED, KEPT, RESTING, AWAY] = STATES.keys();

const HAND_ACTIVITIES = ["casting", "waiting", "playing a fish", "unhooking and loading", "loose feeding", "changing over"];

/** Index of the last row at or before time `t`, −1 if there is none. The first item of each row is its time. */
export function lastIndex(rows, t) {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle][0] <= t) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** A recording with its rows grouped by fish. Methods take times in seconds; rows hold tenths of a second. */
export class Recording {
  constructor(film) {
    this.film = film;
    this.moves = film.fish.map(() => []);
    for (const move of film.moves) this.moves[move[1]].push(move);
    let sum = 0;
    this.caught = film.catches.map(([t, fish, g]) => [t, (sum += g), fish]);
  }

  /** The current move of a fish. */
  move(fish, s) {
    const rows = this.moves[fish];
    return rows[Math.max(0, lastIndex(rows, s * 10))];
  }

  /** Position of a fish [m], and its current move. */
  position(fish, s) {
    const move = this.move(fish, s);
    const [start, , x, y, toX, toY, end] = move;
    if (move[7] === HOOKED) {
      // A hooked fish moves to the bank while it is played.
      const next = this.moves[fish][this.moves[fish].indexOf(move) + 1];
      const share = Math.min(1, (s * 10 - start) / Math.max(1, (next?.[0] ?? start + 900) - start));
      return [(x / 100) * (1 - share), (y / 100) * (1 - share), move];
    }
    const share = end > start ? Math.min(1, Math.max(0, (s * 10 - start) / (end - start))) : 1;
    return [(x + (toX - x) * share) / 100, (y + (toY - y) * share) / 100, move];
  }

  /** The current row of the tackle, and the next one. */
  tackle(s) {
    const index = lastIndex(this.film.tackle, s * 10);
    return [this.film.tackle[Math.max(0, index)], this.film.tackle[index + 1]];
  }

  /** What the angler is doing, in words. */
  handActivity(s) {
    return HAND_ACTIVITIES[this.tackle(s)[0]?.[7] ?? 5];
  }

  /** Bait at a line [g]: in the pile, scattered, hanging in the water. */
  bait(line, s) {
    const { lying, cloud_loss_per_s: loss } = this.film.lines[line];
    const row = lying[lastIndex(lying, s * 10)];
    if (!row) return [0, 0, 0];
    const age = s - row[0] / 10;
    return [row[1] / 10, row[2] / 10, (row[3] / 10) * Math.exp(-loss * age)];
  }

  /** Weight [kg] and number of fish in the net. */
  net(s) {
    const index = lastIndex(this.caught, s * 10);
    return [index < 0 ? 0 : this.caught[index][1] / 1000, index + 1];
  }

  /** Handfuls of loose feed that are still falling at a line. */
  falling(line, s) {
    const rows = this.film.handfuls;
    const falling = [];
    for (let index = lastIndex(rows, s * 10); index >= 0 && falling.length < 12; index -= 1) {
      const [t, lineBelow, grams, duration] = rows[index];
      if (s * 10 - t > 3000) break;
      if (lineBelow === line && s * 10 < t + duration) falling.push({ share: (s * 10 - t) / duration, grams, id: index });
    }
    return falling;
  }

  /** Number of logged events up to time `s`. */
  eventCount(s) {
    return lastIndex(this.film.events, s * 10) + 1;
  }

  /** Time of the next logged event after `s`, or of the previous one. */
  step(s, forward) {
    const events = this.film.events;
    const current = lastIndex(events, s * 10);
    if (forward) return events[current + 1] ? events[current + 1][0] / 10 : this.film.session_s;
    let previous = current;
    while (previous >= 0 && events[previous][0] >= s * 10 - 0.5) previous -= 1;
    return previous < 0 ? 0 : events[previous][0] / 10;
  }

  /** What a fish is doing and why, in words. */
  describe(move) {
    const [, , , , , , , state, line, why, chance] = move;
    const place = line >= 0 ? readable(this.film.lines[line].name) : "";
    if (state === APPROACHING) {
      return { 1: `smells the bait on ${place} (chance per look: ${chance}\u00a0%) and turns towards it`,
        2: `sees others feeding on ${place} (chance per look: ${chance}\u00a0%) and joins them`,
        3: `hears the feeder's splash and turns towards ${place}`,
        4: `hears loose feed and turns towards ${place}` }[why] ?? `turns towards ${place}`;
    }
    if (state === FEEDING) return `feeds on the bottom on ${place}`;
    if (state === UP) return `rises over ${place} to take falling feed`;
    if (state === FLED) {
      return { 3: "flees from the feeder's splash", 4: "flees from loose feed hitting the water",
        5: "flees from a hooked fish close by", 6: "flees from the hook" }[why] ?? "flees";
    }
    if (state === HOOKED) return "is hooked";
    if (state === KEPT) return "is netted";
    if (state === RESTING) return "is returned to the water and rests";
    if (state === AWAY) return "swims on along the lake, out of reach";
    return { 7: "gives up: it finds less food here than it expects elsewhere", 8: "is full and leaves", 9: "is startled and leaves" }[why] ?? "roams its home range";
  }

  /** What a fish has done up to time `s`, newest first, at most `max` lines; repeated lines are merged. */
  story(fish, s, max) {
    const rows = this.moves[fish];
    const lines = [];
    for (let index = lastIndex(rows, s * 10); index >= 0 && lines.length < max; index -= 1) {
      const text = this.describe(rows[index]);
      if (lines.at(-1)?.[1] === text) lines.at(-1)[0] = rows[index][0] / 10;
      else lines.push([rows[index][0] / 10, text]);
    }
    return lines;
  }
}
