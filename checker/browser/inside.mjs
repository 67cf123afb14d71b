/**
 * Runs a Python script in the browser's own Python, under Node: `node inside.mjs SCRIPT TOOLS WHEELS [--optimize] [--library ZIP]`.
 * The two folders are the script's /tools and /wheels. What is compiled here is compiled by the very interpreter that will run it.
 */
import { readFile } from "node:fs/promises";
import { parseArgs } from "node:util";
import { loadPyodide } from "pyodide";

// Errors outside of any promise, too: Node prints the source line of one, a megabyte of WebAssembly glue.
process.on("uncaughtException", fail);

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { optimize: { type: "boolean" }, library: { type: "string" } },
});
const [script, tools, wheels] = positionals;
try {
  const python = await loadPyodide({
    args: values.optimize ? ["-OO"] : [],
    stdLibURL: values.library,
  });
  python.mountNodeFS("/tools", tools);
  python.mountNodeFS("/wheels", wheels);
  python.runPython(await readFile(script, "utf8"), { filename: script });
} catch (error) {
  fail(error);
}

function fail(error) {
  console.error(error.message);
  process.exit(1);
}
