/**
 * What lies on the workbench, and where it is kept: which board is open, keeping what is written as it is written, opening
 * another one and going back.
 *
 * Order at the start: the board of the link, then the one that was open last, then the sample. A sample or a board from a
 * link becomes a kept board of its own with the first change, so nothing that is kept is ever overwritten by opening.
 * What finds no room is put aside when another board is opened, and stays as long as the page does.
 */
import { boardsView } from "./boards_view.mjs";
import { merged, opened } from "./carry.mjs";
import { deskView } from "./desk_view.mjs";
import { fetchExample } from "./example.mjs";
import { ChangedElsewhere, KeptBoards } from "./kept_boards.mjs";
import { askedBy, unpacked } from "./link.mjs";
import { nameIn, shown } from "./names.mjs";
import { shareView } from "./share_view.mjs";
import { browserStorage } from "./storage.mjs";

/** @typedef {import("./bench.mjs").Bench} Bench */
/** @typedef {import("./kept_boards.mjs").Entry} Entry */
/** @typedef {import("./types.mjs").Answer} Answer */

/**
 * @typedef {Object} Lying  the board that lies on the workbench
 * @property {Entry | null} entry  as it is kept; null for a sample or a board from a link that nobody has changed
 * @property {string} text  as it was opened, or as it was kept last
 * @property {string} name
 * @property {"sample" | "link" | "new" | "file" | "kept"} from
 * @property {string | null} example  its path, if it is one that the site serves
 * @property {string} title  words of whoever made the link
 * @property {{text: string, changed: number} | null} before  as it was when this sitting began
 * @property {Aside} [aside]  as which its text was put aside
 * @property {string} [learned]  the text from which the checker told its name
 *
 * @typedef {{text: string, name: string, entry: Entry | null}} Aside  a text that found no room; `entry`: since it has found some
 */

const NEW_BOARD = "board: {name: New board}\n";

/** @param {Bench} bench */
export function mountDesk(bench) {
  return new Desk(bench);
}

