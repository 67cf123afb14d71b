/**
 * Keeping in the browser what the next visit gains by: the site for use without a network, by the service worker at its root
 * (offline.js), and the memory of a started checker, by a worker that saves it (saver.mjs). Nothing here is needed for
 * anything else, so what goes wrong is let go.
 */

/** Pages stand in folders of their own, this script in assets/checker/. */
const ROOT = new URL("../../", import.meta.url);

/** After the first answer: until then, and while its drawings are made and read, the machine has other things to do. */
const MEMORY_AFTER_MS = 10_000;
/** Bytes that a browser should have left for this site before 45 million of them are used. */
const ROOM = 500_000_000;

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

/** The memory of a started checker, from which the next visit begins. Saving it means starting a second one, behind the reader's back. */
export async function keepMemory() {
  const { deviceMemory, hardwareConcurrency } = /** @type {{deviceMemory?: number, hardwareConcurrency: number}} */ (navigator);
  // A browser that does not say how much memory there is may have little, on a phone above all.
  if (!mayKeep() || !(deviceMemory >= 4) || hardwareConcurrency < 2) return;
  await new Promise((resume) => setTimeout(resume, MEMORY_AFTER_MS));
  const { quota = 0, usage = 0 } = await navigator.storage.estimate();
  if (quota - usage > ROOM) new Worker(new URL("assets/checker/saver.mjs", ROOT), { type: "module" });
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
