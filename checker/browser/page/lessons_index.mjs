/** Beside each lesson of the index: how far its exercise has come in this browser. */
import { html } from "./dom.mjs";
import { readProgress } from "./progress.mjs";

/** @typedef {{exercise: string, count: number}} Taught  an exercise, and how many faults are planted in it */

const place = document.querySelector("[data-progress]");
if (place instanceof HTMLElement) {
  /** @type {[string, Taught][]} */
  const lessons = Object.entries(JSON.parse(place.dataset.progress ?? "{}"));
  const base = new URL(place.dataset.base ?? "./", location.href).href;
  let solved = 0;
  let begun = false;
  for (const [path, { exercise, count }] of lessons) {
    const progress = readProgress(exercise);
    if (progress.solved) solved += 1;
    const words = progress.solved ? "Solved" : progress.text === null ? "" : `${Math.min(progress.mended, count)} of ${count} mended`;
    if (!words) continue;
    begun = true;
    for (const link of document.querySelectorAll("article a")) {
      if (link instanceof HTMLAnchorElement && link.href === new URL(path, base).href) {
        link.after(" ", html("span", { class: `bw-progress ${progress.solved ? "bw-progress--solved" : ""}` }, words));
      }
    }
  }
  const total = lessons.length;
  place.textContent = begun
    ? `${solved} of ${total} exercises solved. This is kept in this browser alone; “Begin again” below an exercise forgets it.`
    : `${total} exercises mark themselves. How far you have come is kept in this browser alone, and shown here.`;
}
