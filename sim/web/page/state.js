//! The state of the page, and the link that reproduces it.

const DEFAULTS = { view: "compare", seed: "1", days: "400", units: "", day: "1", at: "0", lesson: "" };
/** Keys with one value each; the other keys of a link can be repeated. */
const SINGLE_KEYS = ["view", "scenario", ...Object.keys(DEFAULTS).filter((key) => key !== "view")];

/** The state of a new page. */
export const defaultState = () => ({ ...DEFAULTS, scenario: "", plans: [], copies: [], sets: new Map(), swim: [] });

/** The state that the fragment of a link describes; keys that it lacks have their defaults. */
export function stateFromLink(fragment) {
  const params = new URLSearchParams(fragment.replace(/^#/, ""));
  const state = defaultState();
  for (const key of SINGLE_KEYS) state[key] = params.get(key) ?? state[key];
  if (!["compare", "swim", "lessons", "log"].includes(state.view)) state.view = "compare";
  state.plans = params.getAll("plan");
  state.copies = params.getAll("copy");
  state.swim = params.getAll("swim").slice(0, 2);
  for (const set of params.getAll("set")) {
    const split = set.indexOf("=");
    if (split > 0) state.sets.set(set.slice(0, split), set.slice(split + 1));
  }
  return state;
}

/** The fragment of a link that describes a state, without keys that have their defaults. */
export function linkTo(state) {
  const params = new URLSearchParams();
  for (const key of SINGLE_KEYS) if (state[key] && state[key] !== DEFAULTS[key]) params.set(key, state[key]);
  for (const plan of state.plans) params.append("plan", plan);
  for (const copy of state.copies) params.append("copy", copy);
  for (const plan of state.swim) params.append("swim", plan);
  for (const [key, value] of state.sets) params.append("set", `${key}=${value}`);
  return `#${params}`;
}

/** Parameters of a request to the server: the scenario with its changes, and some of its plans. */
export function requestParams(state, plans = state.plans) {
  const params = new URLSearchParams({ scenario: state.scenario });
  if (state.units) params.set("units", state.units);
  for (const copy of state.copies) params.append("copy", copy);
  for (const [key, value] of state.sets) params.append("set", `${key}=${value}`);
  for (const plan of plans) params.append("plan", plan);
  return params;
}

/** Removes all changes to a plan. */
export function resetPlan(state, plan) {
  for (const key of [...state.sets.keys()]) if (key.startsWith(`plan.${plan}.`)) state.sets.delete(key);
}
