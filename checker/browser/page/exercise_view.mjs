/**
 * An exercise around a workbench: what is mended and what is left, hints one step at a time, the key last, and progress that
 * the browser keeps. What the checker says in full stays folded until the reader asks for it: finding is half of the exercise.
 */
import { unseen } from "./cards.mjs";
import { button, html, plain, prose, siteLink } from "./dom.mjs";
import { mark } from "./exercise_marking.mjs";
import { fetchExample } from "./example.mjs";
import { KINDS, shape } from "./kinds.mjs";
import { forgetProgress, keepProgress, readProgress } from "./progress.mjs";

/** @typedef {import("./exercise_marking.mjs").FaultState} FaultState */
/** @typedef {import("./exercise_marking.mjs").Marking} Marking */
/** @typedef {import("./exercise_marking.mjs").Planted} Planted */
/** @typedef {import("./types.mjs").Answer} Answer */

/** The words on the buttons, and what each brings. @type {[string, "look" | "because" | "mend"][]} */
const STEPS = [
  ["Where to look", "look"],
  ["What is wrong", "because"],
  ["How to mend it", "mend"],
];

/** @type {Record<FaultState, string>} */
const WORDS = { left: "left to mend", accepted: "accepted, not mended", untold: "cannot tell", mended: "Mended" };

/**
 * Puts what the reader wrote last time into the text box; to be called before there is a workbench.
 * @param {HTMLElement} root
 */
export function prepareExercise(root) {
  const box = root.querySelector("textarea");
  const { text } = readProgress(root.dataset.exercise ?? "");
  if (box && text !== null) box.value = text;
}

/** @param {import("./bench.mjs").Bench} bench */
export function mountExercise(bench) {
  return new Exercise(bench);
}

class Exercise {
  /** @param {import("./bench.mjs").Bench} bench */
  constructor(bench) {
    const { exercise = "", key = "[]", keeps = "[]", mended = "" } = bench.root.dataset;
    this.bench = bench;
    this.name = exercise;
    /** @type {Planted[]} */
    this.key = JSON.parse(key);
    /** @type {string[]} */
    this.keeps = JSON.parse(keeps);
    this.mendedPath = mended;
    this.original = `${bench.root.querySelector("textarea")?.defaultValue.trim()}\n`;
    this.progress = readProgress(exercise);
    /** @type {Marking | null} */
    this.marking = null;
    /** Whether the text of the last answer is the reader's and not the key's. */
    this.own = true;

    this.count = html("p", { class: "bw-marking__count" });
    this.remarks = html("div", { class: "bw-marking__remarks" });
    this.list = html("ol", { class: "bw-faults" });
    this.undo = button("Put my text back", () => this.undoLast(), { hidden: true });
    this.answerButton = button("Show the answer", () => this.showKey(), { "aria-expanded": "false" });
    const again = button("Begin again", () => this.beginAgain());
    const keyFold = (this.keyFold = this.takeKey());
    this.full = html(
      "details",
      { class: "bw-fold bw-marking__full", toggle: () => this.veil() },
      html("summary", {}, "What the checker says, in full"),
      html("div", { class: "bw-fold__body" }, bench.answer),
    );
    const buttons = html("div", { class: "bw-toolbar" }, this.answerButton, again, this.undo);
    bench.notice.replaceChildren();
    bench.notice.after(html("div", { class: "bw-marking" }, this.count, this.remarks, this.how, this.list, buttons, keyFold));
    bench.root.querySelector("[data-answer]")?.append(this.full);
    this.full.hidden = true;

    bench.inShort = () => this.inWords();
    this.veil();
    bench.watch({ onText: () => this.textChanged(), onAnswer: (answer, text) => this.answered(answer, text) });
    this.show();
  }

  // ---- what the workbench tells

  textChanged() {
    const text = this.bench.editor.text();
    this.keep({ text: text === this.original ? null : text });
  }

