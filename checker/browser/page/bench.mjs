/**
 * The workbench: a text on one side, what the checker says about it on the other. It decides when to check, keeps
 * old answers from being shown beside newer text, and carries the reader from a finding to its line and back.
 */
import { renderAnswer } from "./answer_view.mjs";
import { button, html } from "./dom.mjs";
import { renderDrawings } from "./drawing.mjs";
import { fetchBuiltAnswer } from "./example.mjs";
import { plainEditor } from "./fallback.mjs";
import { loadingView } from "./loading_view.mjs";
import { handOver } from "./handed.mjs";
import { marksOf } from "./marks.mjs";
import { Tools } from "./tools.mjs";
import { fetchWords } from "./words.mjs";

/** @typedef {import("./types.mjs").Answer} Answer */
/** @typedef {import("./types.mjs").Editor} Editor */
/** @typedef {import("./types.mjs").EditorOptions} EditorOptions */
/** @typedef {import("./types.mjs").Span} Span */

/** The door to the worker. @typedef {Pick<typeof import("../client.mjs"), "start" | "check" | "write">} Client */
/** @typedef {{onText?: () => void, onAnswer?: (answer: Answer, text: string) => void}} Watcher  told of every change and every answer */

/** How long typing must rest before the board is checked. */
const REST_MS = 300;
/** A check shorter than this is not worth a "Checking…" that would only flicker. */
const SLOW_MS = 400;
/** A text longer than this is not laid out in the plain text box, which takes seconds for it, if the code editor is on its way. */
const LONG_TEXT = 100_000;

/**
 * Makes a workbench of an element that holds a <textarea> and, marked by `data-answer`, the place for the answer.
 * @param {HTMLElement} root
 * @param {Object} options
 * @param {Client} options.client
 * @param {string} options.baseUrl  absolute address of the site's root, ending in a slash
 * @param {"now" | "intent"} [options.start]  when to fetch the checker and the code editor: at once, or when the reader goes to the
 *   workbench
 */
export function mountBench(root, { client, baseUrl, start = "now" }) {
  const bench = new Bench(root, client, baseUrl);
  const begin = () => {
    bench.start();
    bench.upgradeEditor();
  };
  if (start === "now") begin();
  else root.addEventListener("focusin", begin, { once: true });
  return bench;
}

export class Bench {
  /** @param {HTMLElement} root @param {Client} client @param {string} baseUrl */
  constructor(root, client, baseUrl) {
    const box = root.querySelector("textarea");
    const label = root.querySelector("label");
    const answer = root.querySelector("[data-answer]");
    if (!box || !label || !answer) throw new Error("a workbench needs a <label>, a <textarea> and an element with data-answer");
    this.root = root;
    this.client = client;
    this.baseUrl = baseUrl;
    this.idPrefix = `${box.id}-answer`;
    this.started = false;
    this.ready = false;
    /** Counts changes of the text and checks of it; only the answer to the last of them counts. */
    this.edition = 0;
    this.shownAnswer = "";
    this.shownText = "";
    /** @type {import("./types.mjs").Mark[]} */
    this.marks = [];
    /** Which of them stand beside the lines. @type {(mark: import("./types.mjs").Mark) => boolean} */
    this.keepMark = () => true;
    /** What an answer is announced with. @type {(answer: Answer) => string} */
    this.inShort = (answer) => answer.headline;
    /** @type {Watcher[]} */
    this.watchers = [];
    /** @type {HTMLElement | null} */
    this.jumpedFrom = null;

    /** @type {EditorOptions & {label: string}} */
    this.editorOptions = {
      label: label.textContent ?? "",
      words: () => fetchWords(baseUrl),
      onChange: (how) => this.changed(how),
      onMark: (key) => this.showCard(key),
    };
    // What the page's source puts around the sample is no part of it.
    box.value = `${box.value.trim()}\n`;
    /** What the page brought along; a reader may have written in the box before any script was there. */
    this.brought = `${box.defaultValue.trim()}\n`;
    /** @type {Editor} */
    this.editor = plainEditor(box, this.editorOptions);

    /** One object for good: the client tells each that it knows once. */
    this.hooks = {
      /** @param {import("./loading_view.mjs").Stage} stage */
      onStage: (stage) => this.loading?.show(stage),
      onReady: () => {
        this.ready = true;
        this.loading?.show({ stage: "Checking your board for the first time" });
      },
      /** @param {string} message */
      onCrash: (message) => this.crashed(message),
    };

    this.state = html("span", { class: "bw-state" });
    this.back = button("Back to the finding", () => this.goBack(), { hidden: true });
    const checkNow = button("Check now", () => this.checkNow(), { class: "bw-button--main" });
    this.remark = html("span", { class: "bw-remark", role: "status" });
    label.addEventListener("click", () => this.editor.focus());
    this.editor.element.before(html("div", { class: "bw-toolbar" }, label, this.state, checkNow), this.remark);
    this.keys = html("span", { class: "bw-keys" });
    this.editor.element.after(html("div", { class: "bw-toolbar" }, this.back, this.keys));

    this.announcer = html("p", { class: "bw-unseen", role: "status" });
    // Until the checker starts, what the page put there stays.
    this.notice = html("div", {}, ...answer.childNodes);
    this.origin = html("p", { class: "bw-soft" });
    this.answer = html("div", { class: "bw-answer" });
    this.drawings = html("div", { class: "bw-drawings" });
    /** What is shown in there, or will be. @type {Answer["drawings"] | undefined} */
    this.drawn = undefined;
    this.printed = html("div", { class: "bw-printed" });
    answer.replaceChildren(this.announcer, this.notice, this.origin, this.printed, this.answer);
    window.addEventListener("beforeprint", () => this.dressForPrint());
    window.addEventListener("afterprint", () => this.undressFromPrint());
  }

