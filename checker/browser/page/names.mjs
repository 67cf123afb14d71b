/** Names of boards, which anyone may have written. */
import { titleIn } from "./link.mjs";

/** A name as the page shows it. @param {string} name */
export function shown(name) {
  return titleIn(name) || "Unnamed board";
}

/** The name in a text until the checker has read it: only as such a line is usually written. @param {string} text */
export function nameIn(text) {
  const [, found = ""] = text.slice(0, 20_000).match(/^board:\s*(?:\{\s*)?name:\s*("(?:[^"\\\n]|\\.)*"|'(?:[^'\n]|'')*'|[^\n,}#]+)/m) ?? [];
  return unquoted(found.trim()).trim();
}

/** @param {string} name  as YAML has it on one line */
function unquoted(name) {
  const [, quote = "", inner = ""] = name.match(/^(["'])(.*)\1$/s) ?? [];
  if (!quote) return name;
  if (quote === "'") return inner.replaceAll("''", "'");
  try {
    return JSON.parse(name);
  } catch {
    // YAML knows more escapes than JSON.
    return inner;
  }
}
