/**
 * Where things stand in a board's text, worked out from the text alone, however unfinished it is: the checker reads a
 * text that is whole, but words are offered in one that is being typed.
 *
 * @typedef {(string | number)[]} Path  keys, and positions in lists
 *
 * @typedef {Object} Place  what is being typed at an offset
 * @property {"key" | "value"} at
 * @property {boolean} either  whether a value may yet turn out to be a key: what follows a dash
 * @property {Path} path  of the mapping that the key belongs to, or of the value
 * @property {number} from  where the word begins
 * @property {string} typed  of it, up to the offset
 * @property {Set<string>} beside  the other keys of the same mapping
 *
 * @typedef {Object} SectionPlace  a section as it stands in the text
 * @property {string} key
 * @property {number} from  where its first line begins
 * @property {number} to  behind its last line that says something, without its end of line
 * @property {number} value  where what stands behind the colon begins
 * @property {{close: number, empty: boolean} | null} flow  if it stands in brackets: where they close
 * @property {string | null} indent  of the lines of its entries, if it has any and stands in lines
 * @property {boolean} dashed  whether these begin with a dash
 */

const KEY = /^(?:"([^"\n]*)"\s*|'([^'\n]*)'\s*|([^\s"'#{}[\],&*!|>%@`][^#{}[\],\n]*?)):(?=\s|$)/;
/** The checker reads nothing that lies deeper, so neither is it looked at here. */
const DEEPEST = 64;

/**
 * @typedef {{indent: number, list: boolean, keys: Set<string>, key: string | null, index: number}} Frame
 * @typedef {{at: "key" | "value", path: Path, from: number, keys: Set<string>, either: boolean}} Seen
 */

class Scan {
  /**
   * @param {string} text
   * @param {number} offset  of the cursor, or -1
   * @param {(path: Path, from: number, to: number) => void} [onKey]
   */
  constructor(text, offset, onKey = () => {}) {
    this.text = text;
    this.offset = offset;
    this.onKey = onKey;
    /** @type {Frame[]} */
    this.blocks = [];
    /** @type {Frame[]} */
    this.flow = [];
    /** Where the word begins that is being read inside brackets. @type {number} */
    this.word = -1;
    /** @type {Seen | null} */
    this.seen = null;
    /** Called where brackets close that stand in no others. @type {(close: number) => void} */
    this.closed = () => {};
    this.tooDeep = false;
  }

  run() {
    let start = 0;
    while (start <= this.text.length && !this.tooDeep) {
      const newline = this.text.indexOf("\n", start);
      const end = newline < 0 ? this.text.length : newline;
      if (this.flow.length) this.value(start, end);
      else this.line(start, end);
      start = end + 1;
    }
    return this;
  }

  /** @returns {Path} */
  path() {
    /** @type {Path} */
    const path = [];
    for (const { list, index, key } of [...this.blocks, ...this.flow]) {
      if (list) path.push(index);
      else if (key !== null) path.push(key);
    }
    return path;
  }

  /** @param {number} start @param {number} end */
  holds(start, end) {
    return this.seen === null && start <= this.offset && this.offset <= end;
  }

  /** @param {"key" | "value"} at @param {Path} path @param {number} from @param {Set<string>} keys @param {boolean} [either] */
  see(at, path, from, keys, either = false) {
    this.seen = { at, path, from, keys, either };
  }

