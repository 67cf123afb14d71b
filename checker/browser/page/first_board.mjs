/**
 * The first-board form: a board for people who would rather not type. It asks what a label says, and makes the very text that
 * they could have written; what they leave empty, the checker asks about.
 */
import { button, html, prose } from "./dom.mjs";
import { boardText } from "./first_board_text.mjs";

/** @typedef {import("./words.mjs").Words} Words */
/** @typedef {import("./first_board_text.mjs").Answers} Answers */
/** @typedef {[value: string, words: string][]} Options */

/** @type {Options} */
const WAYS = [
  ["", "not known"],
  ["centre-negative", "centre negative (minus inside)"],
  ["centre-positive", "centre positive (plus inside)"],
  ["ac", "ac (~)"],
];
/** @type {Options} */
const CLASSES = [
  ["", "not known"],
  ["II", "class II: a square in a square, no earth"],
  ["I", "class I: a plug with an earth contact"],
];
/** @type {Options} */
const ISOLATED = [
  ["", "not known"],
  ["yes", "yes, all of them"],
  ["no", "no"],
];
const MOST_ROWS = 24;

/**
 * @param {HTMLElement} parent  that the form's window is put into
 * @param {Words} words
 * @param {(text: string) => void} done
 */
export function firstBoard(parent, words, done) {
  const heading = html("h2", { id: "first-board-heading" }, "A first board");
  const outlets = html("ol", { class: "bw-rows" });
  const pedals = html("ol", { class: "bw-rows" });
  const sample = html("pre", {});

  const power = radios("power", "How do the pedals get their power?", [
    ["outlets", "A supply with several outlets"],
    ["chain", "One adaptor, on a lead with many plugs"],
    ["batteries", "Batteries"],
  ]);
  const isolated = field("Are its outlets isolated from each other?", select("isolated", ISOLATED));
  const addOutlet = button("Add an outlet", () => add(outlets, outletRow));
  const addPedal = button("Add a pedal", () => add(pedals, pedalRow));
  const supply = html(
    "fieldset",
    {},
    html("legend", {}, "What is printed on the supply"),
    html("div", { class: "bw-fields" }, field("Protection class", select("supplyClass", CLASSES)), isolated),
    outlets,
    addOutlet,
  );

  const form = html(
    "form",
    { method: "dialog" },
    heading,
    html("p", {}, prose("Copy what the labels say. What you do not know, leave empty: the checker will ask.")),
    html(
      "fieldset",
      {},
      html("legend", {}, "The board and the guitar"),
      html(
        "div",
        { class: "bw-fields" },
        field("What it is called", text("name", 60)),
        field("Where it is used", select("purpose", options(words, "Board", "for"))),
        field("Country, two letters", html("input", { name: "country", maxlength: 2, pattern: "[A-Za-z]{2}", autocomplete: "off", title: "Two letters, such as DE" })),
        field("Pickups", select("pickups", options(words, "Guitar", "pickups"))),
        field("Guitar lead, metres", figure("lead", 50)),
      ),
    ),
    power,
    supply,
    html("fieldset", {}, html("legend", {}, "The pedals, in the order of the sound"), pedals, addPedal),
    html(
      "fieldset",
      {},
      html("legend", {}, "The amplifier"),
      html(
        "div",
        { class: "bw-fields" },
        field("What you call it", text("ampName", 40)),
        field("What it is", select("ampKind", options(words, "Amp", "kind"))),
        field("Protection class", select("ampClass", CLASSES)),
      ),
    ),
    html("details", { class: "bw-fold" }, html("summary", {}, "The text that this makes"), html("div", { class: "bw-fold__body" }, sample)),
    html(
      "div",
      { class: "bw-window__foot" },
      button("Not now", () => window.close()),
      html("button", { type: "submit", class: "bw-button bw-button--main" }, "Write this board"),
    ),
  );
  const window = html("dialog", { class: "bw-window", "aria-labelledby": heading.id }, form);
  parent.append(window);

  form.addEventListener("input", refresh);
  form.addEventListener("submit", () => done(boardText(answers())));
  add(outlets, outletRow, false);
  add(pedals, pedalRow, false);
  return window;

  // ---- rows

  function outletRow() {
    return [field("Volts", figure("volts", 100)), field("Plug", select("way", WAYS)), field("mA", figure("milliamps", 20_000))];
  }

  function pedalRow() {
    return [
      field("What you call it", text("called", 40)),
      field("What it is", select("kind", options(words, "Pedal", "kind"))),
      ...outletRow(),
      field("Outlet", select("outlet", [])),
    ];
  }

  /** @param {HTMLElement} list @param {() => HTMLElement[]} fields @param {boolean} [move]  whether the focus goes there */
  function add(list, fields, move = true) {
    const last = list.lastElementChild;
    const tools = html("span", { class: "bw-row__tools" });
    const row = html("li", { class: "bw-row" }, html("div", { class: "bw-fields" }, fields()), tools);
    if (list === pedals) tools.append(button("Earlier", () => earlier(row), { class: "bw-button--small" }));
    tools.append(button("Remove", () => remove(list, row), { class: "bw-button--small" }));
    list.append(row);
    if (last) for (const name of ["volts", "way"]) control(row, name).value = control(last, name).value;
    refresh();
    if (list === pedals) control(row, "outlet").value = free();
    refresh();
    if (move) row.querySelector("input")?.focus();
  }

  /** @param {Element} row */
  function earlier(row) {
    row.previousElementSibling?.before(row);
    refresh();
    row.querySelector("button")?.focus();
  }

  /** @param {HTMLElement} list @param {Element} row */
  function remove(list, row) {
    const next = row.nextElementSibling ?? row.previousElementSibling;
    row.remove();
    refresh();
    (next?.querySelector("input") ?? (list === pedals ? addPedal : addOutlet)).focus();
  }

  /** The first outlet that no pedal has taken. */
  function free() {
    if (choice() === "batteries") return "battery";
    if (choice() === "chain") return "1";
    const taken = new Set([...pedals.children].map((row) => control(row, "outlet").value));
    return [...outlets.children].map((_, index) => String(index + 1)).find((number) => !taken.has(number)) ?? "";
  }

  // ---- what depends on what

  function refresh() {
    const chosen = choice();
    supply.hidden = chosen === "batteries";
    isolated.hidden = addOutlet.hidden = chosen === "chain";
    const given = chosen === "batteries" ? 0 : chosen === "chain" ? 1 : outlets.children.length;
    addOutlet.disabled = outlets.children.length >= MOST_ROWS;
    addPedal.disabled = pedals.children.length >= MOST_ROWS;
    named(outlets, "Outlet", given);
    named(pedals, "Pedal", pedals.children.length);
    for (const row of pedals.children) {
      const select = control(row, "outlet");
      const was = select.value;
      const numbers = Array.from({ length: given }, (_, index) => /** @type {[string, string]} */ ([String(index + 1), `outlet ${index + 1}`]));
      select.replaceChildren(...optionList([["", "not known"], ...numbers, ["battery", "its battery"], ["none", "needs no power"]]));
      select.value = [...select.options].some(({ value }) => value === was) ? was : chosen === "batteries" ? "battery" : "";
    }
    sample.textContent = boardText(answers());
  }

  /** @param {HTMLElement} list @param {string} word @param {number} shown  rows that count */
  function named(list, word, shown) {
    [...list.children].forEach((row, index) => {
      row.setAttribute("aria-label", `${word} ${index + 1}`);
      /** @type {HTMLElement} */ (row).hidden = index >= shown;
      for (const button of row.querySelectorAll("button")) button.setAttribute("aria-label", `${button.textContent}: ${word.toLowerCase()} ${index + 1}`);
      const [first] = row.querySelectorAll("button");
      if (list === pedals) first.hidden = index === 0;
    });
  }

  function choice() {
    return /** @type {Answers["power"]} */ (power.querySelector("input:checked")?.getAttribute("value") ?? "outlets");
  }

  /** @returns {Answers} */
  function answers() {
    /** @type {(name: string) => string} */
    const said = (name) => control(form, name).value;
    const label = (/** @type {Element} */ row) => ({
      volts: control(row, "volts").value,
      way: control(row, "way").value,
      milliamps: control(row, "milliamps").value,
    });
    return {
      name: said("name"),
      purpose: said("purpose"),
      country: said("country"),
      pickups: said("pickups"),
      lead: said("lead"),
      power: choice(),
      isolated: said("isolated"),
      supplyClass: said("supplyClass"),
      outlets: [...outlets.children].map(label),
      pedals: [...pedals.children].map((row) => ({
        ...label(row),
        name: control(row, "called").value,
        kind: control(row, "kind").value,
        outlet: control(row, "outlet").value,
      })),
      amp: { name: said("ampName"), kind: said("ampKind"), class: said("ampClass") },
    };
  }
}

