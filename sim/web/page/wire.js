//! Asks the server; runs that were overtaken are never heard of again.

/** An answer that says what is wrong. */
export class Problem extends Error {
  constructor(told) {
    super(told?.wrong ?? "the program does not answer; is it still running?");
    this.faults = told?.faults ?? [];
  }
}

async function answer(address, options) {
  let response;
  try {
    response = await fetch(address, options);
  } catch (why) {
    if (why.name === "AbortError") throw why;
    throw new Problem();
  }
  if (!response.ok) throw new Problem(await response.json().catch(() => null));
  return response;
}

/** A document of the server. */
export const ask = async (what, asked, signal) => (await answer(`/api/${what}?${asked}`, { signal })).json();

/** A text of the server. */
export const askText = async (what, asked) => (await answer(`/api/${what}?${asked}`)).text();

const TAB = crypto.randomUUID();
let runs = 0;

/** Runs of one place on the page: a new one ends the one before. */
export class Runs {
  #source = null;
  #run = null;

  /** Begins a run; `heard` is told of each event, `failed` of what is wrong. */
  begin(asked, heard, failed) {
    this.cancel();
    const run = `${TAB}.${(runs += 1)}`;
    asked.set("tab", TAB);
    asked.set("run", run);
    const source = new EventSource(`/api/live?${asked}`);
    [this.#source, this.#run] = [source, run];
    const end = () => {
      source.close();
      if (this.#run === run) [this.#source, this.#run] = [null, null];
    };
    source.addEventListener("days", (event) => {
      const told = JSON.parse(event.data);
      if (told.run !== this.#run) return;
      const last = told.days >= told.of;
      if (last) end();
      heard(told, last);
    });
    source.addEventListener("wrong", (event) => {
      if (this.#run !== run) return;
      end();
      failed(new Problem(JSON.parse(event.data)));
    });
    source.addEventListener("error", () => {
      if (this.#run !== run) return;
      end();
      failed(new Problem());
    });
  }

  /** Ends the run under way; whether there was one. */
  cancel() {
    if (!this.#source) return false;
    this.#source.close();
    const run = this.#run;
    [this.#source, this.#run] = [null, null];
    fetch(`/api/cancel?${new URLSearchParams({ run })}`, { method: "POST" }).catch(() => {});
    return true;
  }
}
