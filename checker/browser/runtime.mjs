/**
 * What the worker fetches, how far it is with it, and Python started with it.
 */
import { startPython } from "./python.mjs";
import restOfLibrary from "./rest_of_library.py";

/**
 * Put here by the build: what to fetch, how large it is, and which modules are left out of the standard library; a board
 * with the digest of what this checker answers to it. The version is of all this together.
 * @typedef {{path: string, bytes: number, stage: "runtime" | "packages", packed: boolean}} Fetched
 * @type {{version: string, indexURL: string, library: string, wholeLibrary: string, leftOut: string[], files: Record<string, Fetched>,
 *   lock: Object, trial: {text: string, digest: string}}}
 */
export const runtime = RUNTIME;

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
self.fetch = (resource, options) => {
  const url = String(resource.url ?? resource);
  const file = runtime.files[url.slice(url.lastIndexOf("/") + 1)];
  return file ? fetched(file) : fetchAsItIs(resource, options);
};

/** @param {Fetched} file @returns {Promise<Response>} */
async function fetched(file) {
  try {
    const response = await fetchAsItIs(here(file.path));
    if (!response.ok) throw new Error(`status ${response.status}`);
    // The wasm stays the browser's own response: one that has passed through a script is compiled later, and never cached.
    return file.packed ? new Response(await unpacked(response, file.stage)) : response;
  } catch (error) {
    const told = Object.assign(new Error(`${file.path} could not be fetched from this site (${error.message}).`), { name: "Lost" });
    breakOff(told);
    throw told;
  }
}

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

// ---- Python

const packages = Object.values(runtime.files).filter(({ stage }) => stage === "packages");
let wheels;

/**
 * Python that can import the checker.
 * @param {{memory?: Uint8Array, toSave?: boolean}} [how]  see `startPython`
 * @returns {Promise<import("pyodide").PyodideAPI>}
 */
export async function begin(how = {}) {
  wheels ??= Promise.all(packages.map(async (file) => (await fetched(file)).arrayBuffer()));
  wheels.catch(() => {}); // told by `broken`
  tell();
  const settings = {
    indexURL: here(runtime.indexURL),
    stdLibURL: here(runtime.library),
    lockFileContents: runtime.lock,
    packageBaseUrl: here("./"),
    // Nobody can install plugins here; looking for them costs a tenth of the first check.
    env: { PYDANTIC_DISABLE_PLUGINS: "__all__" },
    // Python's own output has no reader here.
    stdout: () => {},
    stderr: (line) => console.debug(line),
  };
  const python = await Promise.race([startPython(settings, { glue: here(`${runtime.indexURL}pyodide.asm.mjs`), wheels, ...how }), broken]);
  // What is to be saved must not have met JavaScript.
  if (!how.toSave) findRestOfLibrary(python);
  return python;
}

function findRestOfLibrary(python) {
  const scope = python.toPy({ __name__: "rest_of_library" });
  python.runPython(restOfLibrary, { globals: scope });
  scope.get("install")(fetchWholeLibrary, python.toPy(runtime.leftOut));
}
