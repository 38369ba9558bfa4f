//! Requests to the server; results of a run that was replaced are ignored.

/** An error from the server, or the lack of any answer. */
export class ApiError extends Error {
  constructor(body) {
    super(body?.wrong ?? "the program does not answer; is it still running?");
    this.faults = body?.faults ?? [];
  }
}

async function request(address, options) {
  let response;
  try {
    response = await fetch(address, options);
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new ApiError();
  }
  if (!response.ok) throw new ApiError(await response.json().catch(() => null));
  return response;
}

/** Fetches a JSON document. */
export const getJson = async (name, params, signal) => (await request(`/api/${name}?${params}`, { signal })).json();

/** Sends a text, and fetches a JSON document for it. */
export const postJson = async (name, params, body, signal) => (await request(`/api/${name}?${params}`, { method: "POST", body, signal })).json();

/** Asks what now, for a log; the server does it all at once, so there is no progress to show. */
export const adviceNow = (params, log, onProgress, signal) => postJson("now", params, JSON.stringify(log), signal);

/** Fetches a text. */
export const getText = async (name, params) => (await request(`/api/${name}?${params}`)).text();

// Over plain HTTP from another machine, browsers have no `randomUUID`.
const TAB = Array.from(crypto.getRandomValues(new Uint32Array(4)), (part) => part.toString(36)).join("");
let runCount = 0;

/** The comparison in progress in one part of the page; a new one replaces the one before. */
export class LiveRun {
  #source = null;
  #run = null;

  /** Starts a run; calls `onResults` after every few days, `onError` if it fails. */
  start(params, onResults, onError) {
    this.cancel();
    const run = `${TAB}.${(runCount += 1)}`;
    params.set("tab", TAB);
    params.set("run", run);
    const source = new EventSource(`/api/live?${params}`);
    [this.#source, this.#run] = [source, run];
    const close = () => {
      source.close();
      if (this.#run === run) [this.#source, this.#run] = [null, null];
    };
    source.addEventListener("days", (event) => {
      const results = JSON.parse(event.data);
      if (results.run !== this.#run) return;
      const isLast = results.days >= results.of;
      if (isLast) close();
      onResults(results, isLast);
    });
    source.addEventListener("wrong", (event) => {
      if (this.#run !== run) return;
      close();
      onError(new ApiError(JSON.parse(event.data)));
    });
    source.addEventListener("error", () => {
      if (this.#run !== run) return;
      close();
      onError(new ApiError());
    });
  }

  /** Cancels the run in progress; returns whether there was one. */
  cancel() {
    if (!this.#source) return false;
    this.#source.close();
    const run = this.#run;
    [this.#source, this.#run] = [null, null];
    fetch(`/api/cancel?${new URLSearchParams({ run })}`, { method: "POST" }).catch(() => {});
    return true;
  }
}
