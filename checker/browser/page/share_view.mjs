/** The fold with what leaves the page by the reader's own hand: links, the report in words, files. */
import { download, fileName } from "./carry.mjs";
import { button, html } from "./dom.mjs";
import { caption } from "./drawing.mjs";
import { lengthTold, packed, titleIn, written } from "./link.mjs";

/** @typedef {import("./desk.mjs").Desk} Desk */
/** @typedef {import("./types.mjs").Answer} Answer */
/** @typedef {import("../client.mjs").Form} Form */

/** Height of the frame that shows a board on another page, in px; frame.css keeps to it. */
const FRAME_HEIGHT = 480;

/** Boards for which the site has a frame of its own. */
const FRAMED = /^boards\/([\w-]+)\.yaml$/;

/** @param {Desk} desk */
export function shareView(desk) {
  const { bench } = desk;
  const text = () => bench.editor.text();
  const file = () => fileName(desk.nameNow());

  /** Does what a button says, and says so. @param {string} words @param {() => Promise<string | void>} act */
  function does(words, act) {
    return button(words, () => act().then((said) => desk.view.note(said ?? ""), complain));
  }

  /** @param {unknown} error */
  function complain(error) {
    desk.view.note(`That did not work: ${error instanceof Error ? error.message : error}`);
  }

  // ---- links

  const title = html("input", { type: "text", class: "bw-input", maxlength: 80, id: "bw-link-title", autocomplete: "organization" });
  const byHand = html("textarea", { class: "bw-input bw-desk__byhand", readonly: true, rows: 3, hidden: true, "aria-label": "To be copied by hand" });

  /** Of a board that the site serves and nobody has changed: its path. */
  const example = () => (desk.lying.text === text() ? desk.lying.example : null);
  const said = () => titleIn(title.value) || desk.lying.title;

  async function link() {
    const board = example() ? null : await packed(text());
    return `${location.origin}${location.pathname}#${written({ board, example: example(), title: said() })}`;
  }

  /** HTML that shows this board on a page of somebody else's. */
  async function frame() {
    const [, framed] = example()?.match(FRAMED) ?? [];
    const asked = written({ board: framed ? null : await packed(text()), title: said() });
    const address = new URL(`frames/${framed ?? "board"}.html${asked && `#${asked}`}`, bench.baseUrl).href;
    const element = html("iframe", { src: address, title: `Pedal board: ${desk.nameNow()}`, width: "100%", height: FRAME_HEIGHT, loading: "lazy" });
    element.style.border = "0";
    return element.outerHTML;
  }

  /**
   * The browser is given the promise and not the words: some allow copying only in the very moment of the click.
   * @param {Promise<string>} words
   * @param {(words: string) => string} told
   */
  async function copied(words, told) {
    byHand.hidden = true;
    try {
      await navigator.clipboard.write([new ClipboardItem({ "text/plain": words.then((all) => new Blob([all], { type: "text/plain" })) })]);
    } catch {
      byHand.value = await words;
      byHand.hidden = false;
      byHand.focus();
      byHand.select();
      return `The browser did not let the page copy: it is marked below, for you to copy. ${told(await words)}`;
    }
    return told(await words);
  }

  const copyLink = does("Copy link", () => copied(link(), (whole) => `Link copied. ${lengthTold(whole.length)}`));
  const copyFrame = does("Copy frame for a web page", () =>
    copied(frame(), (whole) => `Frame copied, ${whole.length.toLocaleString("en")} characters long. Put it into the source of your page.`),
  );

  // ---- words and files

  /** @param {Form} form */
  const write = (form) => bench.client.write(text(), form, bench.baseUrl);

  /** @param {string} words @param {string} ending  of the file's name @param {string} type @param {() => Promise<string>} make */
  const saves = (words, ending, type, make) =>
    does(words, async () => {
      const name = file();
      download(await make(), name + ending, type);
    });

  const pictures = html("span", { class: "bw-desk__pictures" });
  /** The last answer's drawings, and the text that they are of. @type {{text: string, drawings: Answer["drawings"]} | null} */
  let latest = null;
  let shownNames = "";

  /** @param {string} name */
  async function drawing(name) {
    // Not asked for by itself: the workbench would lose the drawings that it is waiting for.
    if (latest?.text !== text()) throw new Error("the text has just changed, and its drawings are not made yet. Try again in a moment.");
    const source = (await latest.drawings)[name];
    if (typeof source !== "string") throw new Error("this board has nothing to draw there any more.");
    return source;
  }

  const element = html(
    "section",
    { "aria-label": "Share and download" },
    group(
      "Link",
      html("p", { class: "bw-soft" }, "The board is in the link itself, behind the “#”, which browsers send to no server. Whoever has the link can read the board."),
      html("div", { class: "bw-desk__actions" }, copyLink),
      html(
        "details",
        { class: "bw-desk__more" },
        html("summary", {}, "For shops and builders"),
        html("label", { for: title.id }, "Your own title, shown above the board (may stay empty)"),
        title,
        html("div", { class: "bw-desk__actions" }, copyFrame),
        html("p", { class: "bw-soft" }, html("a", { href: new URL("for-shops/", bench.baseUrl).href }, "How to show boards on a page of your own")),
      ),
      byHand,
    ),
    group(
      "Report",
      html("div", { class: "bw-desk__actions" }, does("Copy report as Markdown", () => copied(write("markdown"), () => "Report copied."))),
    ),
    group(
      "Download",
      html(
        "div",
        { class: "bw-desk__actions" },
        saves("Board (YAML)", ".yaml", "application/yaml", async () => text()),
        saves("Report (Markdown)", "-report.md", "text/markdown", () => write("markdown")),
        saves("Report (JSON)", "-report.json", "application/json", () => write("json")),
        saves("Cut list (CSV)", "-cut-list.csv", "text/csv", () => write("cut-list")),
        pictures,
      ),
    ),
  );

  return {
    element,
    /** A button for each drawing there is. @param {Answer} answer @param {string} of  the text that it is about */
    async drawings({ drawings }, of) {
      latest = { text: of, drawings };
      const names = Object.keys(await drawings);
      if (latest.drawings !== drawings || shownNames === String(names)) return;
      shownNames = String(names);
      pictures.replaceChildren(...names.map((name) => saves(`${caption(name)} (SVG)`, `-${fileName(name)}.svg`, "image/svg+xml", () => drawing(name))));
    },
  };
}

/** @param {string} heading @param {...Node} inside */
function group(heading, ...inside) {
  return html("div", { class: "bw-desk__group" }, html("h2", { class: "bw-desk__head" }, heading), inside);
}
