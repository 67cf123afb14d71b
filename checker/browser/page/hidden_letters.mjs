/**
 * A sign for each letter that has no shape of its own, or turns the direction of reading. CodeMirror's own `highlightSpecialChars`
 * has no limit, and a line is laid out as a whole at first: forty thousand of them in one line, which a link of two hundred
 * letters can hold, stop the page for ten seconds.
 */
import { RangeSetBuilder } from "@codemirror/state";
import { Decoration, ViewPlugin, WidgetType } from "@codemirror/view";
import { html } from "./dom.mjs";

/** The same letters as CodeMirror's. */
const HIDDEN = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u00ad\u061c\u200b\u200e\u200f\u2028\u2029\u202d\u202e\u2066\u2067\u2069\ufeff\ufff9-\ufffc]/g;
/** In what is laid out at a time. */
const MOST = 1000;

class Sign extends WidgetType {
  /** @param {string} letter */
  constructor(letter) {
    super();
    this.code = letter.charCodeAt(0);
  }

  /** @param {Sign} other */
  eq(other) {
    return other.code === this.code;
  }

  toDOM() {
    const name = `Hidden letter U+${this.code.toString(16).toUpperCase().padStart(4, "0")}`;
    return html("span", { class: "cm-specialChar", title: name, "aria-label": name }, this.code < 32 ? String.fromCharCode(0x2400 + this.code) : "•");
  }

  ignoreEvent() {
    return false;
  }
}

/** @param {import("@codemirror/view").EditorView} view */
function signs(view) {
  /** @type {RangeSetBuilder<Decoration>} */
  const found = new RangeSetBuilder();
  let left = MOST;
  for (const { from, to } of view.visibleRanges) {
    for (const { 0: letter, index } of view.state.doc.sliceString(from, to).matchAll(HIDDEN)) {
      if (left-- <= 0) return found.finish();
      found.add(from + index, from + index + 1, Decoration.replace({ widget: new Sign(letter) }));
    }
  }
  return found.finish();
}

export const hiddenLetters = ViewPlugin.define((view) => ({
  shown: signs(view),
  /** @param {import("@codemirror/view").ViewUpdate} update */
  update(update) {
    if (update.docChanged || update.viewportChanged) this.shown = signs(update.view);
  },
}), { decorations: ({ shown }) => shown });
