/** The fold with the boards that are kept: open, rename, delete and put back, and all of them as one file. */
import { download, exported, fileName } from "./carry.mjs";
import { button, html } from "./dom.mjs";
import { shown } from "./names.mjs";

/** @typedef {import("./desk.mjs").Desk} Desk */
/** @typedef {import("./kept_boards.mjs").Entry} Entry */

/** @param {Desk} desk */
export function boardsView(desk) {
  const list = html("ul", { class: "bw-boards" });
  const none = html("p", { class: "bw-soft" }, "None yet. The first change that you make keeps a board here.");
  const deleted = html("ul", { class: "bw-boards" });
  const deletedFold = html("details", { class: "bw-desk__more" }, html("summary", {}, "Deleted boards"), deleted);
  const unreadable = html("div", {});

  const picker = html("input", { type: "file", class: "bw-unseen", tabindex: -1, "aria-hidden": "true", accept: ".yaml,.yml,.json,.txt" });
  picker.addEventListener("change", async () => {
    for (const file of picker.files ?? []) await desk.openFile(file);
    picker.value = "";
  });

  const exportAll = button("Export all to one file", () => {
    const { entries } = desk.kept.all();
    const now = new Date();
    download(exported(entries.filter((entry) => !entry.deleted), now), `boardwright-boards-${now.toISOString().slice(0, 10)}.json`, "application/json");
  });

  const element = html(
    "section",
    { "aria-label": "Boards kept in this browser" },
    html(
      "p",
      { class: "bw-soft" },
      "Boards are kept in this browser and sent nowhere. They are gone if you clear what the browser keeps for this site, or leave a private window: export them to have a copy.",
    ),
    none,
    list,
    unreadable,
    html(
      "div",
      { class: "bw-desk__actions" },
      button("New board", () => desk.openNew()),
      button("Open the example", () => desk.openSample()),
      button("Open or import a file…", () => picker.click()),
      exportAll,
      picker,
    ),
    deletedFold,
  );

  /** @param {Entry} entry @param {number} index */
  function row(entry, index) {
    const open = desk.lying.entry?.id === entry.id;
    const name = shown(entry.name);
    const opener = html("button", { type: "button", class: "bw-boards__open", id: `bw-kept-${entry.id}`, "aria-current": open ? "true" : null, click: () => desk.openEntry(desk.kept.get(entry.id) ?? entry) }, html("bdi", {}, name));
    const when = html("span", { class: "bw-soft" }, `changed ${told(entry.changed)}`, open ? ", open now" : "");
    const item = html("li", {}, html("div", { class: "bw-boards__what" }, opener, " ", when));
    const acts = html(
      "div",
      { class: "bw-boards__acts" },
      entry.earlier ? small("Earlier state", `Earlier state of ${name}: put it back`, () => desk.swapEarlier(entry)) : null,
      small("Rename", `Rename ${name}`, () => rename(item, entry)),
      small("Delete", `Delete ${name}`, () => {
        desk.delete(entry);
        focusRow(index);
      }),
    );
    item.append(acts);
    return item;
  }

  /** The row that has come into a deleted one's place takes the focus. @param {number} index */
  function focusRow(index) {
    const rows = list.querySelectorAll(".bw-boards__open");
    const next = rows[Math.min(index, rows.length - 1)] ?? element.querySelector(".bw-desk__actions button");
    if (next instanceof HTMLElement) next.focus();
  }

  function focusDeleted() {
    if (deletedFold.hidden) focusRow(0);
    else deletedFold.querySelector("summary")?.focus();
  }

  /** @param {HTMLElement} item @param {Entry} entry */
  function rename(item, entry) {
    const field = html("input", { type: "text", class: "bw-input", value: shown(entry.name), maxlength: 120, "aria-label": `New name of ${shown(entry.name)}` });
    const done = () => {
      renaming = false;
      show();
      document.getElementById(`bw-kept-${entry.id}`)?.focus();
    };
    const form = html("form", { class: "bw-boards__rename" }, field, html("button", { type: "submit", class: "bw-button" }, "Rename"), button("Leave it", done));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      renaming = false;
      // An empty name is the one in its text again.
      desk.change(desk.kept.get(entry.id) ?? entry, { name: field.value.trim() || entry.name, renamed: field.value.trim() !== "" });
      done();
    });
    form.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.preventDefault();
      done();
    });
    renaming = true;
    item.replaceChildren(form);
    field.select();
    field.focus();
  }
  let renaming = false;

  /** @param {Entry} entry */
  function deletedRow(entry) {
    const name = shown(entry.name);
    return html(
      "li",
      {},
      html("div", { class: "bw-boards__what" }, html("bdi", {}, name), " ", html("span", { class: "bw-soft" }, `deleted ${told(entry.deleted ?? 0)}`)),
      html(
        "div",
        { class: "bw-boards__acts" },
        small("Put back", `Put back ${name}`, () => {
          desk.putBack(entry);
          focusDeleted();
        }),
        small("Delete for good", `Delete for good: ${name}`, (event) => {
          // Asked twice, since from here there is no way back.
          const pressed = event.currentTarget;
          if (!(pressed instanceof HTMLElement)) return;
          if (pressed.dataset.sure) {
            desk.deleteForGood(entry);
            focusDeleted();
          } else {
            pressed.dataset.sure = "yes";
            pressed.textContent = "Really, for good";
            pressed.setAttribute("aria-label", `Really, for good: delete ${name}`);
          }
        }),
      ),
    );
  }

  /** @param {import("./desk.mjs").Aside} aside */
  function asideRow(aside) {
    const name = shown(aside.name);
    return html(
      "p",
      { class: "bw-soft" },
      html("bdi", {}, name),
      " found no room, and is lost when this page is closed. ",
      small("Open it", `Open ${name}, which found no room`, () => desk.openAside(aside)),
      " ",
      small("Download it", `Download ${name}, which found no room`, () => download(aside.text, `${fileName(name)}.yaml`, "application/yaml")),
    );
  }

  /** @param {string} key */
  function unreadableRow(key) {
    return html(
      "p",
      { class: "bw-soft" },
      "An entry that is kept here cannot be read. It is left as it is. ",
      small("Download it", `Download it: the entry ${key}`, () => download(desk.kept.rawOf(key), `${fileName(key)}.txt`, "text/plain")),
    );
  }

  function show() {
    if (element.hidden || renaming) return;
    const { entries, unreadable: broken } = desk.kept.all();
    const here = entries.filter((entry) => !entry.deleted);
    const gone = entries.filter((entry) => entry.deleted);
    const focused = element.contains(document.activeElement) ? (document.activeElement?.id ?? "") : "";
    list.replaceChildren(...here.map(row));
    list.hidden = here.length === 0;
    none.hidden = here.length > 0;
    exportAll.disabled = here.length === 0;
    deleted.replaceChildren(...gone.map(deletedRow));
    deletedFold.hidden = gone.length === 0;
    unreadable.replaceChildren(...desk.aside.map(asideRow), ...broken.map(unreadableRow));
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  return { element, show };
}

/** @param {string} words @param {string} whole  what a screen reader says @param {(event: Event) => void} act */
function small(words, whole, act) {
  return html("button", { type: "button", class: "bw-boards__act", "aria-label": whole, click: act }, words);
}

/** @param {number} time  in ms since 1970 */
function told(time) {
  return new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric", hour: "2-digit", minute: "2-digit" }).format(time);
}
