/**
 * What the browser keeps of each exercise, so that it can be gone on with tomorrow. Whatever stands there, also what nobody
 * here has written, never breaks a page: what does not fit is taken for nothing.
 *
 * @typedef {Object} Progress
 * @property {string | null} text  as the reader left it; null while it is as it came
 * @property {number} mended  how many of the planted faults, at the last answer
 * @property {boolean} solved  once, and for good until the exercise is begun again
 * @property {Object<string, number>} hints  how many the reader asked for, by fault
 */
import { browserStorage, keep } from "./storage.mjs";

const PREFIX = "boardwright/exercise/";
/** The checker reads no more. */
const LONGEST_TEXT = 1_000_000;

/** @param {string} exercise @returns {Progress} */
export function readProgress(exercise) {
  const said = parsed(browserStorage()?.getItem(PREFIX + exercise) ?? "{}");
  const hints = said.hints && typeof said.hints === "object" ? Object.entries(said.hints) : [];
  return {
    text: typeof said.text === "string" && said.text.length <= LONGEST_TEXT ? said.text : null,
    mended: Number.isInteger(said.mended) && said.mended > 0 ? said.mended : 0,
    solved: said.solved === true,
    hints: Object.fromEntries(hints.filter(([, count]) => Number.isInteger(count) && count >= 0)),
  };
}

/** @param {string} exercise @param {Progress} progress @returns {boolean} whether it could be kept */
export function keepProgress(exercise, progress) {
  return keep(browserStorage(), PREFIX + exercise, JSON.stringify(progress));
}

/** @param {string} exercise */
export function forgetProgress(exercise) {
  browserStorage()?.removeItem(PREFIX + exercise);
}

/** @param {string} raw */
function parsed(raw) {
  try {
    const said = JSON.parse(raw);
    return said && typeof said === "object" ? said : {};
  } catch {
    return {};
  }
}
