/**
 * The word and the shape of everything that can be said about a line. Colour only repeats what word and shape say;
 * the more serious a kind, the more of its shape is filled. The site's builder reads this table too.
 */
import { svg } from "./dom.mjs";

/** @typedef {import("./types.mjs").Kind} Kind */

/** Most serious first: where two meet on one line, the earlier one is shown. @type {Kind[]} */
export const ORDER = ["danger", "problem", "fault", "risk", "undecided", "advice", "unused", "accepted"];

const CIRCLE = "M10 2.4a7.6 7.6 0 1 1 0 15.2a7.6 7.6 0 1 1 0-15.2Z";

/** @type {Record<Kind, {word: string, outline: string, filled: boolean, sign: string}>} */
export const KINDS = {
  danger: { word: "Danger", outline: "M6.7 2h6.6L18 6.7v6.6L13.3 18H6.7L2 13.3V6.7Z", filled: true, sign: "M10 5.6v5.2M10 13.4v1" },
  problem: { word: "Mistake", outline: "M3 3h14v14H3Z", filled: true, sign: "M6.5 7.3h7M6.5 10h2.2M11.3 10h2.2M6.5 12.7h7" },
  fault: { word: "Fault", outline: "M10 2.2 18.6 17.4H1.4Z", filled: true, sign: "M7.9 10.4l4.2 4.2M12.1 10.4l-4.2 4.2" },
  risk: { word: "Risk", outline: "M10 1.7 18.3 10 10 18.3 1.7 10Z", filled: false, sign: "M10 6v4.8M10 13v1" },
  advice: { word: "Advice", outline: CIRCLE, filled: false, sign: "M10 6v1M10 9.4v4.8" },
  undecided: {
    word: "Cannot tell",
    outline: "M6 2.6h8a3.4 3.4 0 0 1 3.4 3.4v8a3.4 3.4 0 0 1-3.4 3.4H6A3.4 3.4 0 0 1 2.6 14V6A3.4 3.4 0 0 1 6 2.6Z",
    filled: false,
    sign: "M7.6 7.9a2.4 2.4 0 1 1 3.5 2.1c-.8.4-1.1.8-1.1 1.6M10 13.6v1",
  },
  accepted: { word: "Accepted", outline: CIRCLE, filled: false, sign: "M6.6 10.3l2.4 2.4 4.4-5" },
  unused: { word: "Not needed", outline: CIRCLE, filled: false, sign: "M6.6 10h6.8" },
};

/**
 * The shape alone, hidden from screen readers because the word always stands beside it.
 * @param {Kind} kind
 */
export function shape(kind) {
  const { outline, filled, sign } = KINDS[kind];
  return svg(
    "svg",
    { class: `bw-shape bw-shape--${kind}`, viewBox: "0 0 20 20", width: 20, height: 20, "aria-hidden": "true", focusable: "false" },
    svg("path", { class: filled ? "bw-shape__solid" : "bw-shape__line", d: outline }),
    svg("path", { class: filled ? "bw-shape__cut" : "bw-shape__sign", d: sign }),
  );
}
