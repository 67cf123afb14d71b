/**
 * What helps with writing, above the text: the first-board form, pieces to put in, tidying; and what an empty text offers to
 * begin with. Whatever changes the text says so, and can be taken back.
 */
import { button, html, plain } from "./dom.mjs";
import { fetchExample } from "./example.mjs";
import { mendFold } from "./fixes.mjs";
import { fetchWords } from "./words.mjs";

/** @typedef {import("./bench.mjs").Bench} Bench */

export class Tools {
  /** @param {Bench} bench */
  constructor(bench) {
    this.bench = bench;
    /** @type {HTMLDialogElement | null} */
    this.form = null;
    /** Lays a board on the workbench beside the one that is kept there, if one is. @type {(text: string) => boolean} */
    this.layBeside = () => false;
    /** The text as the last tool left it. @type {string | null} */
    this.after = null;
    this.list = html("ul", { class: "bw-pieces" });
    this.pieces = html("details", { class: "bw-menu" }, html("summary", { class: "bw-button" }, "Put in"), this.list);
    this.pieces.addEventListener("toggle", () => this.pieces.open && this.listPieces());
    this.pieces.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !this.pieces.open) return;
      this.pieces.open = false;
      this.pieces.querySelector("summary")?.focus();
    });
    this.pieces.addEventListener("focusout", (event) => {
      const to = event.relatedTarget;
      if (to instanceof Node && !this.pieces.contains(to)) this.pieces.open = false;
    });
    this.element = html(
      "div",
      { class: "bw-toolbar bw-tools" },
      button("First board", () => this.openForm()),
      this.pieces,
      button("Tidy", () => this.tidy()),
    );
    this.start = html("div", { class: "bw-note bw-start", hidden: true });
  }

  words() {
    return fetchWords(this.bench.baseUrl);
  }

  /** Offers an edit of an answer. @param {import("./types.mjs").Edit} edit @param {string} id */
  mend(edit, id) {
    const { bench } = this;
    return mendFold(edit, id, {
      text: () => bench.editor.text(),
      judged: () => bench.shownText,
      check: (text) => this.foresee(text),
      apply: (changes, title) => this.change(changes, `Done: ${plain(title)}.`),
    });
  }

  /** What the checker would say of a text. It is asked behind the drawings of what stands there, which it would push aside. @param {string} text */
  async foresee(text) {
    const { bench } = this;
    await Promise.resolve(bench.drawn).catch(() => {});
    if (bench.editor.text() !== bench.shownText) throw new Error("The text has changed meanwhile.");
    return bench.client.check(text, this);
  }

  /** Changes the text, says so, and offers to take it back. @param {import("./fixes.mjs").Change[]} changes @param {string} words */
  change(changes, words) {
    const { editor, remark } = this.bench;
    const before = editor.text();
    editor.change(changes);
    this.after = editor.text();
    const undo = () => {
      editor.change([{ from: 0, to: editor.text().length, insert: before }]);
      remark.replaceChildren("Taken back.");
      editor.focus();
    };
    remark.replaceChildren(words, " ", button("Take it back", undo, { class: "bw-button--small" }));
  }

  /** What was done to a text is no news any more when that has been changed again. */
  textChanged() {
    if (this.after === null || this.bench.editor.text() === this.after) return;
    this.after = null;
    this.bench.remark.replaceChildren();
  }

  /** @param {unknown} error */
  complain(error) {
    this.bench.remark.replaceChildren(error instanceof Error ? error.message : String(error));
  }

  async openForm() {
    try {
      const [{ firstBoard }, words] = await Promise.all([import("./first_board.mjs"), this.words()]);
      this.form ??= firstBoard(this.bench.root, words, (text) => this.begin(text));
      this.form.showModal();
    } catch (error) {
      this.complain(error);
    }
  }

  /** A board from the form takes the place of nothing that somebody has written. @param {string} text */
  begin(text) {
    if (this.empty() || !this.layBeside(text)) return this.write(text, "Your first board is written below.");
    this.bench.checkNow();
    this.bench.editor.focus();
  }

  empty() {
    return this.bench.editor.text().split("\n").every((line) => /^(#|$)/.test(line.trim()));
  }

  /** Puts a whole board in the place of what stands there; notes that stand there alone stay above it. @param {string} text @param {string} words */
  write(text, words) {
    const before = this.bench.editor.text();
    const notes = this.empty() ? before.trim() : "";
    this.change([{ from: 0, to: before.length, insert: notes ? `${notes}\n\n${text}` : text }], words);
    this.bench.checkNow();
    this.bench.editor.focus();
  }

  async listPieces() {
    if (this.list.childElementCount) return;
    try {
      const words = await this.words();
      this.list.replaceChildren(
        ...words.pieces.map((piece) =>
          html(
            "li",
            {},
            html("button", { type: "button", class: "bw-piece", click: () => this.putIn(piece, words) }, html("strong", {}, piece.title), html("span", {}, piece.about)),
          ),
        ),
      );
    } catch (error) {
      this.pieces.open = false;
      this.complain(error);
    }
  }

  /** @param {import("./words.mjs").Piece} piece @param {import("./words.mjs").Words} words */
  async putIn(piece, words) {
    this.pieces.open = false;
    const { insertion } = await import("./pieces.mjs");
    const { editor } = this.bench;
    const { changes, name } = insertion(editor.text(), piece, words);
    if (!changes.length) {
      this.bench.remark.replaceChildren("Your text describes that already.");
      return;
    }
    this.change(changes, `Put in: ${piece.title.toLowerCase()}. ${piece.then}`);
    const at = changes[0].from + changes[0].insert.search(/unknown/);
    if (changes[0].insert.includes("unknown")) editor.select(at, at + "unknown".length);
    else if (name) editor.select(changes[0].from, changes[0].from);
    editor.focus();
  }

  async tidy() {
    const { tidy } = await import("./tidy.mjs");
    const { editor, remark } = this.bench;
    const text = editor.text();
    const tidied = tidy(text);
    if (tidied === null) remark.replaceChildren("This text has something that is better left as it stands: text over several lines, a line without end, tabs, anchors or an open bracket.");
    else if (tidied === text) remark.replaceChildren("It is tidy already.");
    else this.change([{ from: 0, to: text.length, insert: tidied }], "Tidied: only spaces and empty lines have changed.");
  }

  /** An empty text offers something to begin with. */
  async offerStart() {
    const empty = this.empty();
    this.start.hidden = !empty;
    if (!empty || this.start.childElementCount) return;
    const { starters } = await this.words().catch(() => ({ starters: [] }));
    this.start.replaceChildren(
      html("p", { class: "bw-note__head" }, "Nothing is written yet. Begin with:"),
      html(
        "p",
        { class: "bw-start__choices" },
        button("A form for a first board", () => this.openForm(), { class: "bw-button--main" }),
        ...starters.map(({ title, address }) => button(title, () => this.open(address, title))),
      ),
    );
  }

  /** @param {string} address @param {string} title */
  async open(address, title) {
    try {
      this.write(await fetchExample(address, this.bench.baseUrl), `${title} is in the text now.`);
    } catch (error) {
      this.complain(error);
    }
  }
}