// ---- fields

/** @param {Element} within @param {string} name @returns {HTMLSelectElement} */
function control(within, name) {
  return /** @type {HTMLSelectElement} */ (within.querySelector(`[name="${name}"]`));
}

/** @param {string} label @param {HTMLElement} input */
function field(label, input) {
  return html("label", { class: "bw-field" }, html("span", {}, label), input);
}

/** @param {string} name @param {number} longest */
function text(name, longest) {
  return html("input", { name, maxlength: longest, autocomplete: "off", spellcheck: "false" });
}

/** A number in the unit that its label names. @param {string} name @param {number} most */
function figure(name, most) {
  return html("input", { name, type: "number", inputmode: "decimal", min: 0, max: most, step: "any", autocomplete: "off" });
}

/** @param {string} name @param {Options} list */
function select(name, list) {
  return html("select", { name }, optionList(list));
}

/** @param {Options} list */
function optionList(list) {
  return list.map(([value, words]) => html("option", { value }, words));
}

/** The words of the language that may stand behind a key. @param {Words} words @param {string} part @param {string} key @returns {Options} */
function options(words, part, key) {
  const known = (words.parts[part][key].words ?? []).filter((word) => word !== "unknown");
  return [["", "not known"], ...known.map((word) => /** @type {[string, string]} */ ([word, word.replaceAll("-", " ")]))];
}

/** @param {string} name @param {string} legend @param {Options} list */
function radios(name, legend, list) {
  const each = list.map(([value, words], index) =>
    html("label", { class: "bw-radio" }, html("input", { type: "radio", name, value, checked: index === 0 }), words),
  );
  return html("fieldset", {}, html("legend", {}, legend), each);
}
