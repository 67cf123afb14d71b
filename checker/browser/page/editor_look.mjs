/**
 * How the code editor looks. Every colour is a custom property of the page, so that light and dark are decided in one
 * place (palette.css).
 */
import { HighlightStyle } from "@codemirror/language";
import { EditorView } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import { KINDS } from "./kinds.mjs";

/** @typedef {import("./types.mjs").Kind} Kind */

export const colours = HighlightStyle.define([
  { tag: [tags.definition(tags.propertyName), tags.propertyName], color: "var(--bw-code-key)" },
  { tag: [tags.string, tags.content], color: "var(--bw-ink)" },
  { tag: tags.comment, color: "var(--bw-soft)", fontStyle: "italic" },
  { tag: [tags.labelName, tags.typeName, tags.keyword, tags.meta], color: "var(--bw-code-name)" },
  { tag: [tags.punctuation, tags.separator, tags.bracket, tags.squareBracket, tags.brace], color: "var(--bw-soft)" },
]);

/** @type {(kind: Kind, style: string) => Record<string, Record<string, string>>} */
const under = (kind, style) => ({
  [`.bw-under--${kind}`]: {
    textDecoration: `underline ${style} var(--bw-${kind})`,
    textUnderlineOffset: "3px",
    textDecorationSkipInk: "none",
  },
});

