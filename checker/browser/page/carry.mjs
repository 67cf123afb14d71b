/** Boards in files: names for downloads, all boards in one file and back again. */
import { keptIn } from "./kept_boards.mjs";

/** @typedef {import("./kept_boards.mjs").Kept} Kept */
/** @typedef {import("./kept_boards.mjs").KeptBoards} KeptBoards */

const FORMAT = "boardwright-boards/1";

/** A file larger than this is not read: no browser keeps that much text for a site. Bytes. */
const MOST_BYTES = 20_000_000;

/**
 * Hands a file to the reader.
 * @param {string} content @param {string} name @param {string} type
 */
export function download(content, name, type) {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // Not at once: some browsers read the file only after the click is over.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** A board's name as the name of a file, in any script. @param {string} name */
export function fileName(name) {
  const words = name.normalize("NFC").toLowerCase().replace(/[^\p{L}\p{M}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
  return [...words].slice(0, 60).join("") || "board";
}

/** @param {Kept[]} boards @param {Date} now */
export function exported(boards, now) {
  const list = boards.map(({ name, renamed, changed, text, earlier }) => ({ name, renamed, changed, text, ...(earlier && { earlier }) }));
  return `${JSON.stringify({ format: FORMAT, exported: now.toISOString(), boards: list }, null, 2)}\n`;
}

/**
 * What a file holds: many boards, or the text of one.
 * @param {File} file
 * @returns {Promise<{boards: Kept[], unreadable: number} | {text: string}>}
 * @throws {Error} in words for the reader
 */
export async function opened(file) {
  if (file.size > MOST_BYTES) throw new Error(`${file.name} is larger than 20 MB, which no set of boards is. It was not opened.`);
  let content;
  try {
    content = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    throw new Error(`${file.name} is not a text file. It was not opened.`);
  }
  let data;
  try {
    data = JSON.parse(content);
  } catch {
    return { text: content };
  }
  // A board may be written as JSON too; only what says that it is a set of boards is taken for one.
  if (typeof data?.format !== "string" || !data.format.startsWith("boardwright-boards/")) return { text: content };
  if (data.format !== FORMAT || !Array.isArray(data.boards)) throw new Error(`${file.name} was written by another version of this page (${data.format.slice(0, 40)}). It was not opened.`);
  const boards = data.boards.map(keptIn);
  const readable = boards.filter((/** @type {Kept | null} */ board) => board !== null);
  return { boards: readable, unreadable: boards.length - readable.length };
}

/**
 * Adds boards to those that are kept; one that is there already, letter by letter, is not kept twice, and none is replaced.
 * @param {KeptBoards} kept
 * @param {Kept[]} boards
 * @returns {{added: number, present: number, left: number}}  `left`: found no room
 */
export function merged(kept, boards) {
  const { entries } = kept.all();
  const present = new Set(entries.filter(({ deleted }) => !deleted).map(({ text }) => text));
  const told = { added: 0, present: 0, left: 0 };
  for (const { deleted, ...board } of boards) {
    if (present.has(board.text)) told.present += 1;
    else {
      try {
        kept.add(board);
        present.add(board.text);
        told.added += 1;
      } catch {
        told.left += 1;
      }
    }
  }
  return told;
}
