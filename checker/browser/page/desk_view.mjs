/** The quiet line above the workbench: which board this is, where it is kept, and two folds with all that can be done with it. */
import { button, html } from "./dom.mjs";

/**
 * @param {HTMLElement} root  of the workbench
 * @param {Record<string, HTMLElement>} folds  what each button opens, by its words
 * @param {() => void} onOpen
 */
export function deskView(root, folds, onOpen) {
  const name = html("strong", { class: "bw-desk__name" });
  const state = html("span", { class: "bw-desk__state" });
  const title = html("p", { class: "bw-desk__title", hidden: true });
  const words = html("span", { role: "status", tabindex: -1 });
  const action = html("span", {});
  const note = html("div", { class: "bw-desk__note" }, words, " ", action);

  const openers = Object.entries(folds).map(([label, panel], index) => {
    panel.id ||= `${root.querySelector("label")?.htmlFor ?? "board"}-desk-${index}`;
    panel.hidden = true;
    panel.classList.add("bw-desk__fold");
    const opener = button(label, () => fold(panel.hidden ? panel : null), { class: "bw-desk__opener", "aria-expanded": "false", "aria-controls": panel.id });
    panel.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || event.defaultPrevented) return;
      fold(null);
      opener.focus();
    });
    return { opener, panel };
  });

  /** Opens one and closes the other. @param {HTMLElement | null} wanted */
  function fold(wanted) {
    for (const { opener, panel } of openers) {
      panel.hidden = panel !== wanted;
      opener.setAttribute("aria-expanded", String(panel === wanted));
    }
    if (wanted) onOpen();
  }

  const line = html("div", { class: "bw-desk__line" }, html("p", { class: "bw-desk__what" }, name, " ", state), html("div", { class: "bw-desk__openers" }, openers.map(({ opener }) => opener)));
  const element = html("section", { class: "bw-desk", "aria-label": "Which board" }, title, line, note, openers.map(({ panel }) => panel));
  root.prepend(element);

  return {
    /** @param {string} board @param {string} where @param {string} shop  words of whoever made the link */
    show(board, where, shop) {
      name.textContent = board;
      state.textContent = where;
      title.hidden = !shop;
      title.replaceChildren(html("bdi", {}, shop), html("span", { class: "bw-desk__state" }, " (words from the link)"));
    },
    /** Says something, with a button where something can be done about it. @param {string} said @param {string} [label] @param {() => void} [act] */
    note(said, label = "", act = undefined) {
      words.textContent = said;
      if (!act) return action.replaceChildren();
      const pressed = () => {
        act();
        // The button is gone with what it said; whoever pressed it goes on from what is said now.
        (action.querySelector("button") ?? words).focus();
      };
      action.replaceChildren(button(label, pressed));
    },
  };
}