export const look = EditorView.theme({
  "&": { color: "var(--bw-ink)", backgroundColor: "var(--bw-paper)", fontSize: "var(--bw-code-size)", minHeight: "0", flex: "1 1 auto" },
  // The element around the shadow root shows the focus.
  "&.cm-focused": { outline: "none" },
  ".cm-scroller": { fontFamily: "var(--bw-code-font)", lineHeight: "var(--bw-code-leading)", overflow: "auto" },
  ".cm-content": { padding: "8px 0", caretColor: "var(--bw-ink)" },
  // Wrapped lines hang, so that a new line can be told from the rest of an old one.
  ".cm-line": { padding: "0 8px 0 calc(6px + 4ch)", textIndent: "-4ch" },
  ".cm-cursor": { borderLeftColor: "var(--bw-ink)", borderLeftWidth: "2px" },
  "&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground": {
    background: "var(--bw-selection)",
  },
  ".cm-activeLine": { backgroundColor: "transparent" },
  "&.cm-focused .cm-activeLine": { backgroundColor: "var(--bw-active)" },
  ".cm-gutters": { color: "var(--bw-soft)", backgroundColor: "var(--bw-paper)", border: "none", borderRight: "1px solid var(--bw-hair)" },
  ".cm-lineNumbers .cm-gutterElement": { padding: "0 8px 0 2px", minWidth: "2.6ch" },
  ".bw-marks": { width: "24px" },
  ".bw-marks .cm-gutterElement": { padding: "0", cursor: "pointer" },
  ".bw-mark": { display: "flex", justifyContent: "center", height: "var(--bw-code-row)", alignItems: "center" },
  ".bw-shape": { width: "16px", height: "16px", flex: "none" },
  ...shapeLook(),
  // The library draws its underlines as images inside the style sheet; ours are text decorations, which print,
  // follow the colour scheme and need no image to be allowed.
  ".cm-lintRange": { backgroundImage: "none", paddingBottom: "0" },
  ".cm-lintPoint:after": { display: "none" },
  ".cm-lintRange-active": { backgroundColor: "var(--bw-active)" },
  // Where several meet on one word, the last of these rules shows: the most serious.
  ...under("advice", "dotted 2px"),
  ...under("risk", "dashed 2px"),
  ...under("fault", "wavy 1.5px"),
  ...under("problem", "solid 2px"),
  ...under("danger", "double 2px"),
  ".cm-tooltip": {
    color: "var(--bw-ink)",
    backgroundColor: "var(--bw-raised)",
    border: "1px solid var(--bw-edge)",
    borderRadius: "4px",
    maxWidth: "34em",
  },
  ".cm-diagnostic": {
    padding: "6px 10px",
    border: "none",
    fontFamily: "var(--bw-text-font)",
    fontSize: "14px",
    lineHeight: "1.45",
    whiteSpace: "normal",
  },
  ".cm-diagnostic + .cm-diagnostic": { borderTop: "1px solid var(--bw-hair)" },
  ".bw-explained": { padding: "6px 10px", fontFamily: "var(--bw-text-font)", fontSize: "14px", lineHeight: "1.45" },
  ".bw-explained p": { margin: "0" },
  ".bw-explained code, .cm-completionInfo code": { fontFamily: "var(--bw-code-font)", fontSize: "0.93em" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul": { fontFamily: "var(--bw-code-font)", maxHeight: "13em" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul > li": { padding: "3px 8px", lineHeight: "1.4" },
  ".cm-tooltip-autocomplete ul li[aria-selected]": { color: "var(--bw-paper)", background: "var(--bw-ink)" },
  ".cm-completionDetail": { marginLeft: "1em", color: "inherit", fontStyle: "normal", opacity: "0.8" },
  ".cm-tooltip.cm-completionInfo": { padding: "6px 10px", fontFamily: "var(--bw-text-font)", fontSize: "14px", lineHeight: "1.45" },
  ".bw-hint": { display: "flex", gap: "8px", alignItems: "flex-start" },
  ".bw-hint code": { fontFamily: "var(--bw-code-font)", fontSize: "0.93em" },
  ".bw-hint .bw-shape": { marginTop: "2px" },
  ".cm-panels": { color: "var(--bw-ink)", backgroundColor: "var(--bw-raised)", fontFamily: "var(--bw-text-font)" },
  ".cm-panels-top": { borderBottom: "1px solid var(--bw-edge)" },
  ".cm-panel.cm-search": { padding: "6px 30px 6px 8px", fontSize: "14px" },
  ".cm-panel.cm-search [name=close]": {
    color: "var(--bw-ink)",
    minWidth: "28px",
    minHeight: "28px",
    fontSize: "20px",
    top: "4px",
    right: "4px",
  },
  ".cm-panel.cm-search label": { fontSize: "13px", display: "inline-flex", alignItems: "center", gap: "4px", minHeight: "24px" },
  ".cm-textfield": {
    backgroundColor: "var(--bw-paper)",
    border: "1px solid var(--bw-edge)",
    borderRadius: "3px",
    fontSize: "14px",
    padding: "3px 6px",
  },
  ".cm-button": {
    backgroundImage: "none",
    backgroundColor: "var(--bw-paper)",
    color: "var(--bw-ink)",
    border: "1px solid var(--bw-edge)",
    borderRadius: "3px",
    fontSize: "13px",
    padding: "3px 8px",
  },
  ".cm-button:focus-visible, .cm-textfield:focus-visible, .cm-panel input:focus-visible, .cm-panel button:focus-visible": {
    outline: "2px solid var(--bw-focus)",
    outlineOffset: "1px",
  },
  ".cm-searchMatch": { backgroundColor: "var(--bw-active)", outline: "1px solid var(--bw-soft)" },
  ".cm-searchMatch-selected": { backgroundColor: "var(--bw-selection)" },
  "@media print": { "&": { display: "none" } },
});

/** The rules of answer.css for shapes do not reach into the shadow root. */
function shapeLook() {
  /** @type {Record<string, Record<string, string>>} */
  const rules = {
    ".bw-shape__solid": { fill: "currentColor" },
    ".bw-shape__line": { fill: "none", stroke: "currentColor", strokeWidth: "2" },
    ".bw-shape__sign": { fill: "none", stroke: "currentColor", strokeWidth: "2", strokeLinecap: "round" },
    ".bw-shape__cut": { fill: "none", stroke: "var(--bw-paper)", strokeWidth: "2", strokeLinecap: "round" },
  };
  for (const kind of Object.keys(KINDS)) rules[`.bw-shape--${kind}`] = { color: `var(--bw-${kind})` };
  return rules;
}
