/**
 * Starts Python with the checker's packages in place: from nothing, or from the memory of one that has started before.
 *
 * Pyodide can save its memory and load it again (it says "snapshot"), but not with an extension module in it: such code is
 * linked into the running program at addresses that the saved memory then holds, and it is linked late, when it is imported.
 * So the only one here, pydantic's, is linked in every start before Python begins, when nothing else can have taken its
 * place: it always gets the same addresses, and saved memory fits. Nor does Pyodide make room for more memory than it
 * begins with (pyodide/pyodide#6254); that is done here too.
 */
import { loadPyodide } from "pyodide";

/**
 * @param {Object} settings  as `loadPyodide` takes them, without packages
 * @param {Object} from
 * @param {string} from.glue  address of pyodide.asm.mjs
 * @param {Promise<ArrayBuffer[]>} from.wheels  whose entries are not compressed
 * @param {Uint8Array} [from.memory]  as `makeMemorySnapshot` gave it
 * @param {boolean} [from.toSave]  whether it will be asked for its memory
 * @returns {Promise<import("pyodide").PyodideAPI>}
 */
export function startPython(settings, { glue, wheels, memory, toSave = false }) {
  return new Promise((resolve, reject) => {
    const prepare = async (module) => {
      module.addRunDependency("wheels");
      try {
        for (const wheel of await wheels) await install(module, new Uint8Array(wheel));
        if (memory) makeRoom(module, memory);
        module.removeRunDependency("wheels");
      } catch (error) {
        reject(error); // Pyodide would wait for ever
      }
    };
    const createPyodideModule = async (emscripten) => {
      const { default: create } = await import(glue);
      return create({ ...emscripten, preRun: [...emscripten.preRun, prepare] });
    };
    const snapshot = memory ? { _loadSnapshot: memory } : { _makeSnapshot: toSave };
    loadPyodide({ ...settings, ...snapshot, createPyodideModule }).then(resolve, reject);
  });
}

/** Writes a wheel's modules where Python looks for them, and links its extension modules. @param {Uint8Array} wheel */
async function install({ API, FS, loadWebAssemblyModule, preloadedWasm }, wheel) {
  for (const [name, content] of entries(wheel)) {
    // What installers keep would be told as packages that Pyodide has loaded, which a saved memory must not have.
    if (/^[^/]+\.dist-info\/|\/$/.test(name)) continue;
    const path = `${API.sitePackages}/${name}`;
    FS.mkdirTree(path.slice(0, path.lastIndexOf("/")));
    FS.writeFile(path, content, { canOwn: true });
    if (name.endsWith(".so")) preloadedWasm[path] = await loadWebAssemblyModule(content, { loadAsync: true, nodelete: true, allowUndefined: true }, path, {});
  }
}

/** The entries of a zip that is not compressed, in its own order. @param {Uint8Array} zip @returns {Generator<[string, Uint8Array]>} */
function* entries(zip) {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  let end = zip.length - 22;
  while (view.getUint32(end, true) !== 0x06054b50) end -= 1;
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    const [size, nameSize, extraSize, commentSize] = [view.getUint32(at + 20, true), ...[28, 30, 32].map((field) => view.getUint16(at + field, true))];
    const name = new TextDecoder().decode(zip.subarray(at + 46, at + 46 + nameSize));
    if (view.getUint16(at + 10, true) !== 0) throw new Error(`${name} is compressed`);
    const local = view.getUint32(at + 42, true);
    const start = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    yield [name, zip.subarray(start, start + size)];
    at += 46 + nameSize + extraSize + commentSize;
  }
}

/** @param {Uint8Array} memory */
function makeRoom(module, memory) {
  const [, head] = new Uint32Array(memory.buffer, memory.byteOffset, 2);
  const needed = memory.length - head;
  if (module.HEAP8.length < needed && !module.growMemory(needed)) throw new Error("There is not enough memory.");
}
