/**
 * From the answers of the first-board form to the text that they stand for. What was left empty is `unknown`: the checker
 * asks about it, which is better than a number that nobody read.
 *
 * @typedef {{volts: string, way: string, milliamps: string}} Label  `way`: centre-negative, centre-positive, ac, or nothing
 *
 * @typedef {Object} Answers
 * @property {string} name  of the board
 * @property {string} purpose
 * @property {string} country  two letters
 * @property {string} pickups
 * @property {string} lead  metres
 * @property {"outlets" | "chain" | "batteries"} power  a supply with outlets, one adaptor for all, or none
 * @property {string} isolated
 * @property {string} supplyClass
 * @property {Label[]} outlets
 * @property {(Label & {name: string, kind: string, outlet: string})[]} pedals  in the order of the sound; `outlet`: a number from
 *   1, `battery`, `none` for one that takes no power, or nothing
 * @property {{name: string, kind: string, class: string}} amp
 */

const SUPPLY = "supply";
const TAKEN = ["guitar", "battery", "none", "unknown", SUPPLY];

/** @param {Answers} answers */
export function boardText({ name, purpose, country, pickups, lead, power, isolated, supplyClass, outlets, pedals, amp }) {
  const names = distinct([...pedals.map((pedal) => nameFrom(pedal.name) || nameFrom(pedal.kind) || "pedal"), nameFrom(amp.name) || "amp"]);
  const ampName = names.pop();
  const lines = [
    `board: {name: ${quoted(name.trim()) || "My first board"}, for: ${purpose || "unknown"}}`,
    ...(country.trim() ? [`place: {country: "${country.trim().toUpperCase().replace(/[^A-Z]/g, "")}"}`] : []),
    `guitar: {pickups: ${pickups || "unknown"}, lead: ${lead.trim() ? `${number(lead)} m` : "unknown"}}`,
  ];
  const given = power === "chain" ? outlets.slice(0, 1) : outlets;
  if (power !== "batteries" && given.length) {
    lines.push("", "supplies:", `  ${SUPPLY}:`, `    class: ${supplyClass || "unknown"}`, `    isolated: ${power === "chain" ? "no" : isolated || "unknown"}`, "    outlets:");
    // Of an outlet that nobody knows the polarity of, nothing else counts: it feeds nothing until it is known.
    given.forEach((outlet, index) => lines.push(`      ${index + 1}: ${outlet.way ? phrase(outlet) : "unknown"}`));
  }
  if (pedals.length) lines.push("", "# In the order of the sound.", "pedals:");
  /** The last pedal on each outlet: what comes next on it is chained behind. @type {Map<string, string>} */
  const last = new Map();
  pedals.forEach((pedal, index) => {
    const called = names[index];
    const parts = [`kind: ${pedal.kind || "unknown"}`];
    if (pedal.outlet === "none") parts.push("needs: none");
    else {
      const feed = feedOf(pedal.outlet, power, given.length, last.get(pedal.outlet));
      parts.push(`needs: ${phrase(pedal)}`, `feed: ${feed}`);
      if (feed !== "unknown" && feed !== "battery") last.set(pedal.outlet, called);
    }
    lines.push(`  ${called}: {${parts.join(", ")}}`);
  });
  lines.push("", "amps:", `  ${ampName}: {kind: ${amp.kind || "unknown"}, class: ${amp.class || "unknown"}}`, "");
  lines.push("audio:", `  - ${["guitar", ...names, ampName].join(" > ")}`);
  return `${lines.join("\n")}\n`;
}

/** @param {string} outlet @param {Answers["power"]} power @param {number} count @param {string} [ahead] */
function feedOf(outlet, power, count, ahead) {
  if (outlet === "battery") return "battery";
  if (power === "batteries" || !(Number(outlet) >= 1 && Number(outlet) <= count)) return "unknown";
  return ahead ? `{from: ${SUPPLY}.${outlet}, after: ${ahead}}` : `${SUPPLY}.${outlet}`;
}

/** What a label says, as a power phrase. @param {Label} label */
function phrase({ volts, way, milliamps }) {
  const kind = way === "ac" ? "ac" : way ? `dc ${way}` : "";
  const said = [volts.trim() && `${number(volts)}V`, kind, milliamps.trim() && `${number(milliamps)}mA`].filter(Boolean);
  return said.length ? said.join(" ") : "unknown";
}

/** A number with a point, however it was typed. @param {string} typed */
function number(typed) {
  return String(Number(typed.trim().replace(",", ".")));
}

/** What somebody calls a thing, as a name of the language. @param {string} called */
function nameFrom(called) {
  return called
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{N}_]+/gu, "_")
    .replace(/^_+|_+$/g, "")
    .slice(0, 40)
    .replace(/_+$/, "");
}

/** Names that differ from each other, and from those that mean something. @param {string[]} names */
function distinct(names) {
  const used = new Set(TAKEN);
  return names.map((name) => {
    let called = name;
    for (let number = 2; used.has(called); number += 1) called = `${name}_${number}`;
    used.add(called);
    return called;
  });
}

/** JSON's strings are YAML's. Characters that nobody sees are left out. @param {string} text */
function quoted(text) {
  text = text.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, "").trim();
  return !text || /^[A-Za-z][\w -]*\w$/.test(text) ? text : JSON.stringify(text);
}
