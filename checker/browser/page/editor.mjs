/**
 * The code editor: CodeMirror with YAML colours, marks beside the lines and underlines in them. It is fetched after
 * the page has been drawn, and takes the plain text box's place when it has arrived.
 *
 * It lives in a shadow root. CodeMirror then puts its styles into constructed style sheets, which a strict content
 * security policy allows, where in the page itself it would insert a <style> element, which such a policy forbids.
 */
import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { syntaxHighlighting } from "@codemirror/language";
import { nextDiagnostic, previousDiagnostic, setDiagnostics } from "@codemirror/lint";
import { search, searchKeymap } from "@codemirror/search";
import { EditorSelection, EditorState, RangeSet, StateEffect, StateField } from "@codemirror/state";
import {
  EditorView,
  GutterMarker,
  drawSelection,
  gutter,
  highlightActiveLine,
  keymap,
  lineNumbers,
  rectangularSelection,
} from "@codemirror/view";
import { html, prose } from "./dom.mjs";
import { completion, completionKeymap } from "./completion.mjs";
import { colours, look } from "./editor_look.mjs";
import { hiddenLetters } from "./hidden_letters.mjs";
import { KINDS, shape } from "./kinds.mjs";
import { hover } from "./hover.mjs";
import { byLine, inWords } from "./marks.mjs";
import { yamlColours } from "./yaml_colours.mjs";

/** @typedef {import("./types.mjs").Kind} Kind */
/** @typedef {import("./types.mjs").Mark} Mark */
/** @typedef {import("./types.mjs").Span} Span */

/**
 * @param {string} text
 * @param {import("./types.mjs").EditorOptions & {label: string}} options
 * @returns {import("./types.mjs").Editor}
 */
export function codeEditor(text, { label, words, onChange, onMark }) {
  const element = html("div", { class: "bw-code" });
  const root = element.attachShadow({ mode: "open" });

  const extensions = [
    lineMarks(onMark),
    lineNumbers(),
    history(),
    drawSelection(),
    rectangularSelection(),
    highlightActiveLine(),
    hiddenLetters,
    search({ top: true }),
    yamlColours,
    completion(words),
    hover(words),
    syntaxHighlighting(colours),
    look,
    EditorView.lineWrapping,
    // No binding for Tab: it leaves the editor, as it leaves every other control of the page.
    keymap.of([
      { key: "F8", run: nextDiagnostic },
      { key: "Shift-F8", run: previousDiagnostic },
      ...completionKeymap,
      ...defaultKeymap,
      ...historyKeymap,
      ...searchKeymap,
    ]),
    EditorView.contentAttributes.of({ "aria-label": label, tabindex: "0" }),
    EditorView.updateListener.of((update) => {
      if (!update.docChanged) return;
      const pasted = update.transactions.some((one) => one.isUserEvent("input.paste") || one.isUserEvent("input.drop"));
      onChange(pasted ? "pasted" : "typed");
    }),
  ];
  const view = new EditorView({ root, parent: root, state: EditorState.create({ doc: text, extensions }) });

  return {
    element,
    text: () => view.state.doc.toString(),
    setText(text) {
      view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: text }, selection: { anchor: 0 }, userEvent: "input.paste" });
    },
    change(changes) {
      view.dispatch({ changes, scrollIntoView: true, userEvent: "input.paste" });
    },
    open(text) {
      view.setState(EditorState.create({ doc: text, extensions }));
      onChange("pasted");
    },
    setMarks(marks) {
      view.dispatch({ effects: showMarks.of(marks) });
      view.dispatch(
        setDiagnostics(
          view.state,
          marks.filter(({ kind }) => UNDERLINED[kind]).map((mark) => diagnostic(view.state, mark)),
        ),
      );
    },
    jump(span) {
      const { from, to } = range(view.state, span);
      view.dispatch({ selection: { anchor: to, head: from }, effects: EditorView.scrollIntoView(from, { y: "center" }) });
      view.focus();
    },
    hasFocus: () => view.hasFocus,
    selection: () => [view.state.selection.main.anchor, view.state.selection.main.head],
    select(anchor, head) {
      const end = view.state.doc.length;
      view.dispatch({ selection: EditorSelection.single(Math.min(anchor, end), Math.min(head, end)) });
    },
    focus: () => view.focus(),
    destroy() {
      view.destroy();
      element.remove();
    },
  };
}

/**
 * A span as offsets into the document, kept inside it: the text may have changed since the span was made.
 * @param {EditorState} state
 * @param {Span} span
 */
function range(state, span) {
  /** @type {(line: number, column: number) => number} */
  const offset = (line, column) => {
    const { from, to } = state.doc.line(Math.min(Math.max(line, 1), state.doc.lines));
    return Math.min(from + Math.max(column - 1, 0), to);
  };
  const from = offset(span.line, span.column);
  return { from, to: Math.max(from, offset(span.end_line, span.end_column)) };
}

// ---- marks beside the lines

class LineMark extends GutterMarker {
  /** @param {Mark[]} marks  of one line, the most serious first */
  constructor(marks) {
    super();
    this.marks = marks;
  }

  /** @param {GutterMarker} other */
  eq(other) {
    return other instanceof LineMark && this.toString() === other.toString();
  }

  toDOM() {
    return html("span", { class: "bw-mark", title: this.toString() }, shape(this.marks[0].kind));
  }

  toString() {
    return this.marks.map(inWords).join("\n");
  }
}

/** @type {import("@codemirror/state").StateEffectType<Mark[]>} */
const showMarks = StateEffect.define();

/** @type {StateField<RangeSet<GutterMarker>>} */
const markField = StateField.define({
  create: () => RangeSet.empty,
  update(marks, transaction) {
    const effect = transaction.effects.find((one) => one.is(showMarks));
    if (!effect) return marks.map(transaction.changes);
    const { doc } = transaction.state;
    const found = [...byLine(effect.value)].filter(([line]) => line <= doc.lines);
    return RangeSet.of(
      found.map(([line, list]) => new LineMark(list).range(doc.line(line).from)),
      true,
    );
  },
});

/** @param {(key: string) => void} onMark */
function lineMarks(onMark) {
  return [
    markField,
    gutter({
      class: "bw-marks",
      markers: (view) => view.state.field(markField),
      initialSpacer: () => new LineMark([{ kind: "advice", at: { line: 1, column: 1, end_line: 1, end_column: 1 }, message: "", key: "" }]),
      domEventHandlers: {
        click(view, line) {
          let hit = false;
          view.state.field(markField).between(line.from, line.from, (_from, _to, mark) => {
            if (mark instanceof LineMark) onMark(mark.marks[0].key);
            hit = true;
          });
          return hit;
        },
      },
    }),
  ];
}

// ---- underlines in the lines

/** CodeMirror's four degrees decide only which underline lies on top; look and words are ours. @type {Partial<Record<Kind, "error" | "warning" | "info">>} */
const UNDERLINED = { danger: "error", problem: "error", fault: "error", risk: "warning", advice: "info" };

/**
 * @param {EditorState} state
 * @param {Mark} mark
 * @returns {import("@codemirror/lint").Diagnostic}
 */
function diagnostic(state, mark) {
  return {
    ...range(state, mark.at),
    severity: UNDERLINED[mark.kind] ?? "info",
    markClass: `bw-under bw-under--${mark.kind}`,
    message: inWords(mark),
    renderMessage: () =>
      html(
        "span",
        { class: `bw-hint bw-hint--${mark.kind}` },
        shape(mark.kind),
        html("span", {}, html("strong", {}, KINDS[mark.kind].word), " ", prose(mark.message)),
      ),
  };
}
