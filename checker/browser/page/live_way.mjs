/**
 * Choosing what stands out in a signal map: the live way of a preset, or what a promise rests on.
 *
 * The drawing says of each of its parts in which presets it is live (`data-live`) and to which promises it belongs
 * (`data-promises`); this only fades what does not belong to the choice.
 */
import { html } from "./dom.mjs";

const FADED = "0.25";

/**
 * @param {SVGSVGElement} drawing
 * @returns {HTMLElement | null}  a labelled choice, or nothing where the drawing has none to offer
 */
export function chooser(drawing) {
  const parts = /** @type {SVGElement[]} */ ([...drawing.querySelectorAll("[data-live]")]);
  /** @param {"live" | "promises"} of */
  const offered = (of) => [...new Set(parts.flatMap((part) => words(part, of)))];
  const presets = offered("live");
  const promises = offered("promises").sort((a, b) => Number(a) - Number(b));
  if (!presets.length && !promises.length) return null;
  const select = html(
    "select",
    { class: "bw-choice" },
    html("option", { value: "" }, "every lead"),
    ...presets.map((name) => html("option", { value: `live ${name}` }, `preset ${name}`)),
    ...promises.map((number) => html("option", { value: `promises ${number}` }, `promise ${number}`)),
  );
  select.addEventListener("change", () => {
    const [of, chosen] = select.value.split(" ");
    for (const part of parts) part.style.opacity = !chosen || words(part, of).includes(chosen) ? "" : FADED;
  });
  return html("label", { class: "bw-choose" }, "Show ", select);
}

/** @param {SVGElement} part @param {string} of */
function words(part, of) {
  return (part.dataset[of] ?? "").split(" ").filter(Boolean);
}
