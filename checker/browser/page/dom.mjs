/**
 * Making elements. Strings become text nodes and never markup: a board's own words cannot turn into elements.
 */

/** @typedef {Node | string | number | null | undefined | false} Child */
/** @typedef {Object<string, string | number | boolean | null | undefined | EventListener>} Attributes */

/**
 * @template {Element} E
 * @param {E} element
 * @param {Attributes} attributes  a function is a listener for the event of that name; `true` sets a bare attribute
 * @param {(Child | Child[])[]} children
 * @returns {E}
 */
function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
  }
  for (const child of children.flat()) {
    if (child === null || child === undefined || child === false) continue;
    element.append(child instanceof Node ? child : String(child));
  }
  return element;
}

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes]
 * @param {...(Child | Child[])} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function html(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/**
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes]
 * @param {...(Child | Child[])} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, attributes = {}, ...children) {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);
}

/**
 * A button as the page has them.
 * @param {Child | Child[]} words
 * @param {() => void} act
 * @param {Attributes} [more]  `class` is what it has besides
 */
export function button(words, act, { class: besides = "", ...more } = {}) {
  return html("button", { type: "button", class: `bw-button ${besides}`.trim(), click: act, ...more }, words);
}

/**
 * A sentence of the checker, in which backticks stand around what is written in a board.
 * @param {string} sentence
 * @returns {(string | HTMLElement)[]}
 */
export function prose(sentence) {
  return sentence.split(/`([^`\n]+)`/).map((part, index) => (index % 2 ? html("code", {}, part) : part));
}

/** Such a sentence where there is nothing but text: in a tooltip, or spoken. @param {string} sentence */
export function plain(sentence) {
  return sentence.replaceAll("`", "");
}

/**
 * "1 fault", "2 faults".
 * @param {number} count
 * @param {string} one
 * @param {string} [many]
 */
export function counted(count, one, many = `${one}s`) {
  return `${count} ${count === 1 ? one : many}`;
}

/**
 * A link's address on this site, or null when it would leave the site.
 * @param {string | null | undefined} path  relative to the base
 * @param {string} base  absolute address of the site's root, ending in a slash
 */
export function siteLink(path, base) {
  if (!path) return null;
  const url = new URL(path, base);
  return url.href.startsWith(base) ? url.href : null;
}
