/** What the fault finder shows: the choice of a symptom, one test at a time, who is suspected, and the record. */
import { html, prose } from "./dom.mjs";

/** @typedef {import("./hunt.mjs").Asked} Asked */

const WORDS = { good: "good", bad: "bad", cannot: "cannot tell" };
const HEARD = { oscillation: "squeal" };
const CHANGES = {
  "touching-strings": "hands on or off the strings",
  stepping: "stepping on something",
  "turning-the-guitar": "turning with the guitar",
  "after-warm-up": "warming up",
  "moving-a-pedal": "moving a pedal",
  wiggling: "wiggling a plug",
  lamps: "the lamps",
  "one-amp-alone": "one amplifier alone",
};
const ENDINGS = {
  found: "Found",
  "one of several": "It is one of these",
  stop: "Stop and ask",
  "no suspect left": "These answers do not fit together",
};

/**
 * @param {any} state @param {Asked} asked @param {boolean} begun  whether tests have begun, so that the choice is folded
 * @param {{choose: (asked: Asked) => void, begin: (asked: Asked) => void}} does
 */
export function choicesView(state, asked, begun, does) {
  const { choices } = state;
  const signs = html("ul", { class: "bw-hunt__signs" });
  let heard = asked.heard;
  const pick = (kind) => {
    choose(kind);
    does.choose(chosen());
  };
  const kinds = choices.heard.map(({ kind }) =>
    html("button", { type: "button", class: "bw-hunt__kind", name: kind, "aria-pressed": String(kind === heard), "data-kind": kind, click: () => pick(kind) }, HEARD[kind] ?? kind),
  );
  const when = html("select", { id: "bw-hunt-when", name: "when" }, html("option", { value: "always" }, "always"), ...groups(choices, asked.when?.[0]));
  const at = html(
    "select",
    { id: "bw-hunt-at", name: "at" },
    html("option", { value: "" }, "at all of them"),
    choices.amps.map((name) => html("option", { value: name, selected: asked.at?.[0] === name }, `at ${name} only`)),
  );
  const goes = tick("It comes and goes", "comes_and_goes", Boolean(asked.comes_and_goes));
  const other = tick("There is another amplifier to listen with", "another_amp", Boolean(asked.another_amp));
  const changed = choices.changes.map((name) => [name, tick(CHANGES[name] ?? name, name, asked.changes?.includes(name) ?? false)]);
  const go = html("button", { type: "submit", class: "bw-button bw-button--main bw-hunt__go" }, begun ? "Begin anew" : "Begin");

  /** @returns {Asked} */
  function chosen() {
    return {
      heard,
      when: [when.value],
      at: at.value ? [at.value] : [],
      changes: changed.filter(([, label]) => label.querySelector("input").checked).map(([name]) => name),
      ...(goes.querySelector("input").checked ? { comes_and_goes: true } : {}),
      another_amp: other.querySelector("input").checked,
      answers: [],
    };
  }

  /** @param {string} kind */
  function choose(kind) {
    heard = kind;
    for (const button of kinds) button.setAttribute("aria-pressed", String(button.dataset.kind === kind));
    const known = choices.heard.find((each) => each.kind === kind)?.signs ?? [];
    signs.replaceChildren(...known.map(([sign, means]) => html("li", {}, `${sign}: ${means}`)));
    go.disabled = false;
  }
  go.disabled = !heard;
  if (heard) choose(heard);

  const form = html(
    "form",
    {
      submit: (event) => {
        event.preventDefault();
        does.begin(chosen());
      },
      change: () => does.choose(chosen()),
    },
    html("fieldset", {}, html("legend", {}, "What do you hear?"), html("div", { class: "bw-hunt__kinds" }, kinds), signs),
    html("p", { class: "bw-hunt__line" }, html("label", { for: "bw-hunt-when" }, "When? "), when),
    choices.amps.length > 1 && html("p", { class: "bw-hunt__line" }, html("label", { for: "bw-hunt-at" }, "Where? "), at),
    goes,
    other,
    html("details", {}, html("summary", {}, "What changes it?"), changed.map(([, label]) => label)),
    go,
  );
  return html("details", { class: "bw-hunt__choices", open: !begun }, html("summary", {}, begun ? [`Heard: ${state.heard}, `, ...prose(state.where)] : "What is wrong"), form);
}

/** @param {any} choices @param {string | undefined} chosen */
function groups(choices, chosen) {
  const named = [
    ["in preset", choices.presets],
    ["with loop", choices.loops],
    ["the sound of", choices.boxes],
  ];
  return named
    .filter(([, names]) => names.length)
    .map(([label, names]) => html("optgroup", { label }, names.map((name) => html("option", { value: name, selected: name === chosen }, `${label} ${name}`))));
}

