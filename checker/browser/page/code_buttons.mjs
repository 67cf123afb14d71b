/**
 * The theme puts its copy button beside code into an element that says it is for finding one's way about the page. Readers who go
 * by such landmarks would meet one at every piece of code, so they are told of the button alone.
 */
const added = new MutationObserver((records) => records.forEach(({ target }) => rename(target)));

/** @param {Node} code  what the theme adds the button to */
function rename(code) {
  if (code instanceof Element) code.querySelector(":scope > nav.md-code__nav")?.setAttribute("role", "none");
}

/** Watches all code of the page: the theme adds its buttons in its own time. */
export function nameCodeButtons() {
  for (const code of document.querySelectorAll(".md-typeset pre, .md-typeset pre > code")) {
    rename(code);
    added.observe(code, { childList: true });
  }
}
