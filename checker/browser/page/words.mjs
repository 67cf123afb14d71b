/**
 * The words of the language, as the site was built with them: see boardwright.site.editor_words, which cuts them out of the
 * schema. Fetched when they are first wanted.
 *
 * @typedef {Object} Key
 * @property {string} about
 * @property {string[]} [words]  that may stand behind it
 * @property {string[]} [such]  examples of what may
 * @property {"outlet" | "jack" | "chain" | "thing"} [names]  of what the board describes
 * @property {string} [part]  the mapping that may
 * @property {"list" | "named"} [shape]
 *
 * @typedef {{title: string, about: string, then: string, lines: Record<string, string[]>}} Piece
 *
 * @typedef {Object} Words
 * @property {Record<string, {about: string, shape: "one" | "named" | "list", part: string, short?: string}>} sections
 * @property {Record<string, Record<string, Key>>} parts
 * @property {string[]} things  sections whose names leads can join
 * @property {Piece[]} pieces
 * @property {{title: string, address: string}[]} starters
 */

/** @type {Promise<Words> | null} */
let fetched = null;

/** @param {string} baseUrl  absolute address of the site's root @returns {Promise<Words>} */
export function fetchWords(baseUrl) {
  fetched ??= fetch(new URL("assets/checker/editor-words.json", baseUrl))
    .then((response) => {
      if (!response.ok) throw new Error(`status ${response.status}`);
      return response.json();
    })
    .catch(() => {
      fetched = null; // so that the next one who asks may have more luck
      throw new Error("The words of the language could not be fetched from this site.");
    });
  return fetched;
}

/**
 * What the language says of a place: a key, or whatever stands in its place in a list or behind a name of the writer's own.
 * @param {Words} words
 * @param {import("./place.mjs").Path} path
 * @returns {(Partial<Key> & {about: string, shape?: string}) | null}
 */
export function meaning(words, path) {
  const [first, ...rest] = path;
  const section = words.sections[String(first)];
  if (!section) return null;
  /** @type {Partial<Key> & {about: string, shape?: string, short?: string}} */
  let here = { ...section, shape: section.shape === "one" ? undefined : section.shape };
  for (const step of rest) {
    if (here.shape === "named" && typeof step === "string") here = { ...here, shape: undefined };
    else if (typeof step === "number") here = { ...here, shape: here.shape === "list" ? undefined : here.shape };
    else {
      const next = words.parts[here.part ?? ""]?.[step];
      if (!next) return null;
      here = next;
    }
  }
  const short = section.short && rest.length <= 1 ? words.parts[section.part][section.short] : null;
  return short ? { ...short, part: section.part, about: section.about } : here;
}
