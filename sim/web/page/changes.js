//! What changed: which settings were moved, from what to what, and what that did to the expected weight.

import { el, sentence } from "./elements.js";
import { setting, weight } from "./units.js";

/** With fewer days it is too early to say what a change did. */
export const ENOUGH_DAYS = 50;

/** Half the width of a 95 % interval, in standard errors, from `n` paired days. */
const sure95 = (n) => 1.96 + 2.4 / (n - 1);

/** The mean difference of two settings on the same days [kg], with its 95 % interval; `null` with too few days. */
export function pairedDifference(before_g, now_g) {
  const days = Math.min(before_g.length, now_g.length);
  if (days < 2) return null;
  const differences = Array.from({ length: days }, (_, day) => (now_g[day] - before_g[day]) / 1000);
  const mean = differences.reduce((sum, kg) => sum + kg, 0) / days;
  const variance = differences.reduce((sum, kg) => sum + (kg - mean) ** 2, 0) / (days - 1);
  const half = sure95(days) * Math.sqrt(variance / days);
  return { days, mean, low: mean - half, high: mean + half };
}

const mean_kg = (weights_g, days) => weights_g.slice(0, days).reduce((sum, g) => sum + g, 0) / days / 1000;

/** The line that says what changed; results of the settings before the change are kept for it. */
export class WhatChanged {
  /** Results before the change, and the request that gave them. */
  #before = null;
  #now = null;
  /** The settings that moved since, by key: plan, name, from and to. */
  #moves = new Map();

  constructor() {
    this.node = el("div", { class: "what-changed", "data-testid": "changed", hidden: true });
  }

  /** A control is moved from one choice to another. */
  moved(control, from, to) {
    const isNew = !this.#moves.has(control.key);
    if (!this.#before || (isNew && this.#now?.results.days >= ENOUGH_DAYS)) {
      this.#before = this.#now;
      this.#moves.clear();
    }
    const first = this.#moves.get(control.key)?.from ?? from;
    this.#moves.delete(control.key);
    if (first !== to) this.#moves.set(control.key, { plan: control.plan, name: control.name, from: first, to });
    this.#now = null;
  }

  /** Results came for the settings as they are now. */
  shown(results, request, units) {
    this.#now = { results, request };
    this.#draw(units);
  }

  /** Results came for the settings before the change. */
  shownBefore(results, units) {
    if (this.#before) this.#before.results = results;
    this.#draw(units);
  }

  /** The request whose days are missing for a statement about the change; `null` if none are. */
  missing() {
    if (!this.#before || !this.#moves.size || !this.#now) return null;
    const wanted = Math.min(ENOUGH_DAYS, this.#now.results.of);
    return this.#before.results.days < wanted ? this.#before.request : null;
  }

  /** Forgets everything: other plans, other days or another water are shown. */
  forget() {
    [this.#before, this.#now] = [null, null];
    this.#moves.clear();
    this.node.hidden = true;
  }

  #draw(units) {
    const moves = [...this.#moves.values()];
    this.node.hidden = !moves.length || !this.#before;
    if (this.node.hidden) return;
    const moved = moves.map(({ plan, name, from, to }) => `${plan ? `${plan}, ` : ""}${name}: ${setting(from, units)} → ${setting(to, units)}`);
    this.node.replaceChildren(el("p", {}, el("b", {}, "Changed: "), sentence(`${moved.join("; ")}.`)), ...this.#effects(moves, units).map((words) => el("p", {}, sentence(words))));
  }

  /** What the change did to each plan that it concerns. */
  #effects(moves, units) {
    if (!this.#now) return [];
    const of = ({ results }, plan) => results.weights_g[results.comparison.plans.findIndex(({ name }) => name === plan)];
    const all = this.#now.results.comparison.plans.map(({ name }) => name);
    const concerned = moves.some(({ plan }) => plan === null) ? all : all.filter((name) => moves.some(({ plan }) => plan === name));
    return concerned.map((plan) => {
      const [before, now] = [of(this.#before, plan), of(this.#now, plan)];
      if (!before || !now) return `${plan} was not fished before the change.`;
      return effect(plan, before, now, units);
    });
  }
}

/** What a change did to the expected weight of one plan, in words; nothing before there are enough days. */
export function effect(plan, before_g, now_g, units) {
  const difference = pairedDifference(before_g, now_g);
  if (!difference || difference.days < ENOUGH_DAYS) {
    const days = Math.min(before_g.length, now_g.length);
    return `${plan}: too early to say what it did (${days} ${days === 1 ? "day" : "days"} so far).`;
  }
  const { days, mean, low, high } = difference;
  const signed = (kg) => `${kg > 0 ? "+" : ""}${weight(kg, units)}`;
  const [from, to] = [before_g, now_g].map((weights_g) => weight(mean_kg(weights_g, days), units));
  const sure = `${signed(mean)}, 95\u00a0% sure: ${signed(low)} to ${signed(high)}, on the same ${days} days`;
  if (before_g.slice(0, days).every((g, day) => g === now_g[day])) return `${plan}: no difference on any of ${days} days; ${to} expected.`;
  const isClear = low > 0 || high < 0;
  return `${plan}: ${from} → ${to} expected${isClear ? "" : ", no clear difference"} (${sure}).`;
}
