/**
 * The fault finder: takes a board, what is heard and when; then asks one test after the other, and keeps the record. All
 * reasoning is the checker's: the page sends the answers so far and shows what comes back.
 */
import { button, html, plain } from "./dom.mjs";
import { exampleIn, fetchExample } from "./example.mjs";
import { handedOver } from "./handed.mjs";
import { choicesView, recordView, suspectsView, testView } from "./hunt_view.mjs";
import { loadingView } from "./loading_view.mjs";
import { browserStorage, keep } from "./storage.mjs";

/** @typedef {Pick<typeof import("../client.mjs"), "start" | "hunt">} Client */
/**
 * @typedef {Object} Asked  what the reader has said so far
 * @property {string} [heard]
 * @property {string[]} [when]
 * @property {string[]} [at]
 * @property {string[]} [changes]
 * @property {boolean} [comes_and_goes]
 * @property {boolean} [another_amp]
 * @property {string[]} answers
 */

const KEY = "boardwright/hunt";
const SHORT = { g: "good", b: "bad", c: "cannot" };

/**
 * The hunt that this tab was at, if what stands there is one: a record that cannot be read would stop every visit.
 * @returns {{text: string, name: string, asked: Asked} | null}
 */
function huntedLast() {
  try {
    const { text, name, asked } = JSON.parse(browserStorage("sessionStorage")?.getItem(KEY) ?? "null");
    const { heard = "", answers, when = [], at = [], changes = [] } = asked;
    const sound = [text, name, heard, ...answers, ...when, ...at, ...changes].every((word) => typeof word === "string");
    return sound && answers.every((/** @type {string} */ word) => Object.values(SHORT).includes(word)) ? { text, name, asked } : null;
  } catch {
    return null;
  }
}

/** @param {HTMLElement} root @param {Client} client */
export function mountHunt(root, client) {
  return new FaultFinder(root, client);
}

class FaultFinder {
  /** @param {HTMLElement} root @param {Client} client */
  constructor(root, client) {
    const box = root.querySelector("textarea");
    const examples = root.querySelector("select");
    const place = root.querySelector("[data-answer]");
    if (!box || !examples || !place) throw new Error("a fault finder needs a <textarea>, a <select> and an element with data-answer");
    this.client = client;
    this.baseUrl = new URL(root.dataset.base ?? "./", location.href).href;
    this.box = box;
    this.source = root.querySelector("[data-source]");
    this.announcer = html("p", { class: "bw-unseen", role: "status" });
    this.notice = html("div");
    this.choices = html("div");
    this.test = html("section", { class: "bw-hunt__test", "aria-label": "Test", keydown: (event) => this.pressed(/** @type {KeyboardEvent} */ (event)) });
    this.rest = html("div");
    place.replaceChildren(this.announcer, this.notice, this.choices, this.test, this.rest);
    /** @type {Asked} */
    this.asked = { answers: [] };
    /** @type {Asked | null}  what the choices say where that has not been asked yet: an answer that comes meanwhile must not take it back */
    this.chosen = null;
    this.edition = 0;
    this.takeBoard();
    box.addEventListener("change", () => this.newBoard("the text below"));
    examples.addEventListener("change", () => this.openExample(examples.value, examples.selectedOptions[0]?.text ?? ""));
    window.addEventListener("beforeprint", () => this.rest.querySelectorAll("details").forEach((fold) => fold.setAttribute("open", "")));
    const linked = exampleIn(location.hash);
    this.loading = loadingView((words) => this.announce(words));
    this.notice.replaceChildren(this.loading.element);
    client.start({
      onStage: (stage) => this.loading.show(stage),
      onCrash: (message) => this.complain("The checker has stopped.", message),
    });
    if (linked) this.openExample(linked, linked.replace(/^.*\/|\.yaml$/g, ""));
    else this.ask();
  }

  // ---- the board

  /** What this tab hunted last; else the board that was checked last; else the one in the page. */
  takeBoard() {
    const known = huntedLast();
    const checked = handedOver();
    if (known) {
      this.asked = known.asked;
      this.box.value = known.text;
      this.name(known.name);
    } else if (checked) {
      this.box.value = checked;
      this.name("the one that you checked last");
    } else {
      this.box.value = `${this.box.value.trim()}\n`;
      this.name("an example");
    }
  }

