/** From an answer to the marks beside the lines of its text. */
import { plain } from "./dom.mjs";
import { KINDS, ORDER } from "./kinds.mjs";

/** @typedef {import("./types.mjs").Answer} Answer */
/** @typedef {import("./types.mjs").Kind} Kind */
/** @typedef {import("./types.mjs").Mark} Mark */
/** @typedef {import("./types.mjs").Span} Span */

/**
 * Where something is said to be: its own span, or the first of its things that has one.
 * @param {{at: Span | null, things?: {at: Span | null}[]}} said
 * @returns {Span | null}
 */
export function placeOf(said) {
  return said.at ?? said.things?.find((thing) => thing.at)?.at ?? null;
}

/**
 * Every mark of an answer, by place. The keys are those that `renderAnswer` gives to its cards.
 * @param {Answer} answer
 * @returns {Mark[]}
 */
export function marksOf(answer) {
  /** @type {(kind: Kind, said: {at: Span | null}, message: string, key: string) => Mark[]} */
  const mark = (kind, said, message, key) => {
    const at = placeOf(said);
    return at ? [{ kind, at, message, key }] : [];
  };
  return [
    ...answer.problems.flatMap((said, index) => mark("problem", said, said.message, `problem-${index}`)),
    ...answer.findings.flatMap((said, index) => mark(said.severity, said, said.sentence, `finding-${index}`)),
    ...answer.check_first.flatMap((said, index) => mark("undecided", said, said.question, `check-first-${index}`)),
    ...answer.undecided.flatMap((said, index) => mark("undecided", said, said.question, `undecided-${index}`)),
    ...answer.accepted.flatMap((said, index) => mark("accepted", said, said.sentence, `accepted-${index}`)),
    ...answer.unused_accepts.flatMap((said, index) =>
      mark("unused", said, `there is no finding of ${said.rule} here to accept`, `unused-${index}`),
    ),
  ].sort((a, b) => a.at.line - b.at.line || a.at.column - b.at.column);
}

/**
 * The marks of each line, the most serious first.
 * @param {Mark[]} marks
 * @returns {Map<number, Mark[]>}
 */
export function byLine(marks) {
  /** @type {Map<number, Mark[]>} */
  const lines = new Map();
  for (const mark of marks) {
    const line = lines.get(mark.at.line);
    if (line) line.push(mark);
    else lines.set(mark.at.line, [mark]);
  }
  for (const line of lines.values()) line.sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
  return lines;
}

/**
 * One mark in words, for a tooltip.
 * @param {Mark} mark
 */
export function inWords(mark) {
  return `${KINDS[mark.kind].word}: ${plain(mark.message)}`;
}
