/**
 * The page's door to the checker: starts the worker, asks it one thing at a time, and starts another when one hangs.
 *
 * @typedef {import("./page/types.mjs").Answer} Answer
 * @typedef {{stage: string, done_bytes?: number, total_bytes?: number}} Stage
 * @typedef {Object} Hooks
 * @property {(stage: Stage) => void} [onStage]
 * @property {(seconds: number) => void} [onReady]
 * @property {(message: string) => void} [onCrash]  the checker is gone; the next `start` or `check` starts another
 *
 * @typedef {{kind: "check", text: string} | {kind: "hunt", text: string, asked: string} | {kind: "write", text: string, form: Form,
 *   base: string}} Asked
 * @typedef {"json" | "markdown" | "cut-list"} Form
 * @typedef {{id: number, asked: Asked, resolve: (answer: any) => void, reject: (error: Error) => void}} Question
 * @typedef {{id: number, resolve: (drawings: Object<string, string>) => void, reject: (error: Error) => void}} ToDraw
 *
 * @typedef {(title: string, done: number, count: number) => void} OnChapter
 * @typedef {{id: number, onChapter: OnChapter, resolve: (html: string) => void, reject: (error: Error) => void,
 *   patience?: ReturnType<typeof setTimeout>}} Writing
 */

/** A check that takes longer than this is given up. */
let patienceMs = 20_000;

/** A worker that has not said a word by then never will: its file came empty, or never came. */
const FIRST_WORD_MS = 60_000;

const WORDS = { runtime: "Loading Python", packages: "Loading the checker", checker: "Starting the checker" };

/** @type {Worker | null} */
let worker = null;
let ready = false;
let lastId = 0;
/** @type {Set<Hooks>} */
const listeners = new Set();
/** @type {Question | null} */
let asked = null;
/** What is being drawn for the last answer. @type {ToDraw | null} */
let drawing = null;
/** @type {ReturnType<typeof setTimeout>} */
let patience;
/** @type {ReturnType<typeof setTimeout>} */
let firstWord;
/** @type {() => void} */
let answered;
/** Settled when the checker has answered once: until then it needs the line and the processor for itself. */
export const firstAnswer = new Promise((resolve) => (answered = () => resolve(undefined)));
/** The newest question of each asker. @type {Map<unknown, Question>} */
const waiting = new Map();

/** @param {Hooks} hooks */
export function start(hooks = {}) {
  listeners.add(hooks);
  if (ready) hooks.onReady?.(0);
  else launch();
}

/**
 * Answers about a text. Of several questions that wait, only the newest of each asker is put; the others are rejected
 * with the name "Superseded". So are the drawings of an answer when the next question is put before they are made.
 * @param {string} text
 * @param {unknown} [asker]  whoever has one text and wants its newest answer only: an editor, say
 * @returns {Promise<Answer>}
 */
export function check(text, asker = null) {
  return put({ kind: "check", text }, asker);
}

/**
 * One state of a hunt for a fault, by what is heard and the answers so far; waits and is superseded like a check.
 * @param {string} text
 * @param {Object} asked  see `boardwright.browser.hunt`
 * @param {unknown} [asker]
 * @returns {Promise<any>}
 */
export function hunt(text, asked, asker = null) {
  return put({ kind: "hunt", text, asked: JSON.stringify(asked) }, asker);
}

/**
 * What a reader takes away: the report as JSON or Markdown, the cut list as CSV.
 * @param {string} text
 * @param {Form} form
 * @param {string} base  address of the site, for links to lessons
 * @returns {Promise<string>}
 */
export function write(text, form, base) {
  return put({ kind: "write", text, form, base }, Symbol(form));
}

/** @param {Asked} question @param {unknown} asker @returns {Promise<any>} */
function put(question, asker) {
  launch();
  return new Promise((resolve, reject) => {
    waiting.get(asker)?.reject(named("Superseded", "A newer text is waiting to be checked."));
    waiting.delete(asker);
    waiting.set(asker, { id: ++lastId, asked: question, resolve, reject });
    ask();
  });
}

/** The book that is being written. @type {Writing | null} */
let writing = null;

/**
 * The handover book of a text, as HTML. Checks are answered meanwhile, between two chapters.
 * @param {string} text
 * @param {OnChapter} onChapter  hears which chapter is being written
 * @returns {Promise<string>}
 */
export function book(text, onChapter) {
  launch();
  takeWriting()?.reject(named("Superseded", "Another book is being written."));
  return new Promise((resolve, reject) => {
    writing = { id: ++lastId, onChapter, resolve, reject };
    worker?.postMessage({ kind: "book", id: writing.id, text });
  });
}