/** @param {string} words @param {string} name @param {boolean} checked */
function tick(words, name, checked) {
  return html("label", { class: "bw-hunt__tick" }, html("input", { type: "checkbox", name, checked }), ` ${words}`);
}

/** @param {any} state @param {{answer: (word: string) => void, undo: () => void, again: () => void}} does */
export function testView(state, does) {
  if (state.reason) return [html("div", { class: "bw-note bw-note--bad" }, html("p", {}, prose(state.reason)))];
  if (!state.heard) return [];
  const undo = state.record.length ? [button("undo", "Undo the last answer", does.undo)] : [];
  const already = state.found_already.map((said) => html("p", { class: "bw-hunt__already" }, html("strong", {}, "Your own board says so: "), prose(said)));
  if (!state.test) {
    const stop = state.ending === "stop";
    return [
      html("h2", { tabindex: -1, class: stop ? "bw-hunt__stop" : "" }, stop && html("span", { "aria-hidden": "true" }, "■ "), ENDINGS[state.ending] ?? "Over"),
      html("div", { class: stop ? "bw-note bw-note--bad" : "bw-note" }, state.said.map((said) => html("p", { class: "bw-hunt__do" }, prose(said)))),
      html("div", { class: "bw-hunt__less" }, ...undo, button("again", "Start over", does.again)),
    ];
  }
  const { test } = state;
  const about = state.minutes === null ? "" : `; about ${minutes(state.minutes)} to go`;
  return [
    html("h2", { tabindex: -1 }, `Test ${state.record.length + 1}`),
    state.record.length ? null : html("div", {}, already),
    html("p", { class: "bw-hunt__do" }, prose(test.do)),
    test.first && html("p", { class: "bw-soft" }, test.first),
    html("p", { class: "bw-hunt__ask" }, prose(test.ask)),
    html("div", { class: "bw-hunt__answers" }, button("good", "Good", () => does.answer("good"), true), button("bad", "Bad", () => does.answer("bad"), true)),
    html("div", { class: "bw-hunt__less" }, button("cannot", "Cannot tell", () => does.answer("cannot")), ...undo),
    html("p", { class: "bw-soft" }, `${minutes(test.minutes)} for this test${about}. Keys: g, b, c, u.`),
  ].filter((each) => each !== null && each !== false && each !== "" && each !== undefined);
}

/** @param {string} name @param {string} words @param {() => void} does @param {boolean} [large] */
function button(name, words, does, large = false) {
  return html("button", { type: "button", class: large ? `bw-hunt__answer bw-hunt__answer--${name}` : "bw-button bw-hunt__small", "data-does": name, click: does }, words);
}

/** @param {number} value */
function minutes(value) {
  return value < 1 ? `${Math.round(value * 60)} seconds` : `${Math.round(value * 10) / 10} minutes`.replace(/^1 minutes/, "1 minute");
}

/** @param {any} state */
export function suspectsView(state) {
  const rows = state.suspects.map(({ name, share }) =>
    html(
      "li",
      { class: "bw-hunt__suspect" },
      html("span", { class: "bw-hunt__share" }, percent(share)),
      html("span", {}, prose(name)),
      html("meter", { min: 0, max: 1, value: share.toFixed(3), "aria-hidden": "true" }),
    ),
  );
  const more = state.more ? html("p", { class: "bw-soft" }, `and ${state.more} more`) : null;
  return html("details", {}, html("summary", {}, `Who may be to blame (${state.suspects.length + state.more})`), html("ol", { class: "bw-hunt__suspects" }, rows), more,
    html("p", { class: "bw-soft" }, "Shares are judgement, with no published source."));
}

/** @param {number} share */
function percent(share) {
  return share < 0.01 ? "under 1 %" : `${Math.round(100 * share)} %`;
}

/** @param {any} state @param {string} board */
export function recordView(state, board) {
  const lines = state.record.map((each) => html("li", {}, prose(`${each.do} ${each.ask}`), " ", html("strong", {}, WORDS[each.answer])));
  return html(
    "section",
    { class: "bw-hunt__record", "aria-label": "Record" },
    html("h2", {}, "Record"),
    html("p", {}, `Board: ${board}. Heard: ${state.heard}, `, prose(state.where), "."),
    lines.length ? html("ol", {}, lines) : html("p", { class: "bw-soft" }, "Nothing has been answered yet."),
    state.test ? null : state.said.map((said) => html("p", { class: "bw-hunt__result" }, prose(said))),
    html("button", { type: "button", class: "bw-button bw-hunt__print", click: () => window.print() }, "Print the record"),
  );
}
