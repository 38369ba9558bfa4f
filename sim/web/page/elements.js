//! Elements of the page, made in one call each.

const SVG = "http://www.w3.org/2000/svg";

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "selected") node[name] = value;
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== false));
  return node;
}

/** An element of HTML; attributes that begin with `on` are listeners. */
export const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);

/** An element of SVG. */
export const shape = (tag, attributes, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);

/** Says something to a screen reader, and to nobody else. */
export function say(words) {
  document.getElementById("status").textContent = words;
}

/** A list to choose from: pairs of value and words. */
export function choice(id, label, options, chosen, changed) {
  return el("label", { class: "field", for: id }, el("span", {}, label),
    el("select", { id, onchange: (event) => changed(event.target.value) },
      options.map(([value, words]) => el("option", { value, selected: value === chosen }, words))));
}

/** What is wrong, in a box that is read out. */
export function fault(problem) {
  const more = problem.faults ?? [];
  return el("div", { class: "fault", role: "alert" }, el("p", {}, problem.message),
    more.length ? el("ul", {}, more.map((line) => el("li", {}, line))) : null);
}
