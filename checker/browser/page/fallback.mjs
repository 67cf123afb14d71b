/**
 * The plain text box with a gutter of line numbers and marks: what the page starts with, and what it keeps when the
 * code editor cannot be loaded. Long lines scroll sideways here, so that a line of text is a line of the gutter.
 */
import { html } from "./dom.mjs";
import { shape } from "./kinds.mjs";
import { byLine, inWords } from "./marks.mjs";

/** @typedef {import("./types.mjs").Mark} Mark */

/** The gutter has an element for each line; of a text with more lines than any board has, the rest goes unnumbered. */
const MOST_NUMBERED = 10_000;

/**
 * @param {HTMLTextAreaElement} box
 * @param {import("./types.mjs").EditorOptions} options
 * @returns {import("./types.mjs").Editor}
 */
export function plainEditor(box, { onChange, onMark }) {
  // Screen readers get the same marks as a list in the answer; here they would only be noise.
  const gutter = html("div", { class: "bw-plain__gutter", "aria-hidden": "true" });
  const element = html("div", { class: "bw-plain" }, html("div", { class: "bw-plain__window" }, gutter));
  box.replaceWith(element);
  box.wrap = "off";
  element.append(box);

  /** @type {Map<number, Mark[]>} */
  let marks = new Map();
  let lineCount = 0;

  function drawGutter() {
    lineCount = lines();
    gutter.replaceChildren(
      ...Array.from({ length: Math.min(lineCount, MOST_NUMBERED) }, (_, index) => {
        const found = marks.get(index + 1);
        if (!found) return html("div", {}, index + 1);
        const title = found.map(inWords).join("\n");
        return html("div", { class: "bw-plain__marked", title, click: () => onMark(found[0].key) }, shape(found[0].kind), index + 1);
      }),
    );
    follow();
  }

  const lines = () => box.value.split("\n").length;

  function follow() {
    gutter.style.transform = `translateY(${-box.scrollTop}px)`;
  }

  /** @param {number} line @param {number} column  both from 1 */
  function offset(line, column) {
    const all = box.value.split("\n");
    const row = Math.min(Math.max(line, 1), all.length) - 1;
    const before = all.slice(0, row).reduce((sum, text) => sum + text.length + 1, 0);
    return before + Math.min(Math.max(column, 1) - 1, all[row].length);
  }

  /** @param {Event} event */
  function changed(event) {
    if (lines() !== lineCount) drawGutter();
    const how = /** @type {InputEvent} */ (event).inputType;
    onChange(how === "insertFromPaste" || how === "insertFromDrop" ? "pasted" : "typed");
  }

  box.addEventListener("input", changed);
  box.addEventListener("scroll", follow, { passive: true });
  drawGutter();

  /** A text that a script sets begins a new history in a text box. @param {string} text */
  function open(text) {
    box.value = text;
    box.setSelectionRange(0, 0);
    drawGutter();
    onChange("pasted");
  }

  return {
    element,
    text: () => box.value,
    setText: open,
    open,
    change(changes) {
      // From the end, so that what is changed does not move the rest.
      for (const { from, to, insert } of [...changes].reverse()) box.setRangeText(insert, from, to, "end");
      drawGutter();
      onChange("pasted");
    },
    setMarks(list) {
      marks = byLine(list);
      drawGutter();
    },
    jump(span) {
      box.focus({ preventScroll: true });
      box.setSelectionRange(offset(span.line, span.column), offset(span.end_line, span.end_column));
      const style = getComputedStyle(box);
      const lineHeight = parseFloat(style.lineHeight);
      box.scrollTop = (span.line - 1) * lineHeight - box.clientHeight / 3;
      // A fixed-width letter is about 0.6 em wide: near enough to bring the place into view.
      const x = (span.column - 1) * parseFloat(style.fontSize) * 0.6;
      box.scrollLeft = x < box.clientWidth * 0.8 ? 0 : x - box.clientWidth / 3;
    },
    hasFocus: () => document.activeElement === box,
    selection: () => [box.selectionStart, box.selectionEnd],
    select: (anchor, head) => box.setSelectionRange(Math.min(anchor, head), Math.max(anchor, head)),
    focus: () => box.focus({ preventScroll: true }),
    destroy() {
      box.removeEventListener("input", changed);
      box.removeEventListener("scroll", follow);
      element.replaceWith(box);
    },
  };
}
