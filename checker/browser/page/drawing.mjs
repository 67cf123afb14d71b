/**
 * Showing a drawing that the checker made, as part of the page.
 *
 * Not as an <img>: a picture would keep its title, description and labels from screen readers and from the browser's
 * search, and could not follow the page's own light and dark. So the SVG is put into the page itself. Its labels come
 * from a board that anyone may have written, so only what a drawing needs is let through: a short list of elements, no
 * event attribute, no style, no address outside the drawing. A drawing that holds anything else is not mended but
 * refused, for then something is wrong that a reader ought to see.
 *
 * Each stands in a shadow root of its own, so that the ids of two drawings on one page cannot meet.
 */
import { html } from "./dom.mjs";
import { chooser } from "./live_way.mjs";
import { scrolling } from "./scroll.mjs";

const ELEMENTS = new Set([
  "svg",
  "g",
  "defs",
  "symbol",
  "use",
  "marker",
  "pattern",
  "clipPath",
  "title",
  "desc",
  "path",
  "rect",
  "circle",
  "ellipse",
  "line",
  "polyline",
  "polygon",
  "text",
  "tspan",
]);

/**
 * @param {string} source  an SVG document
 * @returns {SVGSVGElement}
 * @throws {Error} saying what the drawing must not hold
 */
export function readDrawing(source) {
  const svg = new DOMParser().parseFromString(source, "image/svg+xml").documentElement;
  if (!(svg instanceof SVGSVGElement)) throw new Error("it is not a whole SVG drawing");
  for (const element of [svg, ...svg.querySelectorAll("*")]) {
    if (element.namespaceURI !== svg.namespaceURI || !ELEMENTS.has(element.localName)) throw new Error(`it holds <${element.localName}>`);
    for (const { localName, value } of element.attributes) {
      if (/^on|^style$/i.test(localName)) throw new Error(`it holds the attribute ${localName}`);
      const outside = localName === "href" ? !value.startsWith("#") : /url\s*\((?!\s*["']?#)/i.test(value);
      if (outside) throw new Error("it points outside itself");
    }
  }
  return document.importNode(svg, true);
}

/** What each figure was made from. @type {WeakMap<Element, string>} */
const sources = new WeakMap();

/**
 * Shows drawings, and nothing else, in `place`. One that has not changed stays, with what the reader chose in it.
 * @param {HTMLElement} place
 * @param {Object<string, string>} drawings  SVG by name
 */
export function renderDrawings(place, drawings) {
  const before = new Map([...place.children].map((figure) => [sources.get(figure), figure]));
  const figures = Object.entries(drawings).map(([name, source]) => before.get(source) ?? drawingFigure(source, caption(name)));
  if (figures.length !== place.children.length || figures.some((figure, number) => figure !== place.children[number])) {
    place.replaceChildren(...figures);
  }
}

/**
 * @param {string} source
 * @param {string} caption
 * @returns {HTMLElement}
 */
function drawingFigure(source, caption) {
  const figure = html("figure", { class: "bw-drawing" }, html("figcaption", {}, caption), ...shown(source, caption));
  sources.set(figure, source);
  return figure;
}

/** "Power map" of "power-map". @param {string} name */
export function caption(name) {
  return name.charAt(0).toUpperCase() + name.slice(1).replaceAll("-", " ");
}

/** @param {string} source @param {string} caption */
function shown(source, caption) {
  let svg;
  try {
    svg = readDrawing(source);
  } catch (error) {
    return [html("p", {}, `The drawing is not shown, because ${error instanceof Error ? error.message : error}.`)];
  }
  // On a narrow screen a drawing scrolls sideways rather than shrink until its labels cannot be read. Paper does not scroll.
  svg.style.cssText = `display: block; max-width: 100%; height: auto; margin: 0 auto; min-width: calc(var(--bw-scrolls, 1) * ${0.8 * svg.viewBox.baseVal.width}px)`;
  const sheet = html("div");
  sheet.attachShadow({ mode: "open" }).append(svg);
  const scroll = scrolling(caption, sheet);
  const choice = chooser(svg);
  return choice ? [choice, scroll] : [scroll];
}
