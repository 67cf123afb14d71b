/**
 * The checker, in a worker of its own: starts Python, says how far it is, then answers one question at a time.
 *
 * In:  {kind: "check", id, text}
 *      {kind: "hunt", id, text, asked}   `asked` is JSON: what is heard, and the answers so far
 *      {kind: "book", id, text}
 *      {kind: "write", id, text, form, base}     `form` and `base` as boardwright.browser.write takes them
 * Out: {kind: "stage", stage: "runtime" | "packages" | "checker", done_bytes?, total_bytes?}
 *      {kind: "ready", seconds, from_memory}
 *      {kind: "answer", id, answer}      `answer` is JSON, all but the drawings
 *      {kind: "drawings", id, drawings}  later, unless another check came first: SVG by name
 *      {kind: "written", id, content}
 *      {kind: "book", id, part}          JSON: before each chapter [title, done, count], in the end the book as HTML
 *      {kind: "failed", id, message}     the question, its drawings or the book of that id met an error; without an id, the checker is gone
 */
import { digestOf } from "./digest.mjs";
import { forgetMemory, savedMemory } from "./memory.mjs";
import { begin, runtime } from "./runtime.mjs";

/**
 * Starts the checker from its memory of an earlier visit, if there is one and it says what it should of a board, or else from
 * nothing.
 */
async function start() {
  const memory = await savedMemory(runtime.version);
  if (memory) {
    try {
      const python = await begin({ memory });
      const answered = new TextEncoder().encode(python.pyimport("boardwright.browser").first_part(runtime.trial.text));
      if ((await digestOf(answered)) === runtime.trial.digest) return opened(python, true);
    } catch (error) {
      if (error.name === "Lost") throw error;
      console.debug(error);
    }
    await forgetMemory(runtime.version);
  }
  return opened(await begin(), false);
}

function opened(python, fromMemory) {
  // For a look inside from the browser's console.
  self.boardwright = python;
  const { in_parts: inParts, hunt, book, write } = python.pyimport("boardwright.browser");
  postMessage({ kind: "ready", seconds: performance.now() / 1000, from_memory: fromMemory });
  return { inParts, hunt, book, write, fromMemory };
}

const checker = start();

checker.catch((error) => postMessage({ kind: "failed", message: `The checker could not start: ${lastLine(error)}` }));

/** What answers each kind of message, and who met an error if it meets one. */
const ANSWERS = {
  check: [check, "The checker met an error of its own"],
  hunt: [hunt, "The fault finder met an error of its own"],
  book: [book, "The book met an error of the checker's own"],
  write: [write, "The checker met an error of its own"],
};

/** Of each kind, what was asked for last: what is made in pieces is given up for a newer one. */
const newest = {};

addEventListener("message", async ({ data }) => {
  const [answer, met] = ANSWERS[data.kind] ?? [];
  if (!answer) return;
  newest[data.kind] = data.id;
  const doors = await checker;
  try {
    await answer(doors, data);
  } catch (error) {
    // An error of Python's is one answer lost; any other means that the interpreter itself is gone.
    const { id } = error?.constructor?.name === "PythonError" ? data : {};
    if (id === undefined && doors.fromMemory) await forgetMemory(runtime.version);
    postMessage({ kind: "failed", id, message: `${met}, which is no fault of the board: ${lastLine(error)}` });
  }
});

async function check({ inParts }, { id, text }) {
  const parts = inParts(text);
  try {
    postMessage({ kind: "answer", id, answer: parts.next().value });
    const drawings = await drawn(parts, id);
    if (drawings) postMessage({ kind: "drawings", id, drawings });
  } finally {
    parts.destroy();
  }
}

/** Draws one drawing after the other, and gives up when another check comes in between. @returns {Promise<Object<string, string> | undefined>} */
async function drawn(parts, id) {
  const drawings = {};
  for (;;) {
    await new Promise((resume) => setTimeout(resume));
    if (id !== newest.check) return undefined;
    const { done, value } = parts.next();
    if (done) return drawings;
    const [name, drawing] = JSON.parse(value);
    drawings[name] = drawing;
  }
}

function hunt({ hunt }, { id, text, asked }) {
  postMessage({ kind: "answer", id, answer: hunt(text, asked) });
}

async function book({ book }, { id, text }) {
  const parts = book(text);
  try {
    for (;;) {
      // Between two chapters, a check that was asked for meanwhile has its turn.
      await new Promise((resume) => setTimeout(resume));
      if (id !== newest.book) return;
      const { done, value } = parts.next();
      if (done) return;
      postMessage({ kind: "book", id, part: value });
    }
  } finally {
    parts.destroy();
  }
}

function write({ write }, { id, text, form, base }) {
  postMessage({ kind: "written", id, content: write(text, form, base) });
}

/** Of a Python traceback, the line that says what happened. */
function lastLine(error) {
  return String(error?.message ?? error).trim().split("\n").at(-1);
}
