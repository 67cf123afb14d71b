/** Boards that links ask for: `checker/#example=boards/spare-room-five.yaml` opens one that the site itself serves. */
import { siteLink } from "./dom.mjs";

/**
 * The path that an address asks for, below the site's root; nothing but a board of this site will do.
 * @param {string} hash  of the address, with its "#"
 * @returns {string | null}
 */
export function exampleIn(hash) {
  const path = new URLSearchParams(hash.slice(1)).get("example");
  return path && /^boards\/[\w-]+(\/[\w-]+)*\.yaml$/.test(path) ? path : null;
}

/**
 * The answer that was made when the site was built, for whole boards; it stands in for the checker's own until that has started.
 * @param {string} path  of the board
 * @param {string} baseUrl
 * @returns {Promise<import("./types.mjs").Answer | null>}
 */
export async function fetchBuiltAnswer(path, baseUrl) {
  if (!/^boards\/[\w-]+\.yaml$/.test(path)) return null;
  const url = siteLink(path.replace(/yaml$/, "answer.json"), baseUrl) ?? "";
  return fetch(url).then((response) => (response.ok ? response.json() : null)).catch(() => null);
}

/**
 * @param {string} path
 * @param {string} baseUrl
 * @returns {Promise<string>}
 * @throws {Error} in words for the reader
 */
export async function fetchExample(path, baseUrl) {
  const response = await fetch(siteLink(path, baseUrl) ?? "").catch(() => null);
  if (!response?.ok) throw new Error(`The example ${path} could not be fetched.`);
  return response.text();
}
