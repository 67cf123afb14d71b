/**
 * Offers of the checker to mend the text: each is a fold with its lines as they are and as they would be, what the checker
 * says of the text so changed, and a button.
 */
import { button, html, prose } from "./dom.mjs";

/** @typedef {import("./types.mjs").Edit} Edit */

/**
 * @typedef {Object} Mending  what an offer needs of its workbench
 * @property {() => string} text  as it stands now
 * @property {() => string} judged  the text that the offers were made for
 * @property {(text: string) => Promise<import("./types.mjs").Answer>} check
 * @property {(changes: Change[], title: string) => void} apply
 *
 * @typedef {{from: number, to: number, insert: string}} Change
 */

/** How much of a long line is shown beside what changes in it. */
const AROUND = 28;

/** @param {Edit} edit @param {string} id @param {Mending} bench @returns {HTMLElement} */
export function mendFold(edit, id, bench) {
  const said = html("p", { class: "bw-mend__said", role: "status" });
  const lines = html("div", { class: "bw-diff" });
  const change = button("Change the text", apply, { id: `${id}-apply`, class: "bw-button--main" });
  const note = "This changes what is written. What stands on your board changes only when you build it so.";
  const body = html("div", { class: "bw-fold__body" }, lines, said, html("p", { class: "bw-mend__note" }, note), change);
  const fold = html("details", { id, class: "bw-fold bw-mend" }, html("summary", {}, html("span", {}, prose(edit.title))), body);
  fold.addEventListener("toggle", () => fold.open && preview());
  return fold;

  function isStale() {
    const stale = bench.text() !== bench.judged();
    if (stale) said.textContent = "The text has changed meanwhile; wait for the next answer.";
    return stale;
  }

  async function preview() {
    if (isStale()) return;
    const text = bench.judged();
    const changes = changesOf(text, edit);
    lines.replaceChildren(...changes.flatMap((change) => difference(text, change)));
    try {
      const answer = await bench.check(applied(text, changes));
      said.replaceChildren("With this change, the checker says: ", html("strong", {}, prose(answer.headline)));
    } catch {
      said.textContent = "";
    }
  }

  function apply() {
    if (!isStale()) bench.apply(changesOf(bench.judged(), edit), edit.title);
  }
}

/** An edit as offsets into the text. @param {string} text @param {Edit} edit @returns {Change[]} */
function changesOf(text, edit) {
  const starts = [0];
  for (let end = text.indexOf("\n"); end >= 0; end = text.indexOf("\n", end + 1)) starts.push(end + 1);
  /** @type {(line: number, column: number) => number} */
  const offset = (line, column) => Math.min((starts[line - 1] ?? text.length) + column - 1, text.length);
  return edit.edits.map(({ at, text: insert }) => ({ from: offset(at.line, at.column), to: offset(at.end_line, at.end_column), insert }));
}

/** @param {string} text @param {Change[]} changes  in the order of the text */
function applied(text, changes) {
  return [...changes].reverse().reduce((whole, { from, to, insert }) => whole.slice(0, from) + insert + whole.slice(to), text);
}

/** A line as it is and as it would be. @param {string} text @param {Change} change */
function difference(text, { from, to, insert }) {
  const start = text.lastIndexOf("\n", from - 1) + 1;
  const end = (text.indexOf("\n", to) + text.length + 1) % (text.length + 1);
  const before = from - start > AROUND ? `…${text.slice(from - AROUND, from)}` : text.slice(start, from);
  const after = end - to > AROUND ? `${text.slice(to, to + AROUND)}…` : text.slice(to, end);
  /** @type {(word: string, part: HTMLElement) => HTMLElement} */
  const row = (word, part) => html("p", {}, html("span", { class: "bw-diff__word" }, word), html("code", {}, before, part, after));
  const line = text.slice(0, from).split("\n").length;
  return [row(`Line ${line} now`, html("del", {}, text.slice(from, to))), row("then", html("ins", {}, insert))];
}
