//! The class view: one big picture in big type, without controls, and the address for the class as a QR code.

import { el } from "./elements.js";

/** The key that opens and closes the class view; a key without a letter, so that it gets in nobody's way. */
const KEY = "F8";
/** Time that the state must rest before the QR code is made again [ms]. */
const REST_MS = 400;

/** Switches the class view, as the address says: `?class`. */
export class ClassView {
  #timer = null;
  #code = null;
  #isHidden = false;

  /** `onChange` is called whenever the class view opens or closes. */
  constructor(onChange) {
    this.onChange = onChange;
    this.addresses = [];
    this.button = el("button", { type: "button", class: "to-class", title: `${KEY} opens and closes it`, onclick: () => this.toggle() }, "Class view");
    this.leave = el("button", { type: "button", class: "from-class", title: `or press ${KEY}`, onclick: () => this.toggle() }, "Leave class view");
    addEventListener("keydown", (event) => {
      if (event.key !== KEY) return;
      event.preventDefault();
      this.toggle();
    });
    this.#apply(new URLSearchParams(location.search).has("class"));
  }

  get isOpen() {
    return document.documentElement.classList.contains("class-view");
  }

  /** Takes the addresses at which other machines reach this page. */
  setAddresses(addresses) {
    this.addresses = addresses;
    this.update();
  }

  toggle() {
    const address = new URL(location.href);
    if (this.isOpen) address.searchParams.delete("class");
    else address.searchParams.set("class", "");
    history.replaceState(null, "", address.href.replace(/\?class=(?=#|$)/, "?class"));
    this.#apply(!this.isOpen);
    this.onChange();
  }

  #apply(isOpen) {
    document.documentElement.classList.toggle("class-view", isOpen);
    this.#isHidden = false;
    document.getElementById("fold").open = isOpen || matchMedia("(min-width: 48rem)").matches;
    this.update();
    dispatchEvent(new Event("resize"));
  }

  /** Shows the address of what is on the page now, once it rests. */
  update() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#draw(), REST_MS);
  }

  /** Hides the code until the class view is opened again. */
  #hide() {
    this.#isHidden = true;
    this.#draw();
  }

  #draw() {
    this.#code?.remove();
    this.#code = null;
    const [address] = this.addresses;
    if (!this.isOpen || !address || this.#isHidden) return;
    const code = new URLSearchParams({ link: location.hash });
    this.#code = el("figure", { class: "qr" }, el("button", { type: "button", title: "click to hide it", onclick: () => this.#hide() },
      el("img", { src: `/api/qr?${code}`, width: 220, height: 220, alt: `QR code of ${address}` })), el("figcaption", {}, address));
    document.body.append(this.#code);
  }
}
