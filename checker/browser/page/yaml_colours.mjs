/**
 * CodeMirror's YAML, for texts that are not nested beyond all reason. It follows brackets inside brackets by calling itself,
 * when it reads them and again when it colours them, and some thousands of them are more calls than a browser allows. Such
 * a text stands in the editor without colours.
 */
import { yamlLanguage } from "@codemirror/lang-yaml";
import { Language } from "@codemirror/language";
import { NodeType, Parser, Tree } from "@lezer/common";

/** Far deeper than what the checker reads, and a small part of what a browser allows. */
const DEEPEST = 300;
/** Of a line's first word; what is nested without brackets has a column for each level. */
const RIGHTMOST = 2 * DEEPEST;

class Yaml extends Parser {
  /**
   * @param {import("@lezer/common").Input} input
   * @param {readonly import("@lezer/common").TreeFragment[]} fragments
   * @param {readonly {from: number, to: number}[]} ranges
   * @returns {import("@lezer/common").PartialParse}
   */
  createParse(input, fragments, ranges) {
    if (!isTooDeep(input.read(0, input.length))) return yamlLanguage.parser.createParse(input, fragments, ranges);
    const plain = new Tree(NodeType.none, [], [], input.length);
    return { advance: () => plain, parsedPos: input.length, stopAt: () => {}, stoppedAt: null };
  }
}

/** Brackets count wherever they stand: one that a comment leaves open makes no difference yet. @param {string} text */
function isTooDeep(text) {
  let depth = 0;
  let column = 0;
  let beforeWords = true;
  for (let place = 0; place < text.length; place += 1) {
    const letter = text[place];
    if (letter === "[" || letter === "{") depth += 1;
    else if (letter === "]" || letter === "}") depth = Math.max(depth - 1, 0);
    if (letter === "\n") {
      column = 0;
      beforeWords = true;
    } else if (beforeWords) {
      beforeWords = letter === " " || letter === "-";
      column += 1;
    }
    if (depth > DEEPEST || column > RIGHTMOST) return true;
  }
  return false;
}

export const yamlColours = new Language(yamlLanguage.data, new Yaml(), [], "yaml");