export class Desk {
  /** @param {Bench} bench */
  constructor(bench) {
    this.bench = bench;
    this.kept = new KeptBoards(browserStorage());
    this.sample = bench.brought;
    /** Of the last opening, so that it can be undone. @type {Lying | null} */
    this.left = null;
    this.openings = 0;
    /** Whether the last change could not be kept. */
    this.unkept = false;
    /** Texts that found no room before another board was opened. @type {Aside[]} */
    this.aside = [];
    this.laying = false;
    /** @type {Lying} */
    this.lying = this.#sample();

    this.boards = boardsView(this);
    this.share = shareView(this);
    this.view = deskView(bench.root, { Boards: this.boards.element, "Share and download": this.share.element }, () => this.refresh());
    if (bench.tools) bench.tools.layBeside = (text) => this.layBeside(text);
    bench.watch({ onText: () => this.keep(), onAnswer: (answer, text) => this.learn(answer, text) });
    this.kept.watch((id) => this.changedElsewhere(id));

    const last = this.kept.lastOpen();
    const early = this.#writtenEarly();
    if (early) this.#lay(early);
    else if (last) this.#lay(this.#ofEntry(last));
    else this.#lay(this.lying);
    if (early) this.keep(true);
    window.addEventListener("hashchange", () => this.openAsked());
    window.addEventListener("beforeunload", (event) => (this.unkept || this.aside.length > 0) && event.preventDefault());
    // A link within the page would take the board's place in the address, and the board would be gone with a reload.
    bench.root.addEventListener("click", (event) => this.#goWithin(event));
    this.openAsked();
  }

  // ---- opening

  /** Opens what the page's address asks for; where that cannot be had, what lies there stays. */
  async openAsked() {
    const { board, example, title } = askedBy(location.hash);
    if (board === null && example === null) return;
    const opening = ++this.openings;
    try {
      const text = board === null ? await fetchExample(example ?? "", this.bench.baseUrl) : await unpacked(board);
      if (opening !== this.openings) return;
      this.open({ ...this.#fresh(text, "link"), example: board === null ? example : null, title });
    } catch (error) {
      if (opening === this.openings) this.view.note(error instanceof Error ? error.message : String(error));
    }
  }

  /** Lays another board on the workbench, and offers the way back. @param {Lying} next */
  open(next) {
    this.#nameUnread();
    const aside = this.#putAside();
    const left = aside ? { ...this.#fresh(aside.text, "new"), name: aside.name, aside } : this.lying;
    this.#lay(next);
    // What was there when the page opened is no loss: it is a sample, or kept.
    if (left.text === next.text || (left.from === "sample" && !this.left)) this.view.note("");
    else this.view.note(`Opened “${this.name()}”.`, `Back to “${shown(left.name)}”`, () => this.back());
    this.left = left;
  }

  back() {
    const { left } = this;
    if (!left) return;
    if (left.aside && this.aside.includes(left.aside)) return this.openAside(left.aside);
    const known = left.aside?.entry ?? left.entry;
    const entry = known && this.kept.get(known.id);
    this.open(entry && !entry.deleted ? this.#ofEntry(entry) : left);
  }

  /** @param {Aside} aside */
  openAside(aside) {
    this.aside = this.aside.filter((one) => one !== aside);
    this.open({ ...this.#fresh(aside.text, "new"), name: aside.name });
    this.#leaveLink();
    this.keep(true);
  }

  /** @param {Entry} entry */
  openEntry(entry) {
    this.open(this.#ofEntry(entry));
    this.#leaveLink();
  }

  openNew() {
    this.open(this.#fresh(NEW_BOARD, "new"));
    this.#leaveLink();
  }

  /** A board that was made here, as one of its own, if somebody has written what lies here. @param {string} text */
  layBeside(text) {
    if (!this.lying.entry && !this.unkept) return false;
    this.open(this.#fresh(text, "new"));
    this.#leaveLink();
    this.keep(true);
    return true;
  }

  openSample() {
    this.open(this.#sample());
    this.#leaveLink();
  }

  /** One board as text, or a set of boards, which are added to those that are kept. @param {File} file */
  async openFile(file) {
    try {
      const found = await opened(file);
      if ("text" in found) {
        this.open({ ...this.#fresh(found.text, "file"), name: nameIn(found.text) || file.name.replace(/\.\w+$/, "") });
        this.#leaveLink();
        // A file is somebody's work, and may be gone tomorrow.
        this.keep(true);
      } else {
        const { added, present, left } = merged(this.kept, found.boards);
        const told = [`${added} added`, present && `${present} were here already`, found.unreadable && `${found.unreadable} could not be read`, left && `${left} found no room`];
        this.refresh();
        this.view.note(`From ${file.name}: ${told.filter(Boolean).join(", ")}. No board was replaced.`);
      }
    } catch (error) {
      this.view.note(error instanceof Error ? error.message : String(error));
    }
  }

  /** What somebody wrote before the scripts of the page were there, unless the browser has only put back what is kept. */
  #writtenEarly() {
    const text = this.bench.editor.text();
    const known = text === this.sample || this.kept.all().entries.some((entry) => entry.text.trim() === text.trim());
    return known ? null : this.#fresh(text, "new");
  }

  /** A text that found no room, before another takes its place. */
  #putAside() {
    if (!this.unkept) return null;
    const aside = { text: this.bench.editor.text(), name: this.lying.name, entry: null };
    this.aside.push(aside);
    this.unkept = false;
    return aside;
  }

  /** There may be room by now. */
  #keepAside() {
    for (const aside of this.aside) {
      try {
        aside.entry = this.kept.add({ text: aside.text, name: aside.name, renamed: false, changed: Date.now() });
      } catch {
        // It stays where it is.
      }
    }
    this.aside = this.aside.filter(({ entry }) => !entry);
  }

  /** @param {Lying} lying */
  #lay(lying) {
    this.#putAside();
    this.lying = lying;
    this.unkept = false;
    if (lying.entry) this.kept.noteOpen(lying.entry.id);
    this.laying = true;
    if (this.bench.editor.text() !== lying.text) this.bench.open(lying.text);
    this.laying = false;
    // An editor has line ends of its own, and that is no change.
    lying.text = this.bench.editor.text();
    if (lying.example) this.bench.showBuilt(lying.example);
    this.refresh();
  }

  /** @param {string} text @param {Lying["from"]} from @returns {Lying} */
  #fresh(text, from) {
    return { entry: null, text, name: nameIn(text), from, example: null, title: "", before: null };
  }

  /** The board that the page brings along. @returns {Lying} */
  #sample() {
    return { ...this.#fresh(this.sample, "sample"), example: this.bench.root.dataset.sample ?? null };
  }

  /** @param {Entry} entry @returns {Lying} */
  #ofEntry(entry) {
    return { entry, text: entry.text, name: entry.name, learned: entry.text, from: "kept", example: null, title: "", before: { text: entry.text, changed: entry.changed } };
  }

  /** An address that asks for one board while another lies there would bring the first back with the next reload. */
  #leaveLink() {
    const { board, example } = askedBy(location.hash);
    if (board !== null || example !== null) history.replaceState(history.state, "", location.pathname + location.search);
  }

  /** @param {Event} event */
  #goWithin(event) {
    const link = event.target instanceof Element ? event.target.closest('a[href^="#"]') : null;
    const target = document.getElementById(link?.getAttribute("href")?.slice(1) ?? "");
    if (!target) return;
    event.preventDefault();
    target.tabIndex = -1;
    target.focus({ preventScroll: true });
    target.scrollIntoView({ block: "start" });
  }

  // ---- keeping

  /** Keeps the text as it stands now. @param {boolean} [unchanged]  even if nobody has changed it */
  keep(unchanged = false) {
    const text = this.bench.editor.text();
    const { lying } = this;
    if (this.laying || (text === lying.text && !unchanged && !this.unkept)) return;
    const news = { text, changed: Date.now(), ...(lying.before && lying.before.text !== text && { earlier: lying.before }) };
    try {
      if (lying.entry) lying.entry = this.#changed(lying.entry, news);
      else this.#keepNew({ text, name: lying.name, renamed: lying.from === "file" && !nameIn(text), changed: news.changed });
      lying.text = text;
      this.unkept = false;
    } catch (error) {
      if (error instanceof ChangedElsewhere) return this.#keepBeside(text);
      this.unkept = true;
      const why = this.kept.storage ? "the browser has no room left for this site" : "this browser keeps nothing for this site";
      this.view.note(`Your last changes are not kept: ${why}. Download the board or copy its link${this.kept.storage ? ", or delete boards that you no longer need" : ""}.`);
    }
    this.refresh();
  }

  /**
   * What the reader went back from would fall out of an entry with the first change of another sitting: it goes to the deleted boards.
   * @param {Entry} entry @param {Partial<import("./kept_boards.mjs").Kept>} news
   */
  #changed(entry, news) {
    const { earlier } = entry;
    if (!news.earlier || !earlier?.undone) return this.kept.change(entry, news);
    const saved = this.kept.add({ ...earlier, name: `${entry.name} (before going back)`, renamed: true, deleted: Date.now() });
    try {
      return this.kept.change(entry, news);
    } catch (error) {
      this.kept.remove(saved);
      throw error;
    }
  }

  /** @param {import("./kept_boards.mjs").Kept} kept */
  #keepNew(kept) {
    const { lying } = this;
    lying.entry = this.kept.add(kept);
    lying.before = { text: lying.text, changed: kept.changed };
    lying.from = "kept";
    lying.title = "";
    lying.example = null;
    this.kept.noteOpen(lying.entry.id);
    this.#leaveLink();
  }

  /** Another tab has written this board meanwhile: neither text may be lost, so this one becomes a board of its own. @param {string} text */
  #keepBeside(text) {
    const name = `${this.name()} (from another tab)`;
    this.lying = { ...this.#fresh(text, "kept"), name };
    try {
      this.#keepNew({ text, name, renamed: true, changed: Date.now() });
      this.view.note(`Another tab has changed this board meanwhile. Nothing is lost: what you write here is kept as “${name}”.`);
    } catch {
      this.unkept = true;
      this.view.note("Another tab has changed this board meanwhile, and there is no room to keep yours beside it. Download it.");
    }
    this.refresh();
  }

  /** @param {string | null} id */
  changedElsewhere(id) {
    const { entry } = this.lying;
    this.refresh();
    if (!entry || (id !== null && id !== entry.id)) return;
    const there = this.kept.get(entry.id);
    if (there?.raw === entry.raw) return;
    if (!there || there.deleted) this.view.note("This board was deleted in another tab. If you change it here, it is kept again as a board of its own.");
    else if (there.text === this.lying.text) this.lying.entry = there;
    else this.view.note("This board was changed in another tab.", "Show it as it is there", () => this.openEntry(this.kept.get(entry.id) ?? there));
  }

  /** What the checker says about a text tells its name. @param {Answer} answer @param {string} text */
  learn(answer, text) {
    const { lying } = this;
    this.share.drawings(answer, text).catch(() => {});
    if (text !== this.bench.editor.text()) return;
    lying.learned = text;
    const name = answer.board.name ?? "";
    // A text that cannot be read for the moment has not lost its name.
    if (name || (lying.from !== "file" && !answer.problems.length)) this.#named(name);
  }

  /** What is left or carried away before the checker has read it would go by the name of the text before. */
  #nameUnread() {
    const text = this.bench.editor.text();
    const name = this.lying.learned === text ? "" : nameIn(text);
    if (name) this.#named(name);
  }

  /** The board's own name; one that the reader gave it stays. @param {string} name */
  #named(name) {
    const { lying } = this;
    const { entry } = lying;
    if (entry?.renamed) return;
    const known = lying.name === name;
    lying.name = name;
    // What is kept still has its older text, and the name of that.
    if (entry && entry.name !== name && !this.unkept) this.change(entry, { name });
    else if (!known) this.refresh();
  }

  // ---- what is done to kept boards

  /** @param {Entry} entry @param {Partial<import("./kept_boards.mjs").Kept>} news @returns {Entry | null} */
  change(entry, news) {
    try {
      const changed = this.kept.change(entry, news);
      if (this.lying.entry?.id === entry.id) Object.assign(this.lying, { entry: changed, name: changed.name });
      return changed;
    } catch (error) {
      this.view.note(error instanceof ChangedElsewhere ? "Another tab has just changed this board. Look at it again first." : "The browser has no room left for this site.");
      return null;
    } finally {
      this.refresh();
    }
  }

  /** @param {Entry} entry */
  delete(entry) {
    const open = this.lying.entry?.id === entry.id;
    const gone = this.change(entry, { deleted: Date.now() });
    if (!gone) {
      // Where storage is full to the last letter, even the mark finds no room.
      const still = this.kept.get(entry.id)?.raw === entry.raw;
      if (still) this.view.note(`There is no room even to mark “${shown(entry.name)}” as deleted.`, "Delete it for good", () => {
        this.deleteForGood(entry);
        if (open) this.#layNext();
      });
      return;
    }
    if (open) this.#layNext();
    this.view.note(`Deleted “${shown(entry.name)}”.`, "Put it back", () => {
      const back = this.putBack(this.kept.get(gone.id) ?? gone);
      if (open && back) this.openEntry(back);
    });
  }

  /** @param {Entry} entry */
  deleteForGood(entry) {
    this.kept.remove(entry);
    this.view.note(`“${shown(entry.name)}” is deleted for good.`);
    this.refresh();
  }

  #layNext() {
    const next = this.kept.lastOpen();
    this.#lay(next ? this.#ofEntry(next) : this.#sample());
  }

