//! The swim in motion: one day of one plan, or of two in step.

import { choice, el, fault, say } from "./elements.js";
import { asking } from "./link.js";
import { clock, named, plain, warmth, weight, wind } from "./measures.js";
import { drawSide, drawWeight } from "./side.js";
import { Plan } from "./swim.js";
import { KEPT, STATES, Tracks } from "./tracks.js";
import { ask } from "./wire.js";

const SPEEDS = [[1, "as it was"], [10, "10 times"], [30, "30 times"], [60, "60 times"], [150, "150 times"], [400, "400 times"]];
const calm = matchMedia("(prefers-reduced-motion: reduce)");

/** The view that replays. */
export class Replay {
  #panes = [];
  #asked = null;
  #frame = null;
  #then = 0;
  #told = [];

  constructor(page) {
    this.page = page;
    this.s = 0;
    this.speed = 60;
    this.chosen = null;
    this.playing = false;
    this.controls = el("div", { class: "replay-controls" });
    this.panes = el("div", { class: "panes" });
    this.weight = el("canvas", { class: "weight", role: "img", "aria-label": "Weight in the net against time" });
    this.fish = el("section", { class: "card", "aria-labelledby": "one-fish" });
    this.log = el("ol", { class: "log" });
    this.problem = el("div");
    this.node = el("div", { class: "replay" }, el("h1", { class: "unseen" }, "The swim in motion"), this.controls, this.problem, this.panes, this.weight,
      el("div", { class: "beside" }, this.fish, el("section", { class: "card", "aria-labelledby": "happens" }, el("h2", { id: "happens" }, "What happens"), this.log)),
      legend());
    new ResizeObserver(() => this.draw()).observe(this.node);
    this.node.addEventListener("keydown", (event) => this.#key(event));
  }

  async show() {
    const { state } = this.page;
    this.pause();
    this.#asked?.abort();
    this.#asked = new AbortController();
    const { signal } = this.#asked;
    this.node.classList.add("running");
    try {
      const told = await ask("scenario", asking(state, []), signal);
      this.page.scenarioIs(told);
      state.swim = state.swim.filter((plan) => told.plans.includes(plan));
      if (!state.swim.length) state.swim = (state.plans.length ? state.plans : told.plans).slice(0, 1);
      this.#drawControls(told);
      const films = await Promise.all(state.swim.map((plan) => {
        const asked = asking(state, [plan]);
        asked.set("seed", state.seed);
        asked.set("day", state.day);
        return ask("film", asked, signal);
      }));
      this.problem.replaceChildren();
      this.#load(films);
    } catch (why) {
      if (why.name === "AbortError") return;
      this.problem.replaceChildren(fault(why));
    }
    this.node.classList.remove("running");
  }

  leave() {
    this.pause();
    this.#asked?.abort();
  }

  #load(films) {
    const { units } = this.page;
    this.#panes = films.map((film, at) => {
      const tracks = new Tracks(film);
      const name = named(film.plan);
      const plan = el("canvas", { class: "plan", tabindex: "0", role: "img", "aria-label": `${name}: the swim from above` });
      // As high as the water is long, and a strip of bank.
      plan.style.aspectRatio = `${film.water.width_m} / ${film.water.length_m * 1.08}`;
      const side = el("canvas", { class: "side", role: "img", "aria-label": `${name}: the water column from the side` });
      const now = el("p", { class: "now" });
      const view = new Plan(tracks);
      plan.addEventListener("click", (event) => {
        const box = plan.getBoundingClientRect();
        this.#choose(at, view.pick(plan, event.clientX - box.left, event.clientY - box.top, this.s));
      });
      const node = el("section", { class: `pane plan-${at}` }, el("h2", {}, name), plan, side, now);
      return { tracks, view, plan, side, now, node };
    });
    this.panes.classList.toggle("two", films.length > 1);
    this.panes.replaceChildren(...this.#panes.map((pane) => pane.node));
    const { weather } = films[0];
    this.weather.textContent = `Day ${films[0].day}: water ${warmth(weather.temperature_c, units)}, wind ${wind(weather.wind_m_s, units)}`;
    this.scrub.max = films[0].session_s;
    this.chosen = null;
    this.#fishChoice();
    this.go(Math.min(Number(this.page.state.at) || 0, films[0].session_s));
    say(`Day ${films[0].day} is ready: ${films.map((film) => `${named(film.plan)} ends with ${weight(film.weight_g / 1000, units)}`).join(", ")}.`);
  }

  #drawControls(told) {
    const { state } = this.page;
    const plans = told.plans.map((plan) => [plan, named(plan)]);
    const again = () => {
      this.page.remember();
      this.show();
    };
    this.button = el("button", { type: "button", class: "play", onclick: () => (this.playing ? this.pause() : this.play()) }, "Play");
    this.scrub = el("input", { type: "range", id: "scrub", min: 0, max: told.session_s, step: 1, "aria-label": "Time of the session", oninput: () => { this.pause(); this.go(Number(this.scrub.value)); } });
    this.clock = el("output", { for: "scrub", class: "clock" }, "0:00:00");
    this.weather = el("p", { class: "quiet weather" });
    const day = el("input", { id: "day", type: "number", min: 1, max: 1000000, value: state.day, onchange: () => { if (day.reportValidity() && day.value) { state.day = day.value; state.at = "0"; again(); } } });
    const step = (words, forward) => el("button", { type: "button", onclick: () => this.#step(forward) }, words);
    this.controls.replaceChildren(
      el("div", { class: "line" }, this.button, step("◀ Event", false), step("Event ▶", true),
        choice("speed", "Speed", SPEEDS.map(([n, words]) => [String(n), words]), String(this.speed), (n) => { this.speed = Number(n); })),
      el("div", { class: "line scrub" }, this.scrub, this.clock),
      el("div", { class: "line" },
        choice("swim-a", "Plan", plans, state.swim[0], (plan) => { state.swim[0] = plan; again(); }),
        choice("swim-b", "Beside it", [["", "nothing"], ...plans], state.swim[1] ?? "", (plan) => { state.swim = plan ? [state.swim[0], plan] : [state.swim[0]]; again(); }),
        el("label", { class: "field", for: "day" }, el("span", {}, "Day"), day), this.weather));
  }

  play() {
    if (!this.#panes.length) return;
    const end = this.#panes[0].tracks.film.session_s;
    if (this.s >= end) this.go(0);
    this.playing = true;
    this.button.textContent = "Pause";
    this.#then = performance.now();
    if (calm.matches) {
      // No motion: one event after another, a second each.
      this.#frame = setInterval(() => this.#step(true, true), 1000);
      return;
    }
    const tick = (now) => {
      if (!this.playing) return;
      const s = Math.min(end, this.s + ((now - this.#then) / 1000) * this.speed);
      this.#then = now;
      this.go(s);
      this.node.dataset.frames = Number(this.node.dataset.frames ?? 0) + 1;
      if (s >= end) this.pause();
      else this.#frame = requestAnimationFrame(tick);
    };
    this.#frame = requestAnimationFrame(tick);
  }

  pause() {
    if (!this.playing) return;
    this.playing = false;
    cancelAnimationFrame(this.#frame);
    clearInterval(this.#frame);
    this.button.textContent = "Play";
    this.page.state.at = String(Math.round(this.s));
    this.page.remember();
  }

  #step(forward, goesOn = false) {
    if (!this.#panes.length) return;
    if (!goesOn) this.pause();
    const times = this.#panes.map((pane) => pane.tracks.step(this.s, forward));
    this.go(forward ? Math.min(...times) : Math.max(...times));
    if (!goesOn) {
      this.page.state.at = String(Math.round(this.s));
      this.page.remember();
    }
  }

  #key(event) {
    if (event.target.matches("input, select, button, summary")) return;
    const does = { " ": () => (this.playing ? this.pause() : this.play()), ArrowRight: () => this.#step(true), ArrowLeft: () => this.#step(false) }[event.key];
    if (!does) return;
    event.preventDefault();
    does();
  }

  go(s) {
    this.s = s;
    this.scrub.value = s;
    const words = clock(s);
    if (this.clock.textContent !== words) {
      this.clock.textContent = words;
      this.scrub.setAttribute("aria-valuetext", words);
    }
    this.draw();
  }

  draw() {
    if (!this.#panes.length || !this.node.isConnected) return;
    const { units } = this.page;
    for (const [at, pane] of this.#panes.entries()) {
      const chosen = this.chosen?.[0] === at ? this.chosen[1] : null;
      pane.view.draw(pane.plan, this.s, units, chosen);
      drawSide(pane.side, pane.tracks, this.s, units, chosen);
      const words = `The angler is ${pane.tracks.hands(this.s)}.`;
      if (pane.now.textContent !== words) pane.now.textContent = words;
    }
    drawWeight(this.weight, this.#panes.map((pane) => pane.tracks), this.s, units);
    this.#drawLog();
    this.#drawFish();
  }

  #drawLog() {
    const counts = this.#panes.map((pane) => pane.tracks.toldBy(this.s));
    if (String(counts) === String(this.#told)) return;
    this.#told = counts;
    const rows = this.#panes.flatMap((pane, at) => pane.tracks.film.told.slice(Math.max(0, counts[at] - 8), counts[at]).map((row) => [row, at]));
    rows.sort((a, b) => b[0][0] - a[0][0]);
    this.log.replaceChildren(...rows.slice(0, 8).map(([[t, , , words], at]) => el("li", {}, el("time", {}, clock(t / 10)),
      this.#panes.length > 1 ? el("b", { class: `plan-${at}` }, `${"AB"[at]} `) : null, words)));
  }

  #choose(pane, fish) {
    this.chosen = fish === null ? null : [pane, fish];
    this.#fishChoice();
    this.draw();
  }

  #fishChoice() {
    const options = [["", "pick a fish, here or in the picture"]];
    this.#panes.forEach(({ tracks: { film } }, at) => {
      const order = film.fish.map(([shoal, grams], fish) => [fish, shoal, grams]).sort((a, b) => b[2] - a[2]);
      for (const [fish, shoal, grams] of order) {
        options.push([`${at}:${fish}`, `${this.#panes.length > 1 ? `${"AB"[at]} ` : ""}fish ${fish + 1}, ${weight(grams / 1000, this.page.units)}, ${plain(film.shoals[shoal])}`]);
      }
    });
    this.story = el("div", {});
    this.fish.replaceChildren(el("h2", { id: "one-fish" }, "One fish"),
      choice("fish", "Fish", options, this.chosen ? this.chosen.join(":") : "", (value) => this.#choose(...(value ? value.split(":").map(Number) : [0, null]))), this.story);
    this.read = "";
  }

  #drawFish() {
    if (!this.chosen) return;
    const [at, fish] = this.chosen;
    const { tracks } = this.#panes[at];
    const move = tracks.move(fish, this.s);
    const print = `${at}:${fish}:${move[0]}:${move[7]}`;
    if (print === this.read) return;
    this.read = print;
    const [, grams, cm] = tracks.film.fish[fish];
    const state = STATES[move[7]];
    this.story.replaceChildren(
      el("p", {}, el("b", {}, `${weight(grams / 1000, this.page.units)}, ${cm} cm: ${state}`), move[7] === KEPT ? "" : `; gut ${100 - move[11]} % full`),
      el("ol", { class: "log" }, tracks.story(fish, this.s, 7).map(([s, words]) => el("li", {}, el("time", {}, clock(s)), words))));
  }
}

function legend() {
  const kinds = [["roaming", "roaming"], ["coming", "has noticed a line"], ["feeding", "feeding on the bed"], ["up", "up for falling feed"], ["fled", "startled"], ["hooked", "hooked"]];
  return el("section", { class: "legend", "aria-label": "Legend" },
    el("ul", {}, kinds.map(([kind, words]) => el("li", {}, el("span", { class: `key ${kind}`, "aria-hidden": "true" }), words)),
      el("li", {}, el("span", { class: "key scent", "aria-hidden": "true" }), "scent strong enough to be noticed"),
      el("li", {}, el("span", { class: "key cloud", "aria-hidden": "true" }), "fines hanging in the water"),
      el("li", {}, el("span", { class: "key feeder", "aria-hidden": "true" }), "feeder, with the hookbait when it can be taken")),
    el("p", { class: "quiet" }, "From the record of the session. Distances are to scale; fish are drawn larger than they are, and those at a line stand round it so that each can be seen."));
}
