/**
 * Boards kept in the browser: one entry of its storage for each, so that two tabs with two boards never meet.
 *
 * localStorage and not a database, because it writes at once: what was typed just before a tab is closed is kept too. What
 * cannot be read there is left as it is, counted, and can be taken out as a file; nothing here deletes what it does not
 * understand.
 *
 * @typedef {Object} Kept  a board as it is kept
 * @property {string} text
 * @property {string} name  that it goes by
 * @property {boolean} renamed  whether the reader gave it that name; else it is the one in its text
 * @property {number} changed  when, in ms since 1970
 * @property {number} [deleted]  when; it can be put back until it is deleted for good
 * @property {{text: string, changed: number, undone?: boolean}} [earlier]  as it was when the last sitting at it began; `undone`: or
 *   what the reader went back from since
 *
 * @typedef {Kept & {id: string, raw: string}} Entry  `raw`: as it stands in the storage
 */
import { keep } from "./storage.mjs";

const PREFIX = "boardwright/board/";
const OPEN = "boardwright/open";
/** What a Date can hold, in ms. */
const LAST_DATE = 8.64e15;
const ID = /^[\w-]{1,64}$/;

/** What this tab knows of an entry is no longer what is kept: another tab has written it. */
export class ChangedElsewhere extends Error {}

export class KeptBoards {
  /** @param {Storage | null} storage  null where the browser gives none */
  constructor(storage) {
    this.storage = storage;
  }

  /** Every entry, the last changed first, and the names of those that cannot be read. @returns {{entries: Entry[], unreadable: string[]}} */
  all() {
    const entries = [];
    const unreadable = [];
    for (const key of this.#keys()) {
      const entry = this.get(key.slice(PREFIX.length));
      if (entry) entries.push(entry);
      else unreadable.push(key);
    }
    entries.sort((one, other) => other.changed - one.changed || (one.id < other.id ? -1 : 1));
    return { entries, unreadable: unreadable.sort() };
  }

  /** @param {string} id @returns {Entry | null} */
  get(id) {
    const raw = this.storage?.getItem(PREFIX + id) ?? null;
    const kept = raw === null || !ID.test(id) ? null : read(raw);
    return kept && raw !== null ? { ...kept, id, raw } : null;
  }

  /** An entry as it stands in the storage, readable or not. @param {string} key */
  rawOf(key) {
    return this.storage?.getItem(key) ?? "";
  }

  /**
   * Keeps a new board.
   * @param {Kept} kept
   * @returns {Entry}
   * @throws {DOMException} where there is no room
   */
  add(kept) {
    const id = Array.from(crypto.getRandomValues(new Uint8Array(9)), (byte) => byte.toString(36).padStart(2, "0")).join("");
    return this.#write(id, kept);
  }

  /**
   * Keeps an entry's new state.
   * @param {Entry} entry  as this tab knows it
   * @param {Partial<Kept>} news
   * @returns {Entry}
   * @throws {ChangedElsewhere} and nothing is written
   * @throws {DOMException} where there is no room
   */
  change(entry, news) {
    if (this.storage?.getItem(PREFIX + entry.id) !== entry.raw) throw new ChangedElsewhere();
    const { id, raw, ...kept } = entry;
    return this.#write(id, { ...kept, ...news });
  }

  /** For good. @param {Entry} entry */
  remove(entry) {
    if (this.storage?.getItem(PREFIX + entry.id) === entry.raw) this.storage.removeItem(PREFIX + entry.id);
  }

  /** Which board the reader had open last. @returns {Entry | null} */
  lastOpen() {
    const id = this.storage?.getItem(OPEN);
    const entry = id ? this.get(id) : null;
    return entry && !entry.deleted ? entry : (this.all().entries.find((one) => !one.deleted) ?? null);
  }

  /** @param {string} id */
  noteOpen(id) {
    // Without room for it the board that was changed last opens next time.
    keep(this.storage, OPEN, id);
  }

  /** Calls back when another tab has changed an entry. @param {(id: string | null) => void} changed  null: any of them */
  watch(changed) {
    window.addEventListener("storage", ({ key, storageArea }) => {
      if (storageArea !== this.storage) return;
      if (key === null) changed(null);
      else if (key.startsWith(PREFIX)) changed(key.slice(PREFIX.length));
    });
  }

  #keys() {
    const keys = Array.from({ length: this.storage?.length ?? 0 }, (_, place) => this.storage?.key(place) ?? "");
    return keys.filter((key) => key.startsWith(PREFIX));
  }

  /** @param {string} id @param {Kept} kept @returns {Entry} */
  #write(id, kept) {
    if (!this.storage) throw new Error("This browser keeps nothing for this site.");
    const raw = JSON.stringify(kept);
    this.storage.setItem(PREFIX + id, raw);
    return { ...kept, id, raw };
  }
}

/** @param {string} raw @returns {Kept | null} */
function read(raw) {
  try {
    return keptIn(JSON.parse(raw));
  } catch {
    return null;
  }
}

/**
 * A board out of data that anyone may have written.
 * @param {any} data
 * @returns {Kept | null}
 */
export function keptIn(data) {
  if (!isBoard(data) || typeof data.name !== "string") return null;
  /** @type {Kept} */
  const kept = { text: data.text, name: data.name, renamed: data.renamed === true, changed: data.changed };
  if (Math.abs(data.deleted) <= LAST_DATE) kept.deleted = data.deleted;
  if (isBoard(data.earlier)) kept.earlier = { text: data.earlier.text, changed: data.earlier.changed, ...(data.earlier.undone === true && { undone: true }) };
  return kept;
}

/** @param {any} data */
function isBoard(data) {
  return typeof data === "object" && data !== null && typeof data.text === "string" && Math.abs(data.changed) <= LAST_DATE;
}