  /** @param {string} words */
  name(words) {
    this.named = words;
    if (this.source) this.source.textContent = words;
  }

  /** @param {string} path @param {string} title */
  async openExample(path, title) {
    if (path === "checked") {
      const text = handedOver();
      if (text === null) return this.complain("No board has been checked in this tab.", "Check one first, or paste it here.");
      this.box.value = text;
      return this.newBoard("the one that you checked last");
    }
    if (!path) return undefined;
    try {
      this.box.value = await fetchExample(path, this.baseUrl);
    } catch (error) {
      return this.complain("This example cannot be opened.", error instanceof Error ? error.message : String(error));
    }
    return this.newBoard(title);
  }

  /** @param {string} name */
  newBoard(name) {
    this.name(name);
    this.asked = { answers: [] };
    return this.ask();
  }

  // ---- asking

  /** @param {string} [focus]  where the focus goes once the answer is there */
  async ask(focus = "") {
    const edition = ++this.edition;
    try {
      const state = await this.client.hunt(this.box.value, this.asked, this);
      if (edition !== this.edition) return;
      keep(browserStorage("sessionStorage"), KEY, JSON.stringify({ text: this.box.value, asked: this.asked, name: this.named }));
      this.notice.replaceChildren();
      this.show(state, focus);
    } catch (error) {
      if (edition === this.edition && error instanceof Error && error.name !== "Crashed") this.complain("The fault finder could not answer.", error.message);
    }
  }

  /** @param {any} state @param {string} focus */
  show(state, focus) {
    const begun = Boolean(state.heard);
    if (!this.asked.heard && state.symptom && !this.asked.answers.length) this.asked = { ...this.asked, ...state.symptom };
    this.showChoices(state, begun);
    this.test.replaceChildren(...testView(state, { answer: (word) => this.answer(word), undo: () => this.undo(), again: () => this.again() }));
    this.rest.replaceChildren(...(begun ? [suspectsView(state), recordView(state, this.named ?? "")] : []));
    const heading = this.test.querySelector("h2");
    if (focus && heading instanceof HTMLElement) heading.focus();
    this.announce(state.test ? `Test ${state.record.length + 1}. ${state.test.do} ${state.test.ask}` : (state.said ?? []).join(" ") || state.reason || "");
  }

  /** @param {any} state @param {boolean} begun */
  showChoices(state, begun) {
    const focused = this.choices.contains(document.activeElement) && document.activeElement?.getAttribute("name");
    const view = choicesView(state, this.chosen ?? this.asked, begun, {
      choose: (asked) => (this.chosen = asked),
      begin: (asked) => this.begin(asked),
    });
    this.choices.replaceChildren(view);
    const again = focused && view.querySelector(`[name="${focused}"]`);
    if (again instanceof HTMLElement) again.focus();
  }

  /** @param {Asked} asked */
  begin(asked) {
    this.asked = asked;
    this.chosen = null;
    this.ask("test");
  }

  /** @param {string} word */
  answer(word) {
    this.asked = { ...this.asked, answers: [...this.asked.answers, word] };
    this.ask("test");
  }

  undo() {
    this.asked = { ...this.asked, answers: this.asked.answers.slice(0, -1) };
    this.ask("test");
  }

  again() {
    this.asked = { answers: [] };
    this.chosen = null;
    this.ask();
  }

  /** Letters answer while the focus is in the test. @param {KeyboardEvent} event */
  pressed(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const word = SHORT[event.key.toLowerCase()];
    const has = (name) => this.test.querySelector(`[data-does=${name}]`);
    if (word && has(word)) this.answer(word);
    else if (event.key.toLowerCase() === "u" && has("undo")) this.undo();
  }

  // ---- saying

  /** @param {string} head @param {string} message */
  complain(head, message) {
    this.notice.replaceChildren(
      html(
        "div",
        { class: "bw-note bw-note--bad" },
        html("p", { class: "bw-note__head" }, head),
        html("p", {}, message),
        button("Try again", () => this.ask(), { class: "bw-button--main" }),
      ),
    );
    this.announce(`${head} ${message}`);
  }

  /** @param {string} words */
  announce(words) {
    this.announcer.textContent = plain(words);
  }
}
