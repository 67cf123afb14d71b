/** The board that was checked last in this tab, for the fault finder. Nothing leaves the browser; it is gone with the tab. */
import { browserStorage, keep } from "./storage.mjs";

const KEY = "boardwright/checked-board";

/** @param {string} text */
export function handOver(text) {
  keep(browserStorage("sessionStorage"), KEY, text);
}

/** @returns {string | null} */
export function handedOver() {
  return browserStorage("sessionStorage")?.getItem(KEY) ?? null;
}