  /** @param {Answer} answer @param {string} text */
  answered(answer, text) {
    this.marking = mark(this.key, this.keeps, answer);
    this.full.hidden = false;
    if (!this.marking.readable) this.full.open = true;
    const mended = this.marking.states.filter((state) => state === "mended").length;
    this.own = text.trim() !== this.solution?.trim();
    this.keep({ mended, solved: this.progress.solved || (this.marking.solved && this.own) });
    this.show();
  }

  /** @param {Partial<import("./progress.mjs").Progress>} news */
  keep(news) {
    Object.assign(this.progress, news);
    this.kept = keepProgress(this.name, this.progress);
  }

  /** Marks beside the lines would find the faults for the reader; those of mistakes in the text help to write it. */
  veil() {
    this.bench.keepMark = ({ kind }) => this.full.open || kind === "problem";
    this.bench.showMarks();
  }

  // ---- what is shown

  show() {
    const { marking, key } = this;
    this.count.replaceChildren(this.inWords());
    this.remarks.replaceChildren(...(marking ? this.remarksOn(marking) : []));
    const rows = key.map((planted, index) => this.row(planted, marking?.states[index] ?? "left", index));
    const focused = this.list.contains(document.activeElement) ? document.activeElement?.id : "";
    this.list.replaceChildren(...rows);
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  inWords() {
    const { marking, key, progress } = this;
    const total = key.length;
    if (!marking) {
      if (progress.solved) return `Solved before. ${total} faults were planted here.`;
      return progress.mended ? `${progress.mended} of ${total} were mended when you left.` : `${total} faults are planted in this board.`;
    }
    if (marking.solved && !this.own) return `All ${total} are mended: this is the board of the key.`;
    if (marking.solved) return `Solved: all ${total} are mended, and nothing new was found.`;
    const mended = marking.states.filter((state) => state === "mended").length;
    const more = marking.fresh.length ? ` ${marking.fresh.length === 1 ? "One thing is" : `${marking.fresh.length} things are`} new.` : "";
    return `${mended} of ${total} mended.${more}`;
  }

  /** @param {Marking} marking */
  remarksOn({ solved, readable, gone, fresh, lighter }) {
    const remarks = [];
    if (solved && this.own) remarks.push(this.praise());
    if (!readable) remarks.push(note("The text has a mistake, and what cannot be read cannot be judged. It is told below."));
    if (gone.length) remarks.push(note(`Throwing a box out is not mending. Gone: ${gone.join(", ")}.`));
    for (const { severity, title, sentence } of fresh) {
      remarks.push(note(html("span", { class: `bw-tag bw-tag--${severity}` }, shape(severity), "New"), ` ${title}: `, ...prose(sentence)));
    }
    if (fresh.length) remarks.push(note("What is new weighs as much as what was planted, so the exercise is not solved while it is there."));
    if (solved && lighter.length) remarks.push(note(`Worth a look: ${lighter.map(({ title }) => title).join("; ")}.`));
    if (this.kept === false) remarks.push(note("This browser keeps nothing for this site, so your progress ends with this page."));
    return remarks;
  }

  /** The lesson's own sentence, from where it stands. */
  praise() {
    const sentence = document.querySelector("#keep + blockquote")?.textContent?.trim();
    return html("div", { class: "bw-solved" }, html("p", {}, "Well mended."), sentence ? html("p", { class: "bw-solved__sentence" }, sentence) : null);
  }

  /** @param {Planted} planted @param {FaultState} state @param {number} index */
  row(planted, state, index) {
    const id = `${this.name}-fault-${index}`;
    const done = state === "mended";
    const kind = done ? "accepted" : planted.severity;
    const tag = html("span", { class: `bw-tag bw-tag--${kind}` }, shape(kind), done ? WORDS.mended : KINDS[kind].word);
    const href = siteLink(planted.lesson, this.bench.baseUrl);
    const title = html("span", { class: "bw-fault__title" }, done && href ? html("a", { href }, planted.title) : planted.title);
    const word = done || !this.marking ? null : html("span", { class: "bw-soft" }, WORDS[state]);
    const head = html("p", { class: "bw-fault__head" }, tag, " ", title, " ", word);
    return html("li", { class: `bw-fault bw-fault--${state}` }, head, done ? told("What was wrong", planted, "because") : this.hints(planted, state, id));
  }

  /** The hints that were asked for, and a button for the next. @param {Planted} planted @param {FaultState} state @param {string} id */
  hints(planted, state, id) {
    const name = `${planted.rule}/${planted.about}`;
    const taken = Math.min(this.progress.hints[name] ?? 0, STEPS.length);
    const parts = STEPS.slice(0, taken).map(([words, part]) => told(words, planted, part));
    if (state === "untold") parts.unshift(html("p", {}, "The text no longer says enough to tell whether this is mended."));
    if (state === "accepted") parts.unshift(html("p", {}, "It was silenced with ", html("code", {}, "accept"), "; it is still there."));
    if (taken < STEPS.length) {
      const [words] = STEPS[taken];
      const more = () => {
        this.keep({ hints: { ...this.progress.hints, [name]: taken + 1 } });
        this.show();
        this.bench.announce(spoken(planted, STEPS[taken][1]));
      };
      const label = [`Hint: ${words.toLowerCase()}`, unseen(`, ${planted.title}`)];
      parts.push(button(label, more, { id, class: "bw-button--hint" }));
    } else {
      parts.push(html("span", { id, tabindex: -1, class: "bw-unseen" }, "There is no further hint."));
    }
    return html("div", { class: "bw-fault__hints" }, parts);
  }

  // ---- the key, and beginning again

  /** Takes the folds of the page without a script: hints come from here in steps, the key when it is asked for. */
  takeKey() {
    const place = html("div", { class: "bw-marking__key", hidden: true, tabindex: -1, role: "group", "aria-label": "The answer" });
    const hints = this.bench.root.querySelector("[data-hints]");
    this.how = hints?.firstElementChild;
    const solution = hints?.lastElementChild?.querySelector(".bw-fold__body");
    const put = button("Put this board into the text", () => this.putSolution());
    place.append(html("p", { class: "bw-strong" }, "One way to mend it"), put, ...(solution?.childNodes ?? []));
    hints?.remove();
    return place;
  }

  showKey() {
    this.keyFold.hidden = !this.keyFold.hidden;
    this.answerButton.textContent = this.keyFold.hidden ? "Show the answer" : "Hide the answer";
    this.answerButton.setAttribute("aria-expanded", String(!this.keyFold.hidden));
  }

  async putSolution() {
    try {
      this.solution = await fetchExample(this.mendedPath, this.bench.baseUrl);
    } catch (error) {
      this.remarks.replaceChildren(note(error instanceof Error ? error.message : String(error)));
      return;
    }
    this.replaceText(this.solution);
  }

  beginAgain() {
    const before = { ...this.progress, text: this.bench.editor.text() };
    this.replaceText(this.original, before);
    forgetProgress(this.name);
    this.progress = readProgress(this.name);
    this.marking = null;
    if (!this.keyFold.hidden) this.showKey();
    this.show();
    this.bench.checkNow();
  }

  /** @param {string} text @param {import("./progress.mjs").Progress} [before]  to come back to */
  replaceText(text, before = { ...this.progress, text: this.bench.editor.text() }) {
    this.before = before;
    this.bench.editor.setText(text);
    this.bench.start();
    this.undo.hidden = false;
  }

  undoLast() {
    const before = this.before;
    this.undo.hidden = true;
    this.answerButton.focus();
    if (!before || before.text === null) return;
    this.progress = { ...before };
    this.bench.editor.setText(before.text);
    this.show();
  }
}

/** @param {string} words @param {Planted} planted @param {"look" | "because" | "mend"} part */
function told(words, planted, part) {
  const about = part === "because" ? [html("code", {}, planted.about), ": "] : [];
  return html("p", { class: "bw-labelled" }, html("span", { class: "bw-labelled__label" }, words), ...about, ...prose(planted[part]));
}

/** @param {Planted} planted @param {"look" | "because" | "mend"} part */
function spoken(planted, part) {
  return plain(`${part === "because" ? `${planted.about}: ` : ""}${planted[part]}`);
}

/** @param {...import("./dom.mjs").Child} words */
function note(...words) {
  return html("p", { class: "bw-marking__note" }, ...words);
}
