//! The state of the page, and the link that reproduces it.

const USUAL = { view: "compare", seed: "1", days: "400", units: "", day: "1", at: "0", lesson: "" };
const ONE = ["view", "scenario", ...Object.keys(USUAL).filter((key) => key !== "view")];

/** The state of a fresh page. */
export const fresh = () => ({ ...USUAL, scenario: "", plans: [], copies: [], sets: new Map(), swim: [] });

/** The state that a link's fragment tells of; what it does not tell is as usual. */
export function fromLink(fragment) {
  const asked = new URLSearchParams(fragment.replace(/^#/, ""));
  const state = fresh();
  for (const key of ONE) state[key] = asked.get(key) ?? state[key];
  if (!["compare", "swim", "lessons"].includes(state.view)) state.view = "compare";
  state.plans = asked.getAll("plan");
  state.copies = asked.getAll("copy");
  state.swim = asked.getAll("swim").slice(0, 2);
  for (const set of asked.getAll("set")) {
    const cut = set.indexOf("=");
    if (cut > 0) state.sets.set(set.slice(0, cut), set.slice(cut + 1));
  }
  return state;
}

/** The fragment that tells of a state, without what is as usual. */
export function toLink(state) {
  const told = new URLSearchParams();
  for (const key of ONE) if (state[key] && state[key] !== USUAL[key]) told.set(key, state[key]);
  for (const plan of state.plans) told.append("plan", plan);
  for (const copy of state.copies) told.append("copy", copy);
  for (const plan of state.swim) told.append("swim", plan);
  for (const [key, value] of state.sets) told.append("set", `${key}=${value}`);
  return `#${told}`;
}

/** What the server is asked with: the scenario as it stands, and the plans named. */
export function asking(state, plans = state.plans) {
  const asked = new URLSearchParams({ scenario: state.scenario });
  if (state.units) asked.set("units", state.units);
  for (const copy of state.copies) asked.append("copy", copy);
  for (const [key, value] of state.sets) asked.append("set", `${key}=${value}`);
  for (const plan of plans) asked.append("plan", plan);
  return asked;
}

/** Drops a plan's own settings. */
export function asWritten(state, plan) {
  for (const key of [...state.sets.keys()]) if (key.startsWith(`plan.${plan}.`)) state.sets.delete(key);
}
