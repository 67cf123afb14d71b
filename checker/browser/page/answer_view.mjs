/**
 * An answer as a page: headline, mistakes of the text, findings by severity, questions, drawings, figures, coverage.
 * It only shows what the checker said, in the checker's order; it decides nothing and writes no sentence of its own
 * about a board. The headings are those of the text report, and a test holds them to it.
 */
import { Cards, unseen } from "./cards.mjs";
import { counted, html, prose } from "./dom.mjs";
import { shape } from "./kinds.mjs";
import { coverageSummary, coverageTable, powerTables } from "./tables.mjs";

/** @typedef {import("./types.mjs").Answer} Answer */
/** @typedef {import("./types.mjs").Kind} Kind */
/** @typedef {import("./types.mjs").Question} Question */
/** @typedef {import("./types.mjs").Severity} Severity */

/** @type {Record<Severity, string>} */
const HEADINGS = {
  danger: "Do not switch this on",
  fault: "This will not work, or will break something",
  risk: "This may let you down",
  advice: "Worth considering",
};

/**
 * Replaces what `root` holds by the answer. Folds that were open stay open, and the focus stays where it was.
 * @param {HTMLElement} root
 * @param {Answer} answer
 * @param {HTMLElement} drawings  where they are shown, which stays as it is
 * @param {import("./cards.mjs").ViewOptions} options
 */
export function renderAnswer(root, answer, drawings, options) {
  const open = [...root.querySelectorAll("details[open]")].map((fold) => fold.id);
  const focused = root.contains(document.activeElement) ? document.activeElement : null;

  root.replaceChildren(...sections(answer, drawings, new Cards(options)));

  for (const id of open) document.getElementById(id)?.setAttribute("open", "");
  if (focused) (focused.isConnected ? focused : document.getElementById(focused.id) ?? root.querySelector("h2"))?.focus({ preventScroll: true });
}

/**
 * @param {Answer} answer
 * @param {HTMLElement} drawings
 * @param {Cards} cards
 */
function sections(answer, drawings, cards) {
  /** @type {(name: string, questions: Question[]) => HTMLElement[]} */
  const questions = (name, list) =>
    list.map((question, index) => cards.question(question, `${name}-${index}`, name === "undecided" && Boolean(question.before_power)));
  /** @type {(kind: Kind, name: string, heading: string, list: HTMLElement[]) => Node | null} */
  const group = (kind, name, heading, list) => groupOf(kind, cards.id(name), heading, list);
  /** Keys count over all findings, as the marks do. @type {(severity: Severity) => Node | null} */
  const findings = (severity) => {
    const list = answer.findings.flatMap((one, index) => (one.severity === severity ? [cards.finding(one, `finding-${index}`)] : []));
    return group(severity, severity, HEADINGS[severity], list);
  };

  return [
    html("h2", { id: cards.id("headline"), class: "bw-headline", tabindex: -1 }, prose(answer.headline)),
    counts(answer, cards),
    group(
      "problem",
      "problem",
      "The text cannot be read here",
      answer.problems.map((one, index) => cards.problem(one, `problem-${index}`)),
    ),
    skipped(answer.skipped),
    findings("danger"),
    group("undecided", "check-first", "Check before you switch on", questions("check-first", answer.check_first)),
    findings("fault"),
    findings("risk"),
    findings("advice"),
    group("undecided", "undecided", "Could not decide", questions("undecided", answer.undecided)),
    group("accepted", "accepted", "Accepted", [
      ...answer.accepted.map((one, index) => cards.accepted(one, `accepted-${index}`)),
      ...answer.unused_accepts.map((one, index) => cards.unused(one, `unused-${index}`)),
    ]),
    drawings,
    figures(answer.power, cards),
    assumed(answer.assumptions ?? [], cards),
    coverage(answer.coverage, cards),
  ].filter((section) => section !== null);
}

/**
 * @param {Kind} kind
 * @param {string} id
 * @param {string} heading
 * @param {HTMLElement[]} cards
 */
function groupOf(kind, id, heading, cards) {
  if (cards.length === 0) return null;
  const count = html("span", { class: "bw-group__count" }, unseen(", "), cards.length);
  return html(
    "section",
    { class: `bw-group bw-group--${kind}`, "aria-labelledby": id },
    html("h3", { id, class: "bw-group__head" }, shape(kind), html("span", {}, heading), count),
    html("ul", { class: "bw-cards" }, cards),
  );
}

/** How many of each, as links to their groups. @param {Answer} answer @param {Cards} cards */
function counts(answer, cards) {
  /** @type {(severity: Severity) => number} */
  const found = (severity) => answer.findings.filter((finding) => finding.severity === severity).length;
  /** @type {[Kind, string, number, string][]} */
  const all = [
    ["problem", "problem", answer.problems.length, `${counted(answer.problems.length, "mistake")} in the text`],
    ["danger", "danger", found("danger"), counted(found("danger"), "danger")],
    ["undecided", "check-first", answer.check_first.length, `${answer.check_first.length} to check first`],
    ["fault", "fault", found("fault"), counted(found("fault"), "fault")],
    ["risk", "risk", found("risk"), counted(found("risk"), "risk")],
    ["advice", "advice", found("advice"), counted(found("advice"), "piece of advice", "pieces of advice")],
    ["undecided", "undecided", answer.undecided.length, `${answer.undecided.length} could not decide`],
  ];
  const links = all
    .filter(([, , count]) => count > 0)
    .map(([kind, name, , words]) => html("li", {}, html("a", { class: "bw-count", href: `#${cards.id(name)}` }, shape(kind), words)));
  return links.length ? html("ul", { class: "bw-counts" }, links) : null;
}

/** Never folded away: what was not judged must not look like what was found in order. @param {string[]} paths */
function skipped(paths) {
  if (paths.length === 0) return null;
  const items = paths.map((path) => html("li", {}, html("code", {}, path)));
  return html(
    "div",
    { class: "bw-group bw-skipped" },
    html("p", {}, "Not judged because of this"),
    html("ul", { class: "bw-list" }, items),
  );
}

/** @param {Answer["power"]} power @param {Cards} cards */
function figures(power, cards) {
  const tables = powerTables(power, ({ name, at }, key) => (at && cards.onJump ? cards.place(at, name, key) : name));
  return tables.length ? cards.fold("figures", "Volts, current and power of every outlet and device", ...tables) : null;
}

/** @param {string[]} assumptions @param {Cards} cards */
function assumed(assumptions, cards) {
  if (assumptions.length === 0) return null;
  const items = assumptions.map((assumption) => html("li", {}, prose(assumption)));
  return cards.fold("assumed", `Assumed, because the text does not say: ${items.length}`, html("ul", { class: "bw-list" }, items));
}

/** @param {Answer["coverage"]} rows @param {Cards} cards */
function coverage(rows, cards) {
  return rows.length ? cards.fold("coverage", `What was looked at: ${coverageSummary(rows)}`, coverageTable(rows, cards.baseUrl)) : null;
}