  /** A line outside of brackets. @param {number} start @param {number} end */
  line(start, end) {
    const line = this.text.slice(start, end);
    let column = line.length - line.trimStart().length;
    let rest = line.slice(column);
    if (rest === "" || rest.startsWith("#")) {
      if (rest === "" && this.holds(start, end)) this.open(this.offset - start, this.offset);
      return;
    }
    while (/^-(\s|$)/.test(rest)) {
      this.leave(column, true);
      const top = this.blocks.at(-1);
      if (top?.list && top.indent === column) top.index += 1;
      else this.blocks.push({ ...frame(column, true), index: 0 });
      if ((this.tooDeep = this.blocks.length > DEEPEST)) return;
      const skip = 1 + (rest.length - 1 - rest.slice(1).trimStart().length);
      column += skip;
      rest = rest.slice(skip);
      if (rest === "" && this.holds(start + column, end)) return this.open(column, this.offset);
    }
    const found = KEY.exec(rest);
    if (!found) {
      const from = start + column;
      if (this.holds(from, end) && !/^["'{[&*|>]/.test(rest)) return this.open(column, from);
      return this.value(from, end);
    }
    const name = found[1] ?? found[2] ?? found[3].trimEnd();
    this.leave(column, false);
    let top = this.blocks.at(-1);
    if (!top || top.list || top.indent !== column) this.blocks.push((top = frame(column, false)));
    top.key = null;
    const from = start + column;
    const colon = from + found[0].length - 1;
    if (this.holds(from, colon)) this.see("key", this.path(), from, top.keys);
    this.name(top, name, from, colon);
    this.value(colon + 1, end);
  }

  /** Leaves blocks that a line at this column no longer belongs to. @param {number} column @param {boolean} dash */
  leave(column, dash) {
    while (this.blocks.length) {
      const { indent, list } = /** @type {Frame} */ (this.blocks.at(-1));
      // A list may stand in the column of the key that it belongs to.
      if (indent < column || (indent === column && (list === dash || (dash && !list)))) return;
      this.blocks.pop();
    }
  }

  /** A word without a colon so far, which may become a key; or an empty line on which one may begin. @param {number} column @param {number} from */
  open(column, from) {
    const kept = [...this.blocks];
    while (this.blocks.length && /** @type {Frame} */ (this.blocks.at(-1)).indent > column) this.blocks.pop();
    const top = this.blocks.at(-1);
    const same = top && !top.list && top.indent === column;
    const key = top?.key ?? null;
    if (same) top.key = null;
    const inList = this.blocks.length > 0 && Boolean(top?.list);
    // Of what stands in a list, only the language knows whether it is a value or a mapping; whoever asks may try both.
    this.see(inList ? "value" : "key", this.path(), from, same ? top.keys : new Set(), inList);
    if (same) top.key = key;
    this.blocks = kept;
  }

  /** What stands behind a colon, or goes on inside brackets. @param {number} from @param {number} end */
  value(from, end) {
    const { text } = this;
    let place = from;
    if (!this.flow.length) {
      while (place < end && text[place] === " ") place += 1;
      if (text[place] !== "{" && text[place] !== "[") {
        const comment = text.slice(place, end).search(/(^|\s)#/);
        const stop = comment < 0 || /^["']/.test(text.slice(place)) ? end : place + comment;
        if (this.holds(from, stop)) this.see("value", this.path(), Math.min(place, this.offset), new Set());
        return;
      }
      if (this.holds(from, place - 1)) this.see("value", this.path(), this.offset, new Set());
    }
    this.word = -1;
    for (; place < end; place += 1) {
      if (place === this.offset) this.inBrackets();
      const letter = text[place];
      if (letter === "#" && /\s/.test(text[place - 1] ?? " ")) return;
      if (letter === "{" || letter === "[") {
        this.flow.push(frame(-1, letter === "["));
        if ((this.tooDeep = this.flow.length > DEEPEST)) return;
        if (letter === "[") /** @type {Frame} */ (this.flow.at(-1)).index = 0;
        this.word = -1;
      } else if (letter === "}" || letter === "]") {
        this.flow.pop();
        this.word = -1;
        if (!this.flow.length) {
          this.closed(place);
          return;
        }
      } else if (letter === ",") {
        const top = /** @type {Frame} */ (this.flow.at(-1));
        top.key = null;
        top.index += 1;
        this.word = -1;
      } else if (letter === ":" && this.word >= 0 && /[\s,}\]]|^$/.test(text[place + 1] ?? "")) {
        const top = /** @type {Frame} */ (this.flow.at(-1));
        if (!top.list && top.key === null) {
          this.name(top, unquoted(text.slice(this.word, place).trim()), this.word, place);
          this.word = -1;
        }
      } else if ((letter === '"' || letter === "'") && this.word < 0) {
        this.word = place;
        const close = text.indexOf(letter, place + 1);
        if (close < 0 || close >= end) return;
        if (this.offset > place && this.offset <= close) this.inBrackets();
        place = close;
      } else if (!/\s/.test(letter) && this.word < 0) this.word = place;
    }
    if (end === this.offset) this.inBrackets();
    // A word does not go on in the next line, as far as typing is concerned.
    this.word = -1;
  }

  inBrackets() {
    const top = this.flow.at(-1);
    if (this.seen || !top) return;
    const from = this.word < 0 ? this.offset : this.word;
    const isKey = !top.list && top.key === null;
    this.see(isKey ? "key" : "value", this.path(), from, isKey ? top.keys : new Set());
  }

  /** @param {Frame} holder @param {string} name @param {number} from @param {number} to */
  name(holder, name, from, to) {
    holder.key = name;
    holder.keys.add(name);
    this.onKey(this.path(), from, to);
  }
}

/** @param {number} indent @param {boolean} list @returns {Frame} */
function frame(indent, list) {
  return { indent, list, keys: new Set(), key: null, index: -1 };
}

/** @param {string} word */
function unquoted(word) {
  return /^(["']).*\1$/.test(word) ? word.slice(1, -1) : word;
}

/**
 * What is being typed at an offset; nothing inside a comment.
 * @param {string} text
 * @param {number} offset
 * @returns {Place | null}
 */
export function placeAt(text, offset) {
  const { seen } = new Scan(text, offset).run();
  if (!seen) return null;
  const beside = new Set(seen.keys);
  if (seen.at === "key") beside.delete(KEY.exec(text.slice(seen.from))?.[0].replace(/\s*:$/, "") ?? "");
  return { at: seen.at, either: seen.either, path: seen.path, from: seen.from, typed: text.slice(seen.from, offset), beside };
}

/**
 * Every key of a text with its path, in order.
 * @param {string} text
 * @returns {{path: Path, from: number, to: number}[]}
 */
export function keysIn(text) {
  /** @type {{path: Path, from: number, to: number}[]} */
  const found = [];
  new Scan(text, -1, (path, from, to) => found.push({ path, from, to })).run();
  return found;
}

/**
 * The sections of a text, in order.
 * @param {string} text
 * @returns {SectionPlace[]}
 */
export function sectionsIn(text) {
  /** @type {SectionPlace[]} */
  const sections = [];
  const scan = new Scan(text, -1, (path, from, to) => {
    if (path.length === 1) sections.push({ key: String(path[0]), from, to, value: to + 1, flow: null, indent: null, dashed: false });
  });
  scan.closed = (close) => {
    const section = sections.at(-1);
    if (!section || scan.blocks.length !== 1 || section.flow) return;
    const open = section.value + text.slice(section.value).search(/\S/);
    section.flow = { close, empty: text.slice(open + 1, close).trim() === "" };
  };
  scan.run();
  sections.forEach((section, index) => {
    const end = sections[index + 1]?.from ?? text.length;
    const lines = text.slice(section.from, end).split("\n");
    while (lines.length > 1 && /^\s*(#.*)?$/.test(/** @type {string} */ (lines.at(-1)))) lines.pop();
    section.to = section.from + lines.join("\n").length;
    const first = lines.slice(1).find((line) => /^\s*[^\s#]/.test(line));
    if (!section.flow && first) {
      section.indent = /^\s*/.exec(first)?.[0] ?? "";
      section.dashed = /^\s*-(\s|$)/.test(first);
    }
  });
  return sections;
}
