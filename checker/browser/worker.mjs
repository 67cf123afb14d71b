/**
 * The checker, in a worker of its own: starts Python, says how far it is, then answers one question at a time.
 *
 * In:  {kind: "check", id, text}
 *      {kind: "hunt", id, text, asked}   `asked` is JSON: what is heard, and the answers so far
 *      {kind: "book", id, text}
 *      {kind: "write", id, text, form, base}     `form` and `base` as boardwright.browser.write takes them
 * Out: {kind: "stage", stage: "runtime" | "packages" | "checker", done_bytes?, total_bytes?}
 *      {kind: "ready", seconds}
 *      {kind: "answer", id, answer}      `answer` is JSON, all but the drawings
 *      {kind: "drawings", id, drawings}  later, unless another check came first: SVG by name
 *      {kind: "written", id, content}
 *      {kind: "book", id, part}          JSON: before each chapter [title, done, count], in the end the book as HTML
 *      {kind: "failed", id, message}     the question, its drawings or the book of that id met an error; without an id, the checker cannot start
 */
import { loadPyodide } from "pyodide";
import restOfLibrary from "./rest_of_library.py";

/**
 * Put here by the build: what to fetch, how large it is, and which modules are left out of the standard library.
 * @typedef {{path: string, bytes: number, stage: "runtime" | "packages", packed: boolean}} Fetched
 * @type {{indexURL: string, library: string, wholeLibrary: string, leftOut: string[], files: Record<string, Fetched>, lock: Object}}
 */
const runtime = RUNTIME;

const here = (path) => new URL(path, import.meta.url).href;

// ---- how far it is

const stages = { runtime: { done: 0, total: 0 }, packages: { done: 0, total: 0 } };
for (const { stage, bytes } of Object.values(runtime.files)) stages[stage].total += bytes;
const toCome = ["runtime", "packages", "checker"];

/** Everything is fetched at the same time; the stage told is the first that is not complete. */
function tell() {
  const [stage] = toCome;
  const { done, total } = stages[stage] ?? {};
  postMessage({ kind: "stage", stage, done_bytes: done, total_bytes: total });
  if (done < total || !stages[stage]) return;
  toCome.shift();
  tell();
}

function arrived(stage, bytes) {
  stages[stage].done += bytes;
  if (stage === toCome[0]) tell();
}

// ---- fetching

/** Pyodide waits for ever for wasm that does not come or does not compile, so what breaks is told past it. */
let breakOff;
const broken = new Promise((_, reject) => (breakOff = reject));

const instantiateStreaming = WebAssembly.instantiateStreaming;
WebAssembly.instantiateStreaming = (...wasm) =>
  instantiateStreaming(...wasm).catch((error) => {
    breakOff(error);
    throw error;
  });

const fetchAsItIs = self.fetch;

/**
 * Packed files are unpacked here, whatever the host thinks of compressing archives. Their names carry a hash of what
 * is in them, so a cache can never serve a wrong one, and gzip's own checksum tells a broken one.
 */
self.fetch = async (resource, options) => {
  const url = String(resource.url ?? resource);
  const file = runtime.files[url.slice(url.lastIndexOf("/") + 1)];
  if (!file) return fetchAsItIs(resource, options);
  try {
    const response = await fetchAsItIs(here(file.path));
    if (!response.ok) throw new Error(`status ${response.status}`);
    // The wasm stays the browser's own response: one that has passed through a script is compiled later, and never cached.
    return file.packed ? new Response(await unpacked(response, file.stage)) : response;
  } catch (error) {
    const told = new Error(`${file.path} could not be fetched from this site (${error.message}).`);
    breakOff(told);
    throw told;
  }
};

/** @param {Response} response @param {"runtime" | "packages"} stage */
function unpacked(response, stage) {
  const count = new TransformStream({
    transform(chunk, onward) {
      arrived(stage, chunk.byteLength);
      onward.enqueue(chunk);
    },
  });
  return new Response(response.body.pipeThrough(count).pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

new PerformanceObserver((list) => {
  for (const { name } of list.getEntries()) {
    const file = Object.values(runtime.files).find((file) => !file.packed && name === here(file.path));
    if (file) arrived(file.stage, file.bytes);
  }
}).observe({ type: "resource" });

/** The whole standard library, for a module that no check was seen to load. @returns {ArrayBuffer} */
function fetchWholeLibrary() {
  const request = new XMLHttpRequest();
  request.open("GET", here(runtime.wholeLibrary), false);
  request.responseType = "arraybuffer";
  request.send();
  if (request.status !== 200) throw new Error(`${runtime.wholeLibrary} could not be fetched`);
  return request.response;
}

// ---- the checker

async function start() {
  tell();
  const starting = loadPyodide({
    indexURL: here(runtime.indexURL),
    stdLibURL: here(runtime.library),
    lockFileContents: runtime.lock,
    packageBaseUrl: here("./"),
    packages: ["boardwright"],
    // Nobody can install plugins here; looking for them costs a tenth of the first check.
    env: { PYDANTIC_DISABLE_PLUGINS: "__all__" },
    // Python's own output has no reader here.
    stdout: () => {},
    stderr: (line) => console.debug(line),
  });
  const python = await Promise.race([starting, broken]);
  const scope = python.toPy({ __name__: "rest_of_library" });
  python.runPython(restOfLibrary, { globals: scope });
  scope.get("install")(fetchWholeLibrary, python.toPy(runtime.leftOut));
  // For a look inside from the browser's console.
  self.boardwright = python;
  const { in_parts: inParts, hunt, book, write } = python.pyimport("boardwright.browser");
  postMessage({ kind: "ready", seconds: performance.now() / 1000 });
  return { inParts, hunt, book, write };
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
    if (error?.constructor?.name !== "PythonError") throw error;
    postMessage({ kind: "failed", id: data.id, message: `${met}, which is no fault of the board: ${lastLine(error)}` });
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