/** @param {{kind: string, part: string, message: string}} message */
function heardOfBook({ kind, part, message }) {
  const said = kind === "book" ? JSON.parse(part) : null;
  if (said instanceof Array && writing) {
    clearTimeout(writing.patience);
    writing.patience = setTimeout(giveUpBook, patienceMs);
    const [title, done, count] = said;
    writing.onChapter(title, done, count);
  } else if (said) takeWriting()?.resolve(said);
  else takeWriting()?.reject(new Error(message));
}

function takeWriting() {
  clearTimeout(writing?.patience);
  const was = writing;
  writing = null;
  return was;
}

function giveUpBook() {
  takeWriting()?.reject(named("TooSlow", `A chapter was not done after ${patienceMs / 1000} s and was stopped.`));
  giveUp();
}

/** @param {number} milliseconds */
export function setPatience(milliseconds) {
  patienceMs = milliseconds;
}

function launch() {
  if (worker) return;
  worker = new Worker(new URL("./worker.mjs", import.meta.url), { type: "module" });
  worker.onmessage = ({ data }) => heard(data);
  worker.onerror = (event) => {
    event.preventDefault();
    crashed(event.message || "The checker could not be fetched from this site.");
  };
  firstWord = setTimeout(() => crashed("Nothing was heard of it for a minute. Reload the page if it does not start again."), FIRST_WORD_MS);
}

function ask() {
  if (!worker || !ready || asked) return;
  // What is to be written can wait for drawings, which would be given up for it.
  const next = [...waiting].find(([, { asked: { kind } }]) => kind === "check" || !drawing);
  if (!next) return;
  const [asker, question] = next;
  waiting.delete(asker);
  takeDrawing()?.reject(named("Superseded", "A newer text is being checked."));
  asked = question;
  worker.postMessage({ ...question.asked, id: question.id });
  patience = setTimeout(giveUp, patienceMs);
}

function heard(message) {
  clearTimeout(firstWord);
  if (message.kind === "stage") {
    for (const { onStage } of listeners) onStage?.({ ...message, stage: WORDS[message.stage] ?? message.stage });
  } else if (message.kind === "ready") {
    ready = true;
    for (const { onReady } of listeners) onReady?.(message.seconds);
    ask();
  } else if (message.id === undefined) {
    crashed(message.message);
  } else if (message.id === asked?.id) {
    const question = take();
    if (message.kind === "written") question.resolve(message.content);
    else if (message.kind === "answer" && question.asked.kind === "hunt") question.resolve(JSON.parse(message.answer));
    else if (message.kind === "answer") question.resolve({ ...JSON.parse(message.answer), drawings: drawingsOf(message.id) });
    else question.reject(new Error(message.message));
    ask();
    answered();
  } else if (message.id === drawing?.id) {
    const { resolve, reject } = takeDrawing();
    if (message.kind === "drawings") resolve(message.drawings);
    else reject(new Error(message.message));
    ask();
  } else if (message.id === writing?.id) {
    heardOfBook(message);
  }
}

function take() {
  clearTimeout(patience);
  const question = asked;
  asked = null;
  return question;
}

/** @param {number} id @returns {Promise<Object<string, string>>} */
function drawingsOf(id) {
  const drawings = new Promise((resolve, reject) => (drawing = { id, resolve, reject }));
  drawings.catch(() => {}); // not every asker looks at drawings
  patience = setTimeout(giveUp, patienceMs);
  return drawings;
}

function takeDrawing() {
  clearTimeout(patience);
  const left = drawing;
  drawing = null;
  return left;
}

function stop() {
  clearTimeout(firstWord);
  worker?.terminate();
  worker = null;
  ready = false;
  takeWriting()?.reject(named("Crashed", "The checker was stopped, and the book with it."));
}

/** Python cannot be interrupted from outside, so its worker goes, and another comes for the questions that wait. */
function giveUp() {
  const [question, left] = [take(), takeDrawing()];
  stop();
  launch();
  question?.reject(named("TooSlow", `The check was not done after ${patienceMs / 1000} s and was stopped.`));
  left?.reject(named("TooSlow", `They were not done after ${patienceMs / 1000} s and were stopped.`));
}

/** @param {string} message */
function crashed(message) {
  stop();
  for (const question of [take(), takeDrawing(), ...waiting.values()]) question?.reject(named("Crashed", message));
  waiting.clear();
  // Whoever still wants the checker starts it again, with new hooks.
  const told = [...listeners];
  listeners.clear();
  for (const { onCrash } of told) onCrash?.(message);
}

/** @param {string} name @param {string} message */
function named(name, message) {
  return Object.assign(new Error(message), { name });
}
