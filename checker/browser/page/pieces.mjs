/** Pieces put into a board: each of their lines goes to the end of its section, in the way in which that section is written. */
import { keysIn, sectionsIn } from "./place.mjs";

/** @typedef {import("./words.mjs").Piece} Piece */
/** @typedef {import("./words.mjs").Words} Words */

/**
 * @param {string} text
 * @param {Piece} piece
 * @param {Words} words
 * @returns {{changes: {from: number, to: number, insert: string}[], name: string}}  in the order of the text; and the first name
 *   that was put in, as it is called there
 */
export function insertion(text, piece, words) {
  const { lines, first } = renamed(text, piece, words);
  const sections = sectionsIn(text);
  /** @type {{from: number, to: number, insert: string}[]} */
  const changes = [];
  let fresh = "";
  for (const [key, added] of Object.entries(lines)) {
    const { shape } = words.sections[key];
    const section = sections.find((one) => one.key === key || (key === "pedals" && one.key === "devices"));
    if (!section) {
      fresh += `\n${key}:\n${added.map((line) => `  ${shape === "list" ? "- " : ""}${line}\n`).join("")}`;
    } else if (shape === "one") {
      continue; // what is described already is not described twice
    } else if (section.flow) {
      const { close, empty } = section.flow;
      const at = text.slice(0, close).trimEnd().length;
      const comma = empty || text[at - 1] === "," ? "" : ", ";
      changes.push({ from: at, to: at, insert: comma + added.join(", ") });
    } else {
      const indent = section.indent ?? "  ";
      const dash = section.dashed || (section.indent === null && shape === "list") ? "- " : "";
      changes.push({ from: section.to, to: section.to, insert: added.map((line) => `\n${indent}${dash}${line}`).join("") });
    }
  }
  if (fresh) {
    const end = text.trimEnd().length;
    changes.push({ from: end, to: text.length, insert: end ? `\n${fresh}` : fresh.trimStart() });
  }
  changes.sort((one, other) => one.from - other.from);
  return { changes, name: first };
}

/** The lines of a piece, with names that the text does not use yet. @param {string} text @param {Piece} piece @param {Words} words */
function renamed(text, piece, words) {
  const used = new Set(keysIn(text).flatMap(({ path }) => (path.length === 2 ? [String(path[1])] : [])));
  const named = Object.entries(piece.lines).flatMap(([key, lines]) => (words.things.includes(key) ? lines.map(nameOf) : []));
  /** @type {Map<string, string>} */
  const names = new Map();
  for (const name of named) {
    let number = 1;
    const called = () => (number === 1 ? name : `${name}_${number}`);
    while (used.has(called())) number += 1;
    used.add(called());
    names.set(name, called());
  }
  /** @type {(line: string) => string} */
  const rename = (line) => line.replace(/(?<![\w.-])[\w-]+(?=[.:\s]|$)/g, (word) => names.get(word) ?? word);
  const lines = Object.fromEntries(Object.entries(piece.lines).map(([key, added]) => [key, added.map((line) => (isChain(line) ? rename(line) : renameHead(line)))]));
  return { lines, first: names.get(named[0]) ?? "" };

  /** @param {string} line */
  function renameHead(line) {
    const name = nameOf(line);
    return names.has(name) ? names.get(name) + line.slice(name.length) : line;
  }
}

/** @param {string} line */
function nameOf(line) {
  return line.slice(0, Math.max(line.indexOf(":"), 0));
}

/** @param {string} line */
function isChain(line) {
  return line.includes(" > ");
}
