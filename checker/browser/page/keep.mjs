/**
 * Keeping the site in the browser for use without a network, by the service worker at its root (offline.js). Nothing here is
 * needed for anything else, so what goes wrong is let go.
 */

/** Pages stand in folders of their own, this script in assets/checker/. */
const ROOT = new URL("../../", import.meta.url);

/** Where the browser cannot keep anything, or the reader asked it to spare the line, nothing is kept. */
function mayKeep() {
  const { connection } = /** @type {{connection?: {saveData: boolean}}} */ (navigator);
  return "serviceWorker" in navigator && !connection?.saveData;
}

/** Lessons, worked examples and what they need. */
export async function keepPages() {
  if (!mayKeep()) return null;
  return navigator.serviceWorker.register(new URL("offline.js", ROOT), { scope: ROOT.pathname }).catch(() => null);
}

/** The checker too: for a page that has started it, and so has most of it already. */
export async function keepChecker() {
  if (!(await keepPages())) return;
  (await navigator.serviceWorker.ready).active?.postMessage("keep the checker");
}

/**
 * For a page that has just been opened: if a newer version waits, and no other page of the older one is open, change to it now.
 * A reader who has begun to write is left alone.
 */
export async function changeToNewest() {
  if (!mayKeep()) return;
  let begun = false;
  addEventListener("input", () => (begun = true), { once: true, capture: true });
  const registration = await navigator.serviceWorker.getRegistration(ROOT).catch(() => null);
  if (!registration?.waiting || begun) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => begun || location.reload(), { once: true });
  registration.waiting.postMessage("take over");
}
