/**
 * Prints the modules of the standard library that checking the given boards loads, as paths inside its zip:
 * `node modules.mjs LIBRARY_ZIP WHEELS BOARD…`. It starts the checker as the worker does.
 */
import { readFile } from "node:fs/promises";
import { loadPyodide } from "pyodide";

const [library, wheels, ...boards] = process.argv.slice(2);
try {
  const python = await loadPyodide({
    stdLibURL: library,
    lockFileContents: await readFile(`${wheels}/pyodide-lock.json`, "utf8"),
    packageBaseUrl: wheels,
    packages: ["boardwright"],
    stdout: () => {},
  });
  const answer = python.pyimport("boardwright.browser").answer;
  for (const board of boards) answer(await readFile(board, "utf8"));
  // Bad text goes other ways than good text.
  for (const text of ["", "a: [", "pedals: {echo: {needs: 9 volts}}", "\u0000"]) answer(text);
  console.log(python.runPython(`
    import json, sys
    zip = "/lib/python314.zip/"
    origins = [getattr(m.__spec__, "origin", None) or "" for m in list(sys.modules.values()) if hasattr(m, "__spec__")]
    json.dumps(sorted(o.removeprefix(zip) for o in origins if o.startswith(zip)))
  `));
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
