/** The tables of an answer: the figures of the power side, and what every rule said. */
import { counted, html, siteLink } from "./dom.mjs";
import { tell } from "./quantity.mjs";
import { scrolling } from "./scroll.mjs";

/** @typedef {import("./types.mjs").CoverageRow} CoverageRow */
/** @typedef {import("./types.mjs").PowerFigures} PowerFigures */
/** @typedef {import("./dom.mjs").Child} Child */

/**
 * A table that scrolls sideways by itself where the page is narrow, also by keyboard.
 * @param {string} caption
 * @param {string[]} heads
 * @param {HTMLTableSectionElement[]} bodies
 * @param {string} [extraClass]
 */
function table(caption, heads, bodies, extraClass = "") {
  const columns = heads.map((head) => html("th", { scope: "col" }, head));
  const head = html("thead", {}, html("tr", {}, columns));
  const whole = html("table", { class: `bw-table ${extraClass}` }, html("caption", {}, caption), head, bodies);
  return scrolling(caption, whole);
}

/**
 * @param {string} caption
 * @param {string[]} heads
 * @param {Child[][]} rows  the first cell of each names the row
 */
function figuresTable(caption, heads, rows) {
  const lines = rows.map(([name, ...figures]) => {
    const cells = figures.map((figure) => html("td", {}, figure));
    return html("tr", {}, html("th", { scope: "row" }, name), cells);
  });
  return table(caption, heads, [html("tbody", {}, lines)], "bw-table--figures");
}

/**
 * Outlets, devices and supplies with their figures; a figure that nothing gives is said to be unknown, never left blank.
 * @param {PowerFigures} power
 * @param {(row: {name: string, at: import("./types.mjs").Span | null}, key: string) => Child} named  shows a row's name
 */
export function powerTables({ outlets, devices, supplies }, named) {
  const tables = [];
  if (outlets.length) {
    const rows = outlets.map((row, index) => [
      named(row, `outlet-${index}`),
      told(row.volts, "V"),
      told(row.amps, "A", row.complete),
      told(row.rating_amps, "A"),
      told(row.share, "%", row.complete),
      row.devices.join(", ") || "free",
    ]);
    tables.push(figuresTable("Outlets", ["outlet", "gives", "flows", "rated", "in use", "feeds"], rows));
  }
  if (devices.length) {
    const rows = devices.map((row, index) => [
      named(row, `device-${index}`),
      row.source || "nowhere",
      told(row.volts, "V"),
      told(row.amps, "A"),
      told(row.watts, "W"),
      told(row.lost_volts, "V"),
      row.origin,
    ]);
    tables.push(figuresTable("Devices", ["device", "from", "gets", "draws", "power", "lost", "known by"], rows));
  }
  if (supplies.length) {
    const rows = supplies.map((row, index) => [
      named(row, `supply-${index}`),
      told(row.watts, "W", row.complete),
      told(row.total_watts, "W"),
      told(row.lost_watts, "W"),
      told(row.case_celsius, "°C"),
    ]);
    tables.push(figuresTable("Supplies", ["supply", "gives", "of", "warmth", "case about"], rows));
  }
  return tables;
}

/**
 * @param {number | null} value
 * @param {string} unit
 * @param {boolean} [complete]  whether all that goes into the value is known
 */
function told(value, unit, complete = true) {
  if (value === null) return "not known";
  return complete ? tell(value, unit) : `at least ${tell(value, unit)}`;
}

/**
 * Every rule with its verdicts, family by family.
 * @param {CoverageRow[]} rows
 * @param {string} baseUrl
 */
export function coverageTable(rows, baseUrl) {
  const families = [...new Set(rows.map((row) => row.family))];
  const bodies = families.map((family) => {
    const head = html("tr", {}, html("th", { scope: "rowgroup", colspan: 2, class: "bw-table__family" }, family));
    const lines = rows
      .filter((row) => row.family === family)
      .map((row) => html("tr", {}, html("th", { scope: "row" }, ruleLink(row, baseUrl)), html("td", {}, verdicts(row))));
    return html("tbody", {}, head, lines);
  });
  return table("Every rule, and what it said about this board", ["Rule", "Verdicts"], bodies);
}

/**
 * The whole coverage in one line.
 * @param {CoverageRow[]} rows
 */
export function coverageSummary(rows) {
  /** @type {(keep: (row: CoverageRow) => boolean) => number} */
  const count = (keep) => rows.filter(keep).length;
  return [
    counted(rows.length, "rule"),
    `${count((row) => row.trips > 0)} tripped`,
    `${count((row) => row.trips === 0 && row.cannot_tell > 0)} could not be decided`,
    `${count((row) => row.not_applicable)} not applicable`,
  ].join(", ");
}

/** @param {CoverageRow} row */
function verdicts(row) {
  const said = [
    row.trips && `trips ${row.trips}`,
    row.cannot_tell && `cannot tell ${row.cannot_tell}`,
    row.accepted && `accepted ${row.accepted}`,
    row.clear && `clear ${row.clear}`,
  ].filter((part) => typeof part === "string");
  if (row.not_applicable || said.length === 0) return html("span", { class: "bw-soft" }, "not applicable");
  return said.map((part, index) => html("span", { class: part.startsWith("clear") ? "" : "bw-strong" }, index ? ", " : "", part));
}

/**
 * @param {{title: string, page: string}} row
 * @param {string} baseUrl
 */
function ruleLink({ title, page }, baseUrl) {
  const href = siteLink(page, baseUrl);
  return href ? html("a", { href }, title) : title;
}
