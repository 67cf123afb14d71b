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
