/** Entry of every page: keeps the site for reading without a network, once the page itself has all it needs. */
import { changeToNewest, keepPages } from "./keep.mjs";

changeToNewest();

// A page that starts the checker at once asks to keep things when it has done so; until then the line is its own.
const busy = document.querySelector("[data-bench]:not([data-start=intent])");
if (!busy) {
  const whenIdle = window.requestIdleCallback ?? setTimeout;
  const loaded = () => whenIdle(() => keepPages());
  if (document.readyState === "complete") loaded();
  else addEventListener("load", loaded, { once: true });
}
