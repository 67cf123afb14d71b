/**
 * Boards in links: what stands behind the "#" of an address, which no browser sends to a server.
 *
 *     #example=boards/spare-room-five.yaml          a board that the site itself serves
 *     #board=1.eNpLyk8sSrFSKC5ILAYAIksE3g          a board in the link itself
 *     …&title=Harbour%20Street%20Workshop           words of whoever made the link
 *
 * The number before the dot says how the board is packed. A version once given out is read for ever: another way of
 * packing gets another number and another line in `UNPACK`, and a test holds samples of each.
 */
import { exampleIn } from "./example.mjs";

/** @typedef {{board: string | null, example: string | null, title: string}} Asked  what an address asks for */

/** A board longer than this is none; the checker reads no more either. Bytes. */
const MOST_BYTES = 1_000_000;

/** Some programs that pass messages on cut addresses longer than this (common practice, no source). */
const CUT_BY_SOME = 2000;
/** "It is RECOMMENDED that all senders and recipients support, at a minimum, URIs with lengths of 8000 octets": RFC 9110, section 4.1. */
const TAKEN_BY_MOST = 8000;

const LONGEST_TITLE = 80;

/** Reads what each version packed. @type {Record<string, (packed: string) => Promise<string>>} */
const UNPACK = { 1: inflated };

/**
 * @param {string} hash  of an address, with its "#"
 * @returns {Asked}
 */
export function askedBy(hash) {
  const parts = new URLSearchParams(hash.slice(1));
  return { board: parts.get("board"), example: exampleIn(hash), title: titleIn(parts.get("title") ?? "") };
}

/** A title as it may be shown: one line, not endless, and nothing in it that turns the direction of reading. @param {string} words */
export function titleIn(words) {
  const seen = words.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\s]+/gu, " ").trim();
  const letters = [...seen];
  return letters.length > LONGEST_TITLE ? `${letters.slice(0, LONGEST_TITLE - 1).join("")}…` : seen;
}

/**
 * The part of an address that asks for something, without its "#".
 * @param {{board?: string | null, example?: string | null, title?: string}} asked
 */
export function written({ board, example, title }) {
  const parts = [board && `board=${board}`, example && `example=${example}`, title && `title=${encodeURIComponent(title)}`];
  return parts.filter(Boolean).join("&");
}

/**
 * A board for a link, packed by the newest version: zlib, whose checksum tells a damaged link, in letters that addresses take.
 * @param {string} text
 * @returns {Promise<string>}
 */
export async function packed(text) {
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream("deflate"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const letters = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
  return `1.${letters.replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "")}`;
}

/**
 * The board in a link.
 * @param {string} board  version, dot, and what that version packed
 * @returns {Promise<string>}
 * @throws {Error} in words for the reader
 */
export async function unpacked(board) {
  const [, version, body] = board.match(/^(\w{1,8})\.(.*)$/s) ?? [];
  if (version === undefined) throw damaged();
  if (!Object.hasOwn(UNPACK, version)) {
    throw new Error(
      `This link was made by another version of this page (link version ${version}; this page reads ${Object.keys(UNPACK).join(", ")}). ` +
        "Reload the page, or ask for the board as a file.",
    );
  }
  return UNPACK[version](body);
}

/** @param {string} letters */
async function inflated(letters) {
  let bytes;
  try {
    bytes = Uint8Array.from(atob(letters.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));
  } catch {
    throw damaged();
  }
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let text = "";
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read().catch(() => {
      throw damaged();
    });
    try {
      if (done) return text + decoder.decode();
      length += value.byteLength;
      if (length <= MOST_BYTES) text += decoder.decode(value, { stream: true });
    } catch {
      throw damaged();
    }
    // A short link can unfold into gigabytes: it is put down as soon as it has become longer than any board.
    if (length > MOST_BYTES) {
      reader.cancel().catch(() => {});
      throw new Error("This link unfolds into more than 1 MB of text, which no board has. It was not opened.");
    }
  }
}

function damaged() {
  return new Error("The board in this link is damaged: letters are missing or changed, perhaps cut off on the way. Ask for the link again, or for the board as a file.");
}

/** What to expect of a link of that length, in words. @param {number} length */
export function lengthTold(length) {
  const told = `It is ${length.toLocaleString("en")} characters long`;
  if (length <= CUT_BY_SOME) return `${told}.`;
  const where = length <= TAKEN_BY_MOST ? "some chat and mail programs cut" : "many programs refuse or cut";
  return `${told}: ${where} links of that length. Try it on yourself first, or send the board as a file.`;
}
