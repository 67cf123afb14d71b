/**
 * The handover book: makes it from the text as it stands, says which chapter is being written, and then offers it to be
 * opened for printing or saved. Nothing else on the page waits for it.
 */
import { fileName } from "./carry.mjs";
import { button, html } from "./dom.mjs";

/** @typedef {Pick<typeof import("../client.mjs"), "book">} Writer */

/**
 * @param {import("./bench.mjs").Bench} bench
 * @param {Writer} writer
 */
export function mountBook(bench, writer) {
  const status = html("span", { class: "bw-book__state", role: "status" });
  const progress = html("progress", { class: "bw-book__bar", max: 1, hidden: true, "aria-label": "Writing the handover book" });
  const offer = html("span", { class: "bw-book__offer" });
  const make = button("Handover book", () => write());
  bench.root.querySelector(".bw-desk__openers")?.append(make);
  bench.root.querySelector(".bw-desk__line")?.after(html("div", { class: "bw-book" }, progress, offer, status));
  /** Address of the book that is offered. */
  let address = "";

  async function write() {
    make.disabled = true;
    offer.replaceChildren();
    URL.revokeObjectURL(address);
    status.textContent = "Waiting for the checker…";
    progress.removeAttribute("value");
    progress.hidden = false;
    try {
      const page = await writer.book(bench.editor.text(), (title, done, count) => {
        progress.value = done / count;
        status.textContent = `Writing chapter ${done + 1} of ${count}: ${title}`;
      });
      address = URL.createObjectURL(new Blob([page], { type: "text/html" }));
      const open = button("Open to print", () => openBook(page));
      const name = taken(page).book.querySelector("h1")?.textContent ?? "";
      offer.replaceChildren(open, " ", html("a", { href: address, download: `${fileName(name)}-handover-book.html` }, "Save"));
      status.textContent = `Written at ${new Date().toLocaleTimeString()}, from the text as it stood then.`;
    } catch (error) {
      status.textContent = `No book: ${error instanceof Error ? error.message : error}`;
    } finally {
      progress.hidden = true;
      make.disabled = false;
    }
  }
}

/**
 * Opens the book in a tab of its own. Such a tab lives under this page's security policy, which lets no style sheet
 * through that stands in a page; one that a script makes it does.
 * @param {string} page
 */
function openBook(page) {
  const { book, styles } = taken(page);
  const tab = window.open("", "_blank");
  if (!tab) return;
  tab.document.write("<!doctype html>"); // or else it would be laid out by the rules of thirty years ago
  tab.document.close();
  tab.document.documentElement.replaceWith(tab.document.adoptNode(book.documentElement));
  const sheet = new tab.CSSStyleSheet();
  sheet.replaceSync(styles);
  tab.document.adoptedStyleSheets = [sheet];
}

/** The book without its style sheet, and that. Nothing else in it can hold a `<`: names are escaped. @param {string} page */
function taken(page) {
  const [head, styles, body] = page.split(/<\/?style>/);
  return { book: new DOMParser().parseFromString(head + body, "text/html"), styles };
}
