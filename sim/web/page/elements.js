//! Builders for HTML and SVG elements, and a few ready-made ones.

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

/** An HTML element; attributes that begin with `on` are listeners. */
export const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);

/** An SVG element. */
export const svgEl = (tag, attributes, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);

/** A sentence as nodes in which no line ends at a hyphen inside a name, unless the name is wider than the line. */
export const sentence = (text) => text.split(/([\p{L}\p{N}]+(?:-[\p{L}\p{N}_]+)+)/u).map((part, n) => (n % 2 ? el("span", { class: "whole" }, part) : part));

/** Announces a text to screen readers only. */
export function announce(text) {
  document.getElementById("status").textContent = text;
}

let hiding = null;

/** Says something for a few seconds to everybody: on the page and to screen readers. */
export function say(text) {
  announce(text);
  const said = document.getElementById("said");
  said.textContent = text;
  said.classList.add("shown");
  clearTimeout(hiding);
  hiding = setTimeout(() => said.classList.remove("shown"), 4000);
}

/** A labelled list to choose from; `options` are pairs of value and text. */
export function selectField(id, label, options, selected, onChange) {
  return el("label", { class: "field", for: id }, el("span", {}, label),
    el("select", { id, onchange: (event) => onChange(event.target.value) },
      options.map(([value, text]) => el("option", { value, selected: value === selected }, text))));
}

/** An error with the faults of the scenario, in a box that screen readers announce. */
export function errorBox(error) {
  const faults = error.faults ?? [];
  return el("div", { class: "fault", role: "alert" }, el("p", {}, error.message),
    faults.length ? el("ul", {}, faults.map((fault) => el("li", {}, fault))) : null);
}
