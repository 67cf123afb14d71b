/** Words offered while typing: keys, the words that a key knows, and the names of what the board describes. */
import { autocompletion, completionKeymap } from "@codemirror/autocomplete";
import { keysIn, placeAt } from "./place.mjs";
import { html, prose } from "./dom.mjs";
import { meaning } from "./words.mjs";

/** @typedef {import("@codemirror/autocomplete").Completion} Completion */
/** @typedef {import("./words.mjs").Words} Words */

/**
 * @param {() => Promise<Words>} words
 * @returns {import("@codemirror/state").Extension}
 */
export function completion(words) {
  return autocompletion({
    override: [(context) => offered(context, words)],
    // Enter is for a new line, until somebody has chosen one of the words with the arrows.
    selectOnOpen: false,
    icons: false,
  });
}

export { completionKeymap };

/**
 * @param {import("@codemirror/autocomplete").CompletionContext} context
 * @param {() => Promise<Words>} words
 * @returns {Promise<import("@codemirror/autocomplete").CompletionResult | null>}
 */
async function offered(context, words) {
  const text = context.state.doc.toString();
  const place = placeAt(text, context.pos);
  // Nothing is offered where nothing is typed, and that is said at once: while an answer is waited for, what is typed asks for no
  // other, and "nothing" for an older place would be the last word on it.
  if (!place || (!context.explicit && !place.typed)) return null;
  const known = await words().catch(() => null);
  if (!known) return null;
  const options = place.at === "key" ? keys(known, place) : [...values(known, place, text), ...(place.either ? keys(known, place) : [])];
  const typed = /[^\s>,]*$/.exec(place.typed)?.[0] ?? "";
  const from = place.at === "key" || !options.some((one) => one.type === "name") ? place.from : context.pos - typed.length;
  if (!options.length || (!context.explicit && from === context.pos)) return null;
  return { from, options, validFor: /^[^\s>,:{}[\]]*$/ };
}

/** @param {Words} words @param {import("./place.mjs").Place} place @returns {Completion[]} */
function keys(words, { path, beside }) {
  if (!path.length) return entries(words.sections, beside);
  const here = meaning(words, path);
  return here?.part && !here.shape ? entries(words.parts[here.part], beside) : [];
}

/** @param {Record<string, {about: string}>} known @param {Set<string>} beside @returns {Completion[]} */
function entries(known, beside) {
  return Object.entries(known)
    .filter(([key]) => !beside.has(key))
    .map(([key, { about }]) => ({ label: key, apply: `${key}: `, info: () => html("span", {}, prose(about)), type: "key" }));
}

/** @param {Words} words @param {import("./place.mjs").Place} place @param {string} text @returns {Completion[]} */
function values(words, { path }, text) {
  const here = meaning(words, path);
  if (!here) return [];
  const names = here.names ? namesOf(words, here.names, text) : [];
  return [
    ...names.map(({ name, section }) => ({ label: name, detail: section, type: "name" })),
    ...(here.words ?? []).map((word, index) => ({ label: word, type: "word", boost: -index })),
    ...(here.names ? [] : (here.such ?? [])).map((example) => ({ label: example, detail: "such as", type: "word", boost: -99 })),
  ];
}

/**
 * What the board describes and a value may name.
 * @param {Words} words
 * @param {NonNullable<import("./words.mjs").Key["names"]>} kind
 * @param {string} text
 */
function namesOf(words, kind, text) {
  const found = kind === "outlet" ? [{ name: "battery", section: "" }] : kind === "thing" ? [] : [{ name: "guitar", section: "" }];
  for (const { path } of keysIn(text)) {
    const section = String(path[0]);
    if (kind === "outlet" && section === "supplies" && path.length === 4 && path[2] === "outlets") found.push({ name: `${path[1]}.${path[3]}`, section });
    if (kind !== "outlet" && path.length === 2 && (words.things.includes(section) || section === "devices")) found.push({ name: String(path[1]), section });
  }
  return found;
}
