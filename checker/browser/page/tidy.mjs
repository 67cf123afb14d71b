/**
 * Tidies how a board is laid out: two spaces for each step inwards, one behind colons and commas, no more than one empty line.
 * It moves spaces and nothing else: words, comments and meaning stay, and where it is not sure of that it leaves the text alone.
 */

const HEAD = /^("[^"]*"\s*|'[^']*'\s*|[^\s"'#{}[\],&*!|>%@`][^#{}[\],]*?):(?:(\s+)|$)/;
const TIED = /^(?:---|\.\.\.|%)|(?:^|[\s[{,:])[&*][^\s&*]/m;
const OVER_LINES = /(?::|-)\s+[|>][+-]?\d*\s*(?:#.*)?$/m;
/** A line longer than this was not written by hand, and takes its length squared. */
const LONGEST_LINE = 5000;

/**
 * @param {string} text
 * @returns {string | null}  null where the text has something that is better left alone
 */
export function tidy(text) {
  if (TIED.test(text) || OVER_LINES.test(text) || /^ *\t/m.test(text) || text.includes("\r")) return null;
  /** Columns of what is open, as they are and as they will be. @type {{old: number, fresh: number}[]} */
  const open = [];
  let depth = 0; // of brackets that are open at the start of a line
  let shift = 0; // of the line on which they opened
  /** @type {{text: string, comment: boolean, old: number, fresh: number}[]} */
  const lines = [];

  for (const raw of text.split("\n")) {
    const line = raw.trimEnd();
    if (line.length > LONGEST_LINE) return null;
    const old = line.length - line.trimStart().length;
    const said = line.slice(old);
    if (said === "" || (said.startsWith("#") && !depth)) {
      lines.push({ text: said, comment: true, old, fresh: -1 });
      continue;
    }
    if (depth) {
      // Inside brackets over several lines the writer's own layout stays.
      const after = brackets(said, depth);
      if (!after || after.depth < 0) return null;
      depth = after.depth;
      const least = depth ? (open.at(-1)?.fresh ?? 0) + 1 : 0;
      lines.push({ text: said, comment: false, old, fresh: Math.max(old + shift, least) });
      continue;
    }
    let rest = said;
    let column = old;
    let made = "";
    let fresh = -1;
    if (/^-(\s|$)/.test(rest)) {
      if (!open.length) return null; // a board is no list
      const gap = /^-\s*/.exec(rest)?.[0].length ?? 1;
      fresh = enter(column, true);
      made = "- ";
      column += gap;
      rest = rest.slice(gap);
      if (/^-(\s|$)/.test(rest)) return null; // a list in a list, on one line
      open.push({ old: column, fresh: fresh + 2 });
    }
    const head = HEAD.exec(rest);
    if (!head && !made) {
      if (!open.length || !/^[{[]/.test(rest)) return null; // text that goes on from the line above
      fresh = enter(column, false); // brackets that have a line of their own, below their key
    }
    if (head) {
      const place = made ? (open.at(-1)?.fresh ?? 0) : enter(column, false);
      if (fresh < 0) fresh = place;
      rest = rest.slice(head[0].length);
      made += `${head[1].trimEnd()}:${rest ? (rest.startsWith("#") ? (head[2] ?? " ") : " ") : ""}`;
    }
    const after = brackets(rest, 0);
    if (!after || after.depth < 0) return null;
    depth = after.depth;
    shift = fresh - old;
    lines.push({ text: (made + (depth ? rest : after.text)).trimEnd(), comment: false, old, fresh });
  }
  return depth ? null : put(lines);

  /** The new column of a line that begins at this one. @param {number} column @param {boolean} dash */
  function enter(column, dash) {
    while (open.length && /** @type {{old: number}} */ (open.at(-1)).old > column) open.pop();
    const top = open.at(-1);
    // Entries of a list stand further in than the key that it belongs to, even where they stood in its column.
    if (top && (dash || top.old === column)) return top.fresh + (dash ? 2 : 0);
    const place = { old: column, fresh: top ? top.fresh + 2 : 0 };
    open.push(place);
    return place.fresh;
  }
}

/**
 * What stands behind a colon or a dash: its brackets in order, their spaces normalised.
 * @param {string} said
 * @param {number} depth  of brackets that are open already
 * @returns {{text: string, depth: number} | null}  null where they do not pair, or a quotation does not end on its line
 */
function brackets(said, depth) {
  if (!depth && /^[}\]]/.test(said)) return null;
  const inFlow = depth > 0 || said.startsWith("{") || said.startsWith("[");
  let made = "";
  for (let place = 0; place < said.length; place += 1) {
    const letter = said[place];
    if (letter === "#" && (place === 0 || /\s/.test(said[place - 1]))) return { text: made + said.slice(place), depth };
    const opens = made === "" || /[{[,:\s]/.test(made[made.length - 1]);
    if ((letter === '"' || letter === "'") && opens) {
      const quoted = /^"(?:[^"\\]|\\.)*"|^'(?:[^']|'')*'/.exec(said.slice(place))?.[0];
      if (!quoted) return null;
      made += quoted;
      place += quoted.length - 1;
    } else if (!inFlow || (depth === 0 && made)) made += letter;
    else if (letter === "{" || letter === "[") {
      depth += 1;
      made += letter;
      while (said[place + 1] === " ") place += 1;
    } else if (letter === "}" || letter === "]") {
      depth -= 1;
      made = made.trimEnd() + letter;
    } else if (letter === ",") {
      made = `${made.trimEnd()},`;
      while (said[place + 1] === " ") place += 1;
      if (place + 1 < said.length && !/[}\]#]/.test(said[place + 1])) made += " ";
      else if (said[place + 1] === "#") made += " ";
    } else if (letter === ":" && said[place + 1] === " ") {
      made = `${made}: `;
      while (said[place + 1] === " ") place += 1;
    } else made += letter;
  }
  return { text: made, depth };
}

/** @param {{text: string, comment: boolean, old: number, fresh: number}[]} lines */
function put(lines) {
  /** @type {string[]} */
  const made = [];
  const saying = lines.filter((line) => !line.comment);
  let said = 0;
  /** The last new column of each old one. @type {Map<number, number>} */
  const columns = new Map();
  for (const line of lines) {
    let { fresh } = line;
    if (!line.comment) {
      said += 1;
      columns.set(line.old, fresh);
    } else if (line.text) {
      // A comment goes with the line below it; at the end of a part, with what it stood in line with.
      const next = saying[said];
      fresh = next && next.old === line.old ? next.fresh : (columns.get(line.old) ?? line.old);
    }
    if (line.text || made.at(-1)) made.push(line.text ? " ".repeat(fresh) + line.text : "");
  }
  while (made.length && made.at(-1) === "") made.pop();
  return made.length ? `${made.join("\n")}\n` : "";
}