  /** Help with writing, for a workbench that is there to write at; in a lesson it would give the answers away. */
  addTools() {
    this.tools = new Tools(this);
    this.remark.before(this.tools.element);
    this.answer.before(this.tools.start);
  }

  // ---- the checker: starting, checking, failing

  start() {
    if (this.started) return;
    this.started = true;
    this.loading = loadingView((words) => this.announce(words));
    this.notice.replaceChildren(this.loading.element);
    this.client.start(this.hooks);
    this.check();
  }

  checkNow() {
    if (this.started) this.check();
    else this.start();
  }

  async check() {
    clearTimeout(this.timer);
    const text = this.editor.text();
    const asked = ++this.edition;
    const wasReady = this.ready;
    const began = performance.now();
    clearTimeout(this.slow);
    this.slow = setTimeout(() => this.say(this.ready ? "Checking…" : "Getting ready…"), SLOW_MS);
    try {
      const answer = await this.client.check(text, this);
      if (asked !== this.edition) return;
      this.show(answer, text);
      this.say("Up to date", wasReady ? `, checked in ${Math.max(1, Math.round(performance.now() - began))} ms` : "");
    } catch (error) {
      // Of a crash the client tells everybody at once; of a text that has changed nobody need hear.
      if (asked !== this.edition || !(error instanceof Error) || error.name === "Crashed") return;
      this.complain("This text could not be checked", error.message, "Try again");
    } finally {
      if (asked === this.edition) clearTimeout(this.slow);
    }
  }

  /** @param {string} message */
  crashed(message) {
    this.started = this.ready = false;
    this.complain("The checker has stopped", message, "Start again");
  }

  /** @param {string} head @param {string} message @param {string} remedy  the word on the button */
  complain(head, message, remedy) {
    clearTimeout(this.slow);
    this.say("Not checked");
    const stale = this.shownAnswer && this.shownText !== this.editor.text();
    this.notice.replaceChildren(
      html(
        "div",
        { class: "bw-note bw-note--bad" },
        html("p", { class: "bw-note__head" }, head),
        html("p", {}, message),
        html("p", {}, "Your text is untouched.", stale ? " What is shown below belongs to an earlier state of it." : ""),
        button(remedy, () => this.checkNow(), { class: "bw-button--main" }),
      ),
    );
    this.announce(`${head}. ${message} Your text is untouched.`);
  }

  // ---- the answer

  /** @param {Answer} answer @param {string} text  that it is about */
  show(answer, text) {
    this.notice.replaceChildren();
    this.origin.textContent = "";
    this.put(answer, text);
    // Also where nothing changes on the screen: the stages of loading have been spoken meanwhile.
    this.announce(this.inShort(answer));
  }

  /** @param {Answer} answer @param {string} text */
  put(answer, text) {
    this.shownText = text;
    this.tools?.offerStart();
    handOver(text);
    this.showDrawings(answer.drawings);
    for (const { onAnswer } of this.watchers) onAnswer?.(answer, text);
    const shown = JSON.stringify({ ...answer, drawings: null });
    if (shown === this.shownAnswer) return;
    this.shownAnswer = shown;
    this.marks = marksOf(answer);
    this.showMarks();
    const { baseUrl, idPrefix, tools } = this;
    const mend = tools && tools.mend.bind(tools);
    renderAnswer(this.answer, answer, this.drawings, { baseUrl, idPrefix, mend, onJump: (span, from) => this.jump(span, from) });
    this.announce(this.inShort(answer));
  }

  showMarks() {
    this.editor.setMarks(this.marks.filter(this.keepMark));
  }

