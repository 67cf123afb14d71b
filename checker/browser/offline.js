/**
 * Keeps the site for reading and checking without a network. It is a service worker, so it stands at the site's root, with
 * its VERSION put in front by the site's build: the hash of the list of files, which holds the hash of every file.
 *
 * A version is kept in a cache of its own, and a page is served from one version alone:
 * - "pages" is fetched when the worker is installed; when one file is missing or not the right one, the worker is not
 *   installed, and the older version stays as it is.
 * - "checker" is fetched once a page has started the checker. Whoever had it in the older version gets it with the new one.
 * - The new version is used when no page of the older one is left, and only then is the older one thrown away.
 *
 * Whatever is served is looked over behind the reader's back: a disk may fail, and a file that is not the right one any more would break
 * the page for ever. It is fetched again, or at least thrown away, so that the next visit asks the server; and then all others are looked
 * over as well.
 *
 * In:  "keep the checker"   from a page that has started it
 *      "take over"          from a page that has just been opened and found a newer version waiting
 */
/* global VERSION */
import { digestOf } from "./digest.mjs";

const ROOT = self.registration.scope;
/** Other sites on the same host have caches too. */
const OURS = `boardwright ${ROOT} `;
const CACHE = OURS + VERSION;
const LIST = `${ROOT}offline.json`;
/** A page that does not exist, kept when all of the checker is. */
const HAS_CHECKER = `${ROOT}?has=checker`;
/** Files that are asked for at the same time. */
const AT_ONCE = 6;
/** So long after a file was served it is looked over: the page has what it needs by then. */
const LOOK_OVER_AFTER_MS = 3000;

/** What a worker may do must come with the worker itself, and a static host sends no such header; from here it comes with one. */
const WORKERS_POLICY = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'";

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  // What cannot be kept now is asked for again by the next page.
  if (event.data === "keep the checker") event.waitUntil(keepChecker().catch((error) => console.debug(error)));
  if (event.data === "take over") event.waitUntil(takeOver());
});
self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET" || !event.request.url.startsWith(ROOT)) return;
  event.respondWith(answer(event.request));
  event.waitUntil(lookOverLater(keptAs(event.request)));
});

// ---- keeping

async function install() {
  await keep("pages");
  for (const older of await olderCaches()) {
    if (await (await caches.open(older)).match(HAS_CHECKER)) return keepChecker();
  }
}

async function activate() {
  const older = await olderCaches();
  await Promise.all(older.map((name) => caches.delete(name)));
  // The page that brought the first version is of that version. Of any later one, pages come to it by being opened.
  if (older.length === 0) await self.clients.claim();
}

async function keepChecker() {
  await keep("checker");
  await (await caches.open(CACHE)).put(HAS_CHECKER, new Response());
}

async function takeOver() {
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (pages.length <= 1) await self.skipWaiting();
}

async function olderCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== CACHE);
}

/** @param {"pages" | "checker"} part */
async function keep(part) {
  const cache = await caches.open(CACHE);
  const missing = Object.entries((await listed(cache))[part]);
  const fetchNext = async () => {
    for (let next; (next = missing.shift()); ) {
      const [path, hash] = next;
      // What an earlier attempt has kept is right already.
      if (!(await cache.match(ROOT + path))) await cache.put(ROOT + path, await fetched(ROOT + path, hash));
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, fetchNext));
}

/** What this version consists of, by part: the address of each file below the root, and its hash. @param {Cache} cache */
async function listed(cache) {
  const kept = await cache.match(LIST);
  if (kept && (await hashOf(kept.clone())) === VERSION) return kept.json();
  const list = await fetched(LIST, VERSION);
  await cache.put(LIST, list.clone());
  return list.json();
}

/**
 * A file, if it is the right one. The browser's own cache may hold one of another version, so it is asked first, and then the
 * server alone.
 * @param {string} url @param {string} hash @returns {Promise<Response>}
 */
async function fetched(url, hash) {
  for (const cache of ["default", "reload"]) {
    const response = await fetch(url, { cache });
    if (response.ok && !response.redirected && (await hashOf(response.clone())) === hash) return response;
  }
  throw new Error(`${url} is not of the version ${VERSION}`);
}

/** @param {Response} response */
async function hashOf(response) {
  return digestOf(await response.arrayBuffer());
}

// ---- answering

/** @param {Request} request */
async function answer(request) {
  const url = keptAs(request);
  try {
    const cache = await caches.open(CACHE);
    const kept = await cache.match(url);
    if (kept) return /\/(worker|saver)\.mjs$/.test(url) ? governed(kept) : kept;
    if (request.mode === "navigate" && (await cache.match(`${url}/`))) return Response.redirect(`${url}/`);
  } catch (error) {
    console.debug(error); // the cache cannot be read, and the network may be there
  }
  return fetch(request);
}

/** @param {Request} request @returns {string} the address that a file is kept under */
function keptAs(request) {
  return request.url.replace(/[?#].*/s, "").replace(/\/index\.html$/, "/");
}

/** Addresses that have been looked over since this worker was started, or are about to be. @type {Set<string>} */
const lookedOver = new Set();
/** One file after the other. */
let looking = Promise.resolve();

/** @param {string} url */
async function lookOverLater(url) {
  if (lookedOver.has(url)) return;
  lookedOver.add(url);
  await new Promise((resume) => setTimeout(resume, LOOK_OVER_AFTER_MS));
  looking = looking.then(() => lookOver(url)).catch((error) => console.debug(error));
  await looking;
}

/** The hash of every file, once they have been asked for. @type {Promise<Object<string, string>> | undefined} */
let hashes;

function allHashes() {
  hashes ??= caches.open(CACHE).then(listed).then(({ pages, checker }) => ({ ...pages, ...checker }));
  hashes.catch(() => (hashes = undefined));
  return hashes;
}

/** Whether a file was found bad: where one has gone bad, others may have, and all are looked over. */
let doubted = false;

/** @param {string} url */
async function lookOver(url) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(url);
  if (!kept) return;
  const hash = (await allHashes())[url.slice(ROOT.length)];
  if (!hash || (await hashOf(kept).catch(() => "")) === hash) return;
  lookedOver.delete(url);
  await cache.delete(url);
  await cache.put(url, await fetched(url, hash));
  if (doubted) return;
  doubted = true;
  for (const path of Object.keys(await allHashes())) await lookOver(ROOT + path).catch((error) => console.debug(error));
}

/** @param {Response} worker */
function governed(worker) {
  const headers = new Headers(worker.headers);
  headers.set("Content-Security-Policy", WORKERS_POLICY);
  return new Response(worker.body, { headers });
}
