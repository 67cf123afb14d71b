/**
 * Prints as JSON the modules of the standard library that checking the given boards loads, as paths inside its zip, and the
 * digest of what is answered to a first text: `node modules.mjs LIBRARY_ZIP WHEELS TEXT BOARD…`. It starts the checker as the worker does.
 */
import { readFile, readdir } from "node:fs/promises";
import { createRequire } from "node:module";
import { digestOf } from "./digest.mjs";
import { startPython } from "./python.mjs";

const [library, wheels, trial, ...boards] = process.argv.slice(2);
try {
  const names = (await readdir(wheels)).filter((name) => name.endsWith(".whl"));
  const read = async (name) => Uint8Array.from(await readFile(`${wheels}/${name}`)).buffer;
  const settings = { stdLibURL: library, stdout: () => {} };
  const python = await startPython(settings, { glue: createRequire(import.meta.url).resolve("pyodide/pyodide.asm.mjs"), wheels: Promise.all(names.map(read)) });
  const answer = python.pyimport("boardwright.browser").answer;
  const answered = python.pyimport("boardwright.browser").first_part(trial);
  for (const board of boards) answer(await readFile(board, "utf8"));
  // Bad text goes other ways than good text.
  for (const text of ["", "a: [", "pedals: {echo: {needs: 9 volts}}", "\u0000"]) answer(text);
  const used = python.runPython(`
    import json, sys
    zip = "/lib/python314.zip/"
    origins = [getattr(m.__spec__, "origin", None) or "" for m in list(sys.modules.values()) if hasattr(m, "__spec__")]
    json.dumps(sorted(o.removeprefix(zip) for o in origins if o.startswith(zip)))
  `);
  console.log(JSON.stringify({ used: JSON.parse(used), digest: await digestOf(new TextEncoder().encode(answered)) }));
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
