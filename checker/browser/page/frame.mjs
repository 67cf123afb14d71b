/**
 * A board in a frame on somebody else's page: shows the title that the link brings, and carries it on to the checker. On the
 * page for any board it unpacks the one in the link and shows its text; the checker is fetched when a reader asks for it.
 */
import * as client from "../client.mjs";
import { button, html, prose } from "./dom.mjs";
import { readDrawing } from "./drawing.mjs";
import { askedBy, unpacked, written } from "./link.mjs";
import { nameIn, shown } from "./names.mjs";
import { scrolling } from "./scroll.mjs";

/** The picture of a board: the first of these that there is. */
const FIRST_DRAWN = ["layout", "signal-map", "power-map"];

const one = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (document.querySelector(selector));
const checkerLink = /** @type {HTMLAnchorElement} */ (one("footer a"));
const checker = checkerLink.getAttribute("href") ?? "";
const said = one(".bw-frame__said");

const dark = matchMedia("(prefers-color-scheme: dark)");
const dress = () => document.body.setAttribute("data-md-color-scheme", dark.matches ? "slate" : "default");
dark.addEventListener("change", dress);
dress();

function follow() {
  const { board, title } = askedBy(location.hash);
  const place = one(".bw-frame__title");
  place.textContent = title;
  place.hidden = !title;
  const [address, end = ""] = checker.split("#");
  const asked = written({ board, example: askedBy(`#${end}`).example, title });
  checkerLink.href = asked ? `${address}#${asked}` : address;
  if ("anyBoard" in document.body.dataset) showAny(board);
}

/** @param {string | null} board */
async function showAny(board) {
  const place = one("[data-place]");
  place.replaceChildren();
  if (board === null) {
    said.textContent = "This address holds no board.";
    return;
  }
  try {
    const text = await unpacked(board);
    named(nameIn(text));
    const check = button("Check it here", () => judge(text, place));
    said.replaceChildren(check, " fetches the checker from this site, some megabytes, once. Nothing is sent anywhere.");
    place.replaceChildren(scrolling("Text of the board", html("pre", {}, text)));
  } catch (error) {
    said.textContent = error instanceof Error ? error.message : String(error);
  }
}

/** @param {string} name */
function named(name) {
  one("h1").textContent = document.title = shown(name);
}

/** @param {string} text @param {HTMLElement} place */
async function judge(text, place) {
  const tell = (/** @type {string} */ words) => {
    said.textContent = words;
  };
  tell("Getting the checker ready …");
  client.start({
    onStage: ({ stage, done_bytes: done, total_bytes: total }) => tell(done && total ? `${stage}: ${(done / 1e6).toFixed(1)} of ${(total / 1e6).toFixed(1)} MB` : stage),
    onCrash: (message) => tell(`The checker has stopped. ${message}`),
  });
  try {
    const answer = await client.check(text);
    if (answer.board.name) named(answer.board.name);
    said.replaceChildren(...prose(answer.headline));
    const drawings = await answer.drawings;
    const drawing = FIRST_DRAWN.map((name) => drawings[name]).find(Boolean);
    if (drawing) place.replaceChildren(scrolling(`Drawing of ${shown(answer.board.name ?? "")}`, readDrawing(drawing)));
  } catch (error) {
    tell(error instanceof Error ? error.message : String(error));
  }
}

window.addEventListener("hashchange", follow);
follow();
