/** What is wider than its place scrolls sideways by itself, also by keyboard, and says so for as long as there is more to see. */
import { html } from "./dom.mjs";

const sizes = new ResizeObserver((entries) => {
  for (const { target } of entries) {
    const box = target.closest(".bw-scroll");
    if (box instanceof HTMLElement) look(box);
  }
});

/**
 * @param {string} label
 * @param {...import("./dom.mjs").Child} children
 */
export function scrolling(label, ...children) {
  const box = html("div", { class: "bw-scroll", tabindex: 0, role: "group", "aria-label": label }, ...children);
  showMore(box);
  return box;
}

/** Makes a box say where there is more of it; how that looks is the style sheet's matter. @param {HTMLElement} box */
export function showMore(box) {
  box.addEventListener("scroll", () => look(box), { passive: true });
  for (const sized of [box, ...box.children]) sizes.observe(sized);
}

/** @param {HTMLElement} box */
function look(box) {
  const hidden = box.scrollWidth - box.clientWidth;
  const [left, right] = [box.scrollLeft > 1, box.scrollLeft < hidden - 1];
  // Less than two pixels are a matter of rounding.
  const more = hidden < 2 ? "" : left && right ? "both" : left ? "left" : "right";
  if ((box.dataset.more ?? "") === more) return;
  if (more) box.dataset.more = more;
  else delete box.dataset.more;
}
