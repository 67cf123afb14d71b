/** What is being loaded and started, as the worker reports it: one line per stage, with bytes where there are any. */
import { html } from "./dom.mjs";

/** @typedef {import("../client.mjs").Stage} Stage */

/**
 * @param {(words: string) => void} announce  says something to screen readers; called once per stage, not per byte
 */
export function loadingView(announce) {
  const list = html("ol", { class: "bw-stages" });
  const element = html(
    "div",
    { class: "bw-note" },
    html("p", { class: "bw-note__head" }, "Getting the checker ready"),
    list,
    html("p", { class: "bw-soft" }, "It comes from this site, runs in your browser and, where that allows, is kept for the next time. Your board is not sent anywhere."),
  );
  /** @type {Map<string, {row: HTMLElement, words: HTMLElement, bytes: HTMLElement, bar: HTMLProgressElement}>} */
  const rows = new Map();

  /** @param {string} stage */
  function begin(stage) {
    for (const { row, bar } of rows.values()) {
      row.classList.add("bw-stages__done");
      bar.remove();
    }
    const words = html("span", {}, stage);
    const bytes = html("span", { class: "bw-stages__bytes" });
    const bar = html("progress", { class: "bw-stages__bar", max: 1, "aria-label": stage });
    const row = html("li", {}, words, bytes, bar);
    list.append(row);
    rows.set(stage, { row, words, bytes, bar });
    announce(stage);
  }

  return {
    element,
    /** @param {Stage} report */
    show({ stage, done_bytes: done, total_bytes: total }) {
      if (!rows.has(stage)) begin(stage);
      const row = rows.get(stage);
      if (!row || !done) return;
      row.bytes.textContent = total ? `${megabytes(done)} of ${megabytes(total)} MB` : `${megabytes(done)} MB`;
      if (total) row.bar.value = Math.min(done / total, 1);
    },
  };
}

/** @param {number} bytes */
function megabytes(bytes) {
  return (bytes / 1e6).toFixed(1);
}
