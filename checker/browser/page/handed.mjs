/** The board that was checked last in this tab, for the fault finder. Nothing leaves the browser; it is gone with the tab. */
const KEY = "bw-checked-board";

/** @param {string} text */
export function handOver(text) {
  keep(KEY, text);
}

/** @returns {string | null} */
export function handedOver() {
  return kept(KEY);
}

/** Storage may be switched off or full: then nothing is kept. @param {string} key @param {string} value */
export function keep(key, value) {
  try {
    sessionStorage.setItem(key, value);
  } catch {
    // as if it had been closed in between
  }
}

/** @param {string} key @returns {string | null} */
export function kept(key) {
  try {
    return sessionStorage.getItem(key);
  } catch {
    return null;
  }
}
