//! Requests to the model inside the page that is one file; stands in for the requests to the server.

/** An error from the model, or the lack of any answer. */
export class ApiError extends Error {
  constructor(body) {
    super(body?.wrong ?? "the model does not answer; load the page again");
    this.faults = body?.faults ?? [];
  }
}

const textOf = (id) => document.getElementById(id).textContent;

/** The model's code, unpacked and compiled once for all workers. */
async function compiled() {
  const packed = Uint8Array.from(atob(textOf("packed-model").trim()), (letter) => letter.charCodeAt(0));
  const unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(unpacked).arrayBuffer());
}

/** A worker with a model of its own. */
class Hand {
  #worker = null;
  #asked = new Map();
  #count = 0;

  constructor(code, source) {
    this.#worker = new Worker(source);
    this.#worker.postMessage({ code, shelf: textOf("shelf") });
    this.#worker.onmessage = ({ data: { id, isWell, text } }) => {
      const { resolve, reject } = this.#asked.get(id);
      this.#asked.delete(id);
      if (isWell) resolve(text);
      else reject(new ApiError(JSON.parse(text)));
    };
    this.#worker.onerror = () => {
      for (const { reject } of this.#asked.values()) reject(new ApiError());
      this.#asked.clear();
    };
  }

  /** Asks the model; the promise is the answer as text. */
  ask(name, query, body) {
    return new Promise((resolve, reject) => {
      const id = (this.#count += 1);
      this.#asked.set(id, { resolve, reject });
      this.#worker.postMessage({ id, name, query, body });
    });
  }
}

const MOST_HANDS = 8;

/** One worker answers the page and adds up days; the others fish them. */
async function hired() {
  const code = await compiled();
  const source = URL.createObjectURL(new Blob([textOf("worker")], { type: "text/javascript" }));
  const hands = Math.min(MOST_HANDS, Math.max(1, navigator.hardwareConcurrency || 2));
  const [desk, ...fishers] = Array.from({ length: hands + 1 }, () => new Hand(code, source));
  return { desk, fishers };
}

const crew = hired();

async function ask(name, params, signal, body) {
  const { desk } = await crew;
  const text = await desk.ask(name, `${params}`, body);
  if (signal?.aborted) throw new DOMException("replaced by a later request", "AbortError");
  return text;
}

/** Asks for a JSON document. */
export const getJson = async (name, params, signal) => JSON.parse(await ask(name, params, signal));

/** Sends a text, and asks for a JSON document for it. */
export const postJson = async (name, params, body, signal) => JSON.parse(await ask(name, params, signal, body));

/** Sessions that a worker simulates before it shows how far it is. */
const FEW = 5;

/** Asks what now, for a log; the workers share the sessions, and the desk puts them together. */
export async function adviceNow(params, log, onProgress, signal) {
  const { desk, fishers } = await crew;
  const query = `${params}`;
  const { first, sessions } = JSON.parse(await desk.ask("now", query, JSON.stringify(log)));
  const rests = new Array(sessions);
  let [next, done] = [1, 0];
  const simulate = async (hand, last, body) => {
    while (next <= last && !signal?.aborted) {
      const [from, to] = [next, Math.min(next + FEW - 1, last)];
      next = to + 1;
      const simulated = JSON.parse(await hand.ask("rests", `${query}&from=${from}&to=${to}`, body));
      simulated.forEach((rest, n) => { rests[from - 1 + n] = rest; });
      done += simulated.length;
      onProgress(done / sessions);
    }
  };
  // The second round needs the first one, to know which ways to try.
  for (const last of [first, sessions]) {
    const body = JSON.stringify(last === first ? log : { ...log, rests: rests.slice(0, first) });
    await Promise.all(fishers.map((hand) => simulate(hand, last, body)));
    if (signal?.aborted) throw new DOMException("replaced by a later request", "AbortError");
  }
  return JSON.parse(await desk.ask("advice", query, JSON.stringify({ ...log, rests })));
}

/** Asks for a text. */
export const getText = async (name, params) => ask(name, params);

let runCount = 0;
/** The run that the desk adds up; days of any other are dropped. */
let addedUp = null;

/** The comparison in progress in one part of the page; a new one replaces the one before. */
export class LiveRun {
  #run = null;

  /** Starts a run; calls `onResults` after every few days, `onError` if it fails. */
  start(params, onResults, onError) {
    this.cancel();
    const run = `file.${(runCount += 1)}`;
    params.set("run", run);
    this.#run = run;
    this.#fish(run, `${params}`, onResults).catch((error) => {
      if (this.#run !== run) return;
      this.#run = null;
      onError(error);
    });
  }

  async #fish(run, query, onResults) {
    const { desk, fishers } = await crew;
    addedUp = run;
    const begun = JSON.parse(await desk.ask("begin", query));
    const isCurrent = () => this.#run === run && addedUp === run;
    let { until } = begun;
    let [next, added, adding] = [1, 0, Promise.resolve()];
    const fished = new Map();
    /** Adds days in order, as far as they are there, and shows results when enough are. */
    const add = async () => {
      while (isCurrent() && fished.has(added + 1)) {
        const day = fished.get(added + 1);
        fished.delete(added + 1);
        const sums = JSON.parse(await desk.ask("add", "", day));
        added += 1;
        if (added < until || !isCurrent()) continue;
        until = sums.until;
        const results = JSON.parse(await desk.ask("results", ""));
        if (!isCurrent()) return;
        const isLast = added === begun.days;
        if (isLast) this.#run = null;
        onResults(results, isLast);
      }
    };
    const fish = async (hand) => {
      while (isCurrent() && next <= begun.days) {
        const day = next;
        next += 1;
        fished.set(day, await hand.ask("day", `day=${day}&${query}`));
        adding = adding.then(add);
        // No hand runs far ahead of what is shown.
        await adding;
      }
    };
    await Promise.all(fishers.map(fish));
    await adding;
  }

  /** Cancels the run in progress; returns whether there was one. */
  cancel() {
    const wasRunning = this.#run !== null;
    this.#run = null;
    return wasRunning;
  }
}
