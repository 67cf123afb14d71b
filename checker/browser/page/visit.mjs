/** Entry of every page: completes it for all readers, and keeps the site for reading without a network, once the page itself has all it needs. */
import { nameCodeButtons } from "./code_buttons.mjs";
import { changeToNewest, keepPages } from "./keep.mjs";
import { showMore } from "./scroll.mjs";
import { dropBadThemeState } from "./theme_state.mjs";

for (const box of document.querySelectorAll(".bw-scroll")) if (box instanceof HTMLElement) showMore(box);
nameCodeButtons();
dropBadThemeState();

changeToNewest();

// A page that starts the checker at once asks to keep things when it has done so; until then the line is its own.
const busy = document.querySelector("[data-bench]:not([data-start=intent]), [data-hunt]");
if (!busy) {
  const whenIdle = window.requestIdleCallback ?? setTimeout;
  const loaded = () => whenIdle(() => keepPages());
  if (document.readyState === "complete") loaded();
  else addEventListener("load", loaded, { once: true });
}
