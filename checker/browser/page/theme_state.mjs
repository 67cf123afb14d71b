/**
 * What the theme keeps in the browser. It believes whatever stands there, so that one entry gone bad would stop all its scripts
 * (menu, search, colours) on every page, for ever. Such an entry is thrown away, and the next page is right.
 */
import { browserStorage } from "./storage.mjs";

/** Of the site, which the theme puts in front of its names; this script stands in assets/checker/. */
const PREFIX = `${new URL("../../", import.meta.url).pathname}.__`;
const COLOURS = ["media", "scheme", "primary", "accent"];

export function dropBadThemeState() {
  const storage = browserStorage();
  for (const key of Object.keys(storage ?? {})) {
    if (key.startsWith(PREFIX) && !isSound(key.slice(PREFIX.length), storage?.getItem(key) ?? "")) storage?.removeItem(key);
  }
}

/** @param {string} name @param {string} raw */
function isSound(name, raw) {
  try {
    const said = JSON.parse(raw);
    if (name !== "palette") return true;
    const { index, color } = said;
    return Number.isInteger(index) && Object.entries(color).every(([key, value]) => COLOURS.includes(key) && typeof value === "string");
  } catch {
    return false;
  }
}
