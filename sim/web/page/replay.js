//! The view that replays: one day of one plan, or of two plans at the same time.

import { getJson } from "./api.js";
import { onColours } from "./canvas.js";
import { announce, el, errorBox, selectField } from "./elements.js";
import { KEPT, Recording, STATES } from "./recording.js";
import { drawSide, drawWeight } from "./side_view.js";
import { requestParams } from "./state.js";
import { SwimView } from "./swim_view.js";
import { clock, fishLength, readable, temperature, weight, wind } from "./units.js";

const SPEEDS = [[1, "real time"], [10, "10 times"], [30, "30 times"], [60, "60 times"], [150, "150 times"], [400, "400 times"]];
const reducedMotion = matchMedia("(prefers-reduced-motion: reduce)");

/** The view that replays a day. */
export class ReplayView {
  #panes = [];
  #request = null;
  #frame = null;
  #lastFrame = 0;
  #eventCounts = [];

  constructor(page) {
    this.page = page;
    this.s = 0;
    this.speed = 60;
    this.selected = null;
    this.playing = false;
    this.controls = el("div", { class: "replay-controls" });
    this.panes = el("div", { class: "panes" });
    this.weight = el("canvas", { class: "weight", role: "img", "aria-label": "Weight in the net against time" });
    this.fish = el("section", { class: "card", "aria-labelledby": "one-fish" });
    this.log = el("ol", { class: "log" });
    this.problem = el("div");
    this.heading = el("h1", { class: "unseen" }, "Replay of a day");
    this.node = el("div", { class: "replay" }, this.heading, this.controls, this.problem, legend(), this.panes, this.weight,
      el("div", { class: "side-by-side" }, this.fish, el("section", { class: "card", "aria-labelledby": "happens" }, el("h2", { id: "happens" }, "Events"), this.log)),
      el("p", { class: "quiet" }, "Drawn from the recording of the session. Distances are to scale. Scent is drawn where a fish would notice it, and the hookbait while a fish could take it. Fish are drawn larger than they are; those at a line are drawn around it, so that each can be seen."));
    new ResizeObserver(() => this.draw()).observe(this.node);
    onColours(() => this.draw());
    // Keys work wherever the focus is, also on nothing, as long as the swim is shown.
    document.addEventListener("keydown", (event) => this.node.isConnected && this.#key(event));
  }

  async show() {
    const { state } = this.page;
    this.pause();
    this.#request?.abort();
    this.#request = new AbortController();
    const { signal } = this.#request;
    this.node.classList.add("running");
    try {
      const scenario = await getJson("scenario", requestParams(state, []), signal);
      this.page.setScenario(scenario);
      this.heading.textContent = `${scenario.title}: replay of day ${state.day}`;
      state.swim = state.swim.filter((plan) => scenario.plans.includes(plan));
      if (!state.swim.length) state.swim = (state.plans.length ? state.plans : scenario.plans).slice(0, 1);
      this.#drawControls(scenario);
      const films = await Promise.all(state.swim.map((plan) => {
        const params = requestParams(state, [plan]);
        params.set("seed", state.seed);
        params.set("day", state.day);
        return getJson("film", params, signal);
      }));
      this.problem.replaceChildren();
      this.#load(films);
    } catch (error) {
      if (error.name === "AbortError") return;
      this.problem.replaceChildren(errorBox(error));
    }
    this.node.classList.remove("running");
  }

  leave() {
    this.pause();
    this.#request?.abort();
  }

  #load(films) {
    const { units } = this.page;
    this.#panes = films.map((film, index) => {
      const recording = new Recording(film);
      const name = film.plan;
      const plan = el("canvas", { class: "plan", tabindex: "0", role: "img", "aria-label": `${name}: the swim from above` });
      // Height for the length of the water and a strip of bank.
      plan.style.aspectRatio = `${film.water.width_m} / ${film.water.length_m * 1.08}`;
      const side = el("canvas", { class: "side", role: "img", "aria-label": `${name}: the water column from the side` });
      const now = el("p", { class: "now" });
      const view = new SwimView(recording);
      plan.addEventListener("click", (event) => {
        const box = plan.getBoundingClientRect();
        this.#select(index, view.pick(plan, event.clientX - box.left, event.clientY - box.top, this.s));
      });
      const node = el("section", { class: `pane plan-${index}` }, el("h2", {}, films.length > 1 ? `${"AB"[index]}: ${name}` : name), plan, side, now);
      return { recording, view, plan, side, now, node };
    });
    this.panes.classList.toggle("two", films.length > 1);
    this.node.classList.toggle("single", films.length === 1);
    this.panes.replaceChildren(...this.#panes.map((pane) => pane.node));
    const { weather } = films[0];
    this.weather.textContent = `Day ${films[0].day}: water ${temperature(weather.temperature_c)}, wind ${wind(weather.wind_m_s, units)}`;
    this.scrub.max = films[0].session_s;
    this.selected = null;
    this.#drawFishList();
    this.goTo(Math.min(Number(this.page.state.at) || 0, films[0].session_s));
    announce(`Day ${films[0].day} is ready: ${films.map((film) => film.plan).join(" and ")}.`);
  }

  #drawControls(scenario) {
    const { state } = this.page;
    const plans = scenario.plans.map((plan) => [plan, plan]);
    const reload = () => {
      this.page.remember();
      this.show();
    };
    this.button = el("button", { type: "button", class: "play", onclick: () => (this.playing ? this.pause() : this.play()) }, "Play");
    this.scrub = el("input", { type: "range", id: "scrub", min: 0, max: scenario.session_s, step: 1, "aria-label": "Time of the session", oninput: () => { this.pause(); this.goTo(Number(this.scrub.value)); } });
    this.clock = el("output", { for: "scrub", class: "clock" }, "0:00:00");
    this.weather = el("p", { class: "quiet weather" });
    const day = el("input", { id: "day", type: "number", min: 1, max: 1000000, value: state.day, onchange: () => { if (day.reportValidity() && day.value) { state.day = day.value; state.at = "0"; reload(); } } });
    const stepButton = (label, forward) => el("button", { type: "button", class: "step", "aria-label": label, onclick: () => this.#step(forward) },
      label.split(" ").map((part) => el("span", { class: part === "Event" ? "word" : null }, part)));
    this.controls.replaceChildren(
      el("div", { class: "line first" }, this.button, stepButton("◀ Event", false), stepButton("Event ▶", true),
        selectField("speed", "Speed", SPEEDS.map(([n, label]) => [String(n), label]), String(this.speed), (n) => { this.speed = Number(n); })),
      el("div", { class: "line scrub" }, this.scrub, this.clock),
      el("div", { class: "line picks" },
        selectField("swim-a", "Plan", plans, state.swim[0], (plan) => { state.swim[0] = plan; reload(); }),
        selectField("swim-b", "Second plan", [["", "none"], ...plans], state.swim[1] ?? "", (plan) => { state.swim = plan ? [state.swim[0], plan] : [state.swim[0]]; reload(); }),
        el("label", { class: "field", for: "day" }, el("span", {}, "Day"), day), this.weather));
  }

  play() {
    if (!this.#panes.length) return;
    const end = this.#panes[0].recording.film.session_s;
    if (this.s >= end) this.goTo(0);
    this.playing = true;
    this.button.textContent = "Pause";
    this.#lastFrame = performance.now();
    if (reducedMotion.matches) {
      // Without motion: one event per second.
      this.#frame = setInterval(() => this.#step(true, true), 1000);
      return;
    }
    const tick = (now) => {
      if (!this.playing) return;
      const s = Math.min(end, this.s + ((now - this.#lastFrame) / 1000) * this.speed);
      this.#lastFrame = now;
      this.goTo(s);
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

  #step(forward, isPlaying = false) {
    if (!this.#panes.length) return;
    if (!isPlaying) this.pause();
    const times = this.#panes.map((pane) => pane.recording.step(this.s, forward));
    this.goTo(forward ? Math.min(...times) : Math.max(...times));
    if (!isPlaying) {
      this.page.state.at = String(Math.round(this.s));
      this.page.remember();
    }
  }

  #key(event) {
    if (event.target.matches("input, select, button, summary, a") || event.altKey || event.ctrlKey || event.metaKey) return;
    const action = { " ": () => (this.playing ? this.pause() : this.play()), ArrowRight: () => this.#step(true), ArrowLeft: () => this.#step(false) }[event.key];
    if (!action) return;
    event.preventDefault();
    action();
  }

  goTo(s) {
    this.s = s;
    this.scrub.value = s;
    const time = clock(s);
    if (this.clock.textContent !== time) {
      this.clock.textContent = time;
      this.scrub.setAttribute("aria-valuetext", time);
    }
    this.draw();
  }

  draw() {
    if (!this.#panes.length || !this.node.isConnected) return;
    const { units } = this.page;
    for (const [index, pane] of this.#panes.entries()) {
      const selected = this.selected?.[0] === index ? this.selected[1] : null;
      pane.view.draw(pane.plan, this.s, units, selected);
      drawSide(pane.side, pane.recording, this.s, units, selected);
      const activity = `The angler is ${pane.recording.handActivity(this.s)}.`;
      if (pane.now.textContent !== activity) pane.now.textContent = activity;
    }
    drawWeight(this.weight, this.#panes.map((pane) => pane.recording), this.s, units);
    this.#drawLog();
    this.#drawFish();
  }

  #drawLog() {
    const counts = this.#panes.map((pane) => pane.recording.eventCount(this.s));
    if (String(counts) === String(this.#eventCounts)) return;
    this.#eventCounts = counts;
    const rows = this.#panes.flatMap((pane, index) => pane.recording.film.events.slice(Math.max(0, counts[index] - 8), counts[index]).map((row) => [row, index]));
    rows.sort((a, b) => b[0][0] - a[0][0]);
    this.log.replaceChildren(...rows.slice(0, 8).map(([[t, , , text], index]) => el("li", {}, el("time", {}, clock(t / 10)),
      this.#panes.length > 1 ? el("b", { class: `letter plan-${index}` }, "AB"[index]) : null, text)));
  }

  #select(pane, fish) {
    this.selected = fish === null ? null : [pane, fish];
    this.#drawFishList();
    this.draw();
  }

  #drawFishList() {
    const options = [["", "choose a fish"]];
    this.#panes.forEach(({ recording: { film } }, index) => {
      const order = film.fish.map(([shoal, grams], fish) => [fish, shoal, grams]).sort((a, b) => b[2] - a[2]);
      for (const [fish, shoal, grams] of order) {
        options.push([`${index}:${fish}`, `${this.#panes.length > 1 ? `${"AB"[index]} ` : ""}fish ${fish + 1}, ${weight(grams / 1000, this.page.units)}, ${readable(film.shoals[shoal])}`]);
      }
    });
    this.story = el("div", {});
    this.fish.replaceChildren(el("h2", { id: "one-fish" }, "One fish"),
      selectField("fish", "Fish", options, this.selected ? this.selected.join(":") : "", (value) => this.#select(...(value ? value.split(":").map(Number) : [0, null]))), this.story);
    this.storyKey = "";
  }

  #drawFish() {
    if (!this.selected) return;
    const [index, fish] = this.selected;
    const { recording } = this.#panes[index];
    const move = recording.move(fish, this.s);
    const key = `${index}:${fish}:${move[0]}:${move[7]}`;
    if (key === this.storyKey) return;
    this.storyKey = key;
    const [, grams, cm] = recording.film.fish[fish];
    const state = STATES[move[7]];
    this.story.replaceChildren(
      el("p", {}, el("b", {}, `${weight(grams / 1000, this.page.units)}, ${fishLength(cm, this.page.units)}: ${state}`), move[7] === KEPT ? "" : `; gut ${100 - move[11]} % full`),
      el("ol", { class: "log" }, recording.story(fish, this.s, 7).map(([s, text]) => el("li", {}, el("time", {}, clock(s)), text))));
  }
}

function legend() {
  const kinds = [["roaming", "roaming"], ["coming", "has noticed a line"], ["feeding", "feeding on the bottom"], ["up", "taking falling feed"], ["fled", "fleeing"], ["hooked", "hooked"]];
  const node = el("details", { class: "legend" }, el("summary", {}, "What is what"),
    el("ul", {}, kinds.map(([kind, label]) => el("li", {}, el("span", { class: `key ${kind}`, "aria-hidden": "true" }), label)),
      el("li", {}, el("span", { class: "key scent", "aria-hidden": "true" }), "scent"),
      el("li", {}, el("span", { class: "key cloud", "aria-hidden": "true" }), "fine particles"),
      el("li", {}, el("span", { class: "key feeder", "aria-hidden": "true" }), "feeder or lead"),
      el("li", {}, el("span", { class: "key hookbait", "aria-hidden": "true" }), "hookbait")));
  const wide = matchMedia("(min-width: 60rem)");
  const paper = matchMedia("print");
  const open = () => { node.open = wide.matches || paper.matches; };
  paper.addEventListener("change", open);
  wide.addEventListener("change", open);
  open();
  return node;
}
