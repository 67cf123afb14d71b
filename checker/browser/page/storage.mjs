/** What the browser keeps for this site: for good, or for as long as a tab is open. Either may be switched off, or full. */

/** @param {"localStorage" | "sessionStorage"} [kind] @returns {Storage | null} null where it is switched off */
export function browserStorage(kind = "localStorage") {
  try {
    return window[kind];
  } catch {
    return null;
  }
}

/** @param {Storage | null} storage @param {string} key @param {string} value @returns {boolean} whether it could be kept */
export function keep(storage, key, value) {
  try {
    storage?.setItem(key, value);
    return storage !== null;
  } catch {
    return false;
  }
}
