/**
 * A worker that saves the memory of a Python which has imported the checker, for the next visit to start from. It answers
 * nothing, and is gone when it is done.
 *
 * Out: {kind: "stage", …}           on the way, as the checker's own worker says it
 *      {kind: "saved", bytes}       bytes is 0 if there is one already
 */
import { hasMemory, saveMemory } from "./memory.mjs";
import { begin, runtime } from "./runtime.mjs";

async function save() {
  if (await hasMemory(runtime.version)) return 0;
  const python = await begin({ toSave: true });
  // A text of JSON is one of Python too; what is to be saved must not be given values of JavaScript.
  python.runPython(`from boardwright.browser import warm_up\nwarm_up(${JSON.stringify(runtime.trial.text)})`);
  const memory = python.makeMemorySnapshot();
  await saveMemory(runtime.version, memory);
  return memory.length;
}

// Two pages opened at the same time need not both do it.
navigator.locks
  .request("boardwright memory", { ifAvailable: true }, async (lock) => lock && postMessage({ kind: "saved", bytes: await save() }))
  .catch((error) => console.debug(error))
  .finally(close);