  /** Old drawings stay, and say that they are old, until the new ones come. @param {Answer["drawings"]} drawings */
  async showDrawings(drawings) {
    this.drawn = drawings;
    this.drawings.setAttribute("aria-busy", "true");
    try {
      const made = await drawings;
      if (this.drawn === drawings) renderDrawings(this.drawings, made);
    } catch (error) {
      // A newer text brings its own; of a crash everybody hears at once.
      if (this.drawn !== drawings || !(error instanceof Error) || error.name === "Superseded" || error.name === "Crashed") return;
      this.drawings.replaceChildren(html("p", { class: "bw-note bw-note--bad" }, "The drawings could not be made. ", error.message));
    }
    if (this.drawn === drawings) this.drawings.removeAttribute("aria-busy");
  }

  /**
   * Shows what the site's build found in the board that stands in the editor now, unless the checker or the reader is quicker.
   * @param {string} path  of the board, below the site's root
   */
  async showBuilt(path) {
    if (this.ready) return;
    const text = this.editor.text();
    const answer = await fetchBuiltAnswer(path, this.baseUrl);
    if (!answer || this.ready || this.editor.text() !== text) return;
    this.origin.textContent = "This answer was made when this site was built. The checker gives its own as soon as it has started.";
    this.put(answer, text);
  }

  /** @param {Span} span @param {HTMLElement} from */
  jump(span, from) {
    this.jumpedFrom = from;
    this.back.hidden = false;
    this.editor.element.scrollIntoView({ block: "nearest" });
    this.editor.jump(span);
  }

  goBack() {
    const from = document.getElementById(this.jumpedFrom?.id ?? "") ?? this.answer.querySelector("h2");
    this.back.hidden = true;
    if (from instanceof HTMLElement) reveal(from);
  }

  /** @param {string} key */
  showCard(key) {
    const card = document.getElementById(`${this.idPrefix}-${key}`);
    if (card) reveal(card);
  }

  /** Paper cannot be scrolled or unfolded: it gets all lines of the text that the answer is about, and every fold open. */
  dressForPrint() {
    const lines = (this.shownText || this.editor.text()).trimEnd().split("\n");
    this.printed.replaceChildren(...lines.map((line) => html("div", {}, line || " ")));
    this.unfolded = [...this.answer.querySelectorAll("details:not([open])")];
    for (const fold of this.unfolded) fold.setAttribute("open", "");
  }

  undressFromPrint() {
    this.printed.replaceChildren();
    for (const fold of this.unfolded ?? []) fold.removeAttribute("open");
  }

  /** @param {string} words @param {string} [more]  that a narrow page leaves out */
  say(words, more = "") {
    this.state.replaceChildren(words, html("span", { class: "bw-state__more" }, more));
  }

  /** To screen readers, and only when it is news. @param {string} words */
  announce(words) {
    if (this.announcer.textContent !== words) this.announcer.textContent = words;
  }

  // ---- the text

  /** @param {"typed" | "pasted"} how */
  changed(how) {
    this.edition += 1;
    this.dropBuilt();
    clearTimeout(this.slow);
    clearTimeout(this.timer);
    this.tools?.textChanged();
    for (const { onText } of this.watchers) onText?.();
    if (!this.started) return;
    if (how === "pasted") this.check();
    else this.timer = setTimeout(() => this.check(), REST_MS);
  }

  /** What the build found is about the board as it opened, and there may be a while to wait for an answer to another. */
  dropBuilt() {
    if (!this.origin.textContent) return;
    this.origin.textContent = this.shownAnswer = this.shownText = "";
    this.marks = [];
    this.showMarks();
    this.drawn = undefined;
    this.drawings.replaceChildren();
    this.answer.replaceChildren();
  }

  /** @param {Watcher} watcher */
  watch(watcher) {
    this.watchers.push(watcher);
  }

  /** Puts another board in the place of the text: none of its predecessor can be undone into it. @param {string} text */
  open(text) {
    if (this.upgrading) this.editor.element.hidden = text.length > LONG_TEXT;
    this.editor.open(text);
  }

  /** Puts the code editor in the place of the text box; when it cannot be fetched, the text box simply stays. */
  async upgradeEditor() {
    let codeEditor;
    this.upgrading = true;
    try {
      ({ codeEditor } = await import("./editor.mjs"));
    } catch {
      this.editor.element.hidden = false;
      return;
    } finally {
      this.upgrading = false;
    }
    const plain = this.editor;
    const code = codeEditor(plain.text(), this.editorOptions);
    plain.element.before(code.element);
    code.select(...plain.selection());
    this.editor = code;
    this.showMarks();
    if (plain.hasFocus()) code.focus();
    plain.element.remove();
    this.keys.textContent = "Ctrl-Space offers words, Shift-F1 explains one, F8 goes to the next mark, Tab leaves the text.";
  }
}

/** @param {HTMLElement} element */
function reveal(element) {
  element.focus({ preventScroll: true });
  element.scrollIntoView({ block: "center" });
}
