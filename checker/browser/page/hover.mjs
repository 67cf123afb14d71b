/** What a key means: under the mouse, or by Shift-F1 at the cursor, where it is spoken too. */
import { StateEffect, StateField } from "@codemirror/state";
import { EditorView, hoverTooltip, keymap, showTooltip } from "@codemirror/view";
import { html, plain, prose } from "./dom.mjs";
import { keysIn, placeAt } from "./place.mjs";
import { meaning } from "./words.mjs";

/** @typedef {import("./words.mjs").Words} Words */
/** @typedef {{from: number, name: string, about: string, more: string}} Told */

/** @param {() => Promise<Words>} words @returns {import("@codemirror/state").Extension} */
export function hover(words) {
  return [
    hoverTooltip(async (view, place) => {
      const told = await tell(view, place, words);
      return told ? tooltip(told) : null;
    }),
    shown,
    keymap.of([
      {
        key: "Shift-F1",
        run(view) {
          explain(view, words);
          return true;
        },
      },
      {
        key: "Escape",
        run(view) {
          if (!view.state.field(shown)) return false;
          view.dispatch({ effects: show.of(null) });
          return true;
        },
      },
    ]),
  ];
}

/** @param {EditorView} view @param {() => Promise<Words>} words */
async function explain(view, words) {
  const told = await tell(view, view.state.selection.main.head, words, true);
  const spoken = told ? plain(`${told.name}: ${told.about} ${told.more}`) : "Nothing is known of this place.";
  view.dispatch({ effects: [show.of(told), EditorView.announce.of(spoken)] });
}

/**
 * @param {EditorView} view
 * @param {number} place
 * @param {() => Promise<Words>} words
 * @param {boolean} [nearby]  whether a value counts for its key
 * @returns {Promise<Told | null>}
 */
async function tell(view, place, words, nearby = false) {
  const text = view.state.doc.toString();
  const on = keysIn(text).find(({ from, to }) => from <= place && place <= to);
  const at = on ?? (nearby ? placeAt(text, place) : null);
  const known = at ? await words().catch(() => null) : null;
  if (!at || !known) return null;
  const path = at.path.slice(0, at.path.findLastIndex((step) => typeof step === "string") + 1);
  const found = meaning(known, path);
  // Of a name of the writer's own the language says what the whole section is.
  if (!found?.about) return null;
  const more = found.words ? `One of: ${found.words.join(", ")}.` : found.such?.length ? `Such as \`${found.such[0]}\`.` : "";
  return { from: at.from, name: String(path.at(-1)), about: found.about, more };
}

/** @param {Told} told @returns {import("@codemirror/view").Tooltip} */
function tooltip({ from, name, about, more }) {
  return {
    pos: from,
    above: true,
    create: () => ({
      dom: html("div", { class: "bw-explained" }, html("p", {}, html("strong", {}, name), " ", prose(about)), more ? html("p", {}, prose(more)) : null),
    }),
  };
}

/** @type {import("@codemirror/state").StateEffectType<Told | null>} */
const show = StateEffect.define();

/** @type {StateField<import("@codemirror/view").Tooltip | null>} */
const shown = StateField.define({
  create: () => null,
  update(tip, transaction) {
    const effect = transaction.effects.find((one) => one.is(show));
    if (effect) return effect.value ? tooltip(effect.value) : null;
    return transaction.docChanged || transaction.selection ? null : tip;
  },
  provide: (field) => showTooltip.from(field),
});