  /** @param {Entry} entry */
  putBack(entry) {
    const back = this.change(entry, { deleted: undefined });
    if (back) this.view.note(`“${shown(entry.name)}” is back.`);
    return back;
  }

  /** Swaps a board with its earlier state, so that doing it twice changes nothing. @param {Entry} entry */
  swapEarlier(entry) {
    if (!entry.earlier) return;
    const changed = this.change(entry, { text: entry.earlier.text, earlier: { text: entry.text, changed: entry.changed, undone: true }, changed: Date.now() });
    if (!changed) return;
    if (this.lying.entry?.id === entry.id) this.#lay({ ...this.#ofEntry(changed), before: null });
    this.view.note(`“${this.name()}” is as it was earlier.`, "As it was before that", () => this.swapEarlier(this.kept.get(changed.id) ?? changed));
  }

  // ---- in words

  /** For what leaves the page, which should go by its own name at once. */
  nameNow() {
    this.#nameUnread();
    return this.name();
  }

  name() {
    return shown(this.lying.name);
  }

  state() {
    if (this.unkept) return "not kept";
    if (this.lying.entry) return "kept in this browser";
    const what = { sample: "an example", link: this.lying.example ? "an example" : "from a link", new: "new", file: "from a file", kept: "" }[this.lying.from];
    return `${what}; kept in this browser as soon as you change it`;
  }

  refresh() {
    this.#keepAside();
    this.view.show(this.name(), this.state(), this.lying.title);
    this.boards.show();
  }
}
