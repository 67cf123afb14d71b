/**
 * Marks an exercise: which of the planted faults are mended, and what else an answer says that keeps it from being solved.
 * It reads the checker's answer and the key, and decides nothing about boards itself.
 *
 * @typedef {import("./types.mjs").Answer} Answer
 * @typedef {import("./types.mjs").Finding} Finding
 * @typedef {import("./types.mjs").Severity} Severity
 *
 * @typedef {Object} Planted  a fault of the key
 * @property {string} rule
 * @property {string} about  the thing that it is about
 * @property {Severity} severity
 * @property {string} title  of the rule
 * @property {string} lesson  relative to the site's base
 * @property {string} look  hint: where to look
 * @property {string} because  hint: what is wrong
 * @property {string} mend  hint: how to mend it
 *
 * @typedef {"left" | "accepted" | "untold" | "mended"} FaultState  "accepted": silenced, not mended; "untold": the text no longer
 *   says enough to tell
 *
 * @typedef {Object} Marking
 * @property {FaultState[]} states  of the planted faults, in the key's order
 * @property {Finding[]} fresh  what was not planted and weighs as much as what was
 * @property {Finding[]} lighter  what was not planted and weighs less
 * @property {string[]} gone  devices that the board had and has no more
 * @property {boolean} readable  whether the whole text could be read
 * @property {boolean} solved
 */

/** Worst first. @type {Severity[]} */
const SEVERITIES = ["danger", "fault", "risk", "advice"];

/**
 * @param {Planted[]} key
 * @param {string[]} keeps  devices that must still be there: throwing a pedal out is not mending
 * @param {Answer} answer
 * @returns {Marking}
 */
export function mark(key, keeps, answer) {
  const states = key.map((planted) => stateOf(planted, answer));
  const planted = (/** @type {Finding} */ finding) => key.some((one) => isAbout(finding, one));
  const mildest = Math.max(...key.map((one) => SEVERITIES.indexOf(one.severity)));
  const others = answer.findings.filter((finding) => !planted(finding));
  const weighs = (/** @type {Finding} */ finding) => SEVERITIES.indexOf(finding.severity) <= mildest;
  const fresh = others.filter(weighs);
  const there = new Set(answer.power.devices.map(({ name }) => name));
  const gone = keeps.filter((name) => !there.has(name));
  const readable = answer.problems.length === 0 && answer.skipped.length === 0;
  const solved = readable && gone.length === 0 && fresh.length === 0 && states.every((state) => state === "mended");
  return { states, fresh, lighter: others.filter((finding) => !weighs(finding)), gone, readable, solved };
}

/** @param {Planted} planted @param {Answer} answer @returns {FaultState} */
function stateOf(planted, answer) {
  const about = (/** @type {{rule: string, things: {name: string}[]}} */ said) => isAbout(said, planted);
  // What another finding explains is folded under it, and has no things of its own.
  const folded = answer.findings.some((finding) => finding.folded.some((effect) => effect.rule === planted.rule && names(effect.sentence, planted.about)));
  if (folded || answer.findings.some(about)) return "left";
  if (answer.accepted.some(about)) return "accepted";
  if (answer.problems.length || [...answer.check_first, ...answer.undecided].some(about)) return "untold";
  return "mended";
}

/** @param {{rule: string, things: {name: string}[]}} said @param {Planted} planted */
function isAbout(said, planted) {
  return said.rule === planted.rule && said.things.some(({ name }) => name === planted.about);
}

/** Whether a sentence names a thing, between backticks. @param {string} sentence @param {string} thing */
function names(sentence, thing) {
  return sentence.split("`").some((part, place) => place % 2 === 1 && part === thing);
}
