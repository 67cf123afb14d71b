/** Entry of the checker page: makes every workbench in the page work. Bundled by esbuild; see the checker's build. */
import * as client from "../client.mjs";
import { mountBench } from "./bench.mjs";
import { mountBook } from "./book.mjs";
import { mountDesk } from "./desk.mjs";
import { mountExercise, prepareExercise } from "./exercise_view.mjs";
import { keepChecker, keepMemory } from "./keep.mjs";

for (const root of document.querySelectorAll("[data-bench]")) {
  if (!(root instanceof HTMLElement)) continue;
  const baseUrl = new URL(root.dataset.base ?? "./", location.href).href;
  const exercise = "exercise" in root.dataset;
  if (exercise) prepareExercise(root);
  const bench = mountBench(root, { client, baseUrl, start: root.dataset.start === "intent" ? "intent" : "now" });
  if (exercise) mountExercise(bench);
  if (!("desk" in root.dataset)) continue;
  bench.addTools();
  mountDesk(bench);
  mountBook(bench, client);
}

client.firstAnswer.then(keepChecker);
client.firstAnswer.then(keepMemory).catch((error) => console.debug(error));
const hunting = document.querySelector("[data-hunt]");
if (hunting instanceof HTMLElement) import("./hunt.mjs").then(({ mountHunt }) => mountHunt(hunting, client));
