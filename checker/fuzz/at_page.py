"""What can be done at a page in the browser, and seen there; for hostile visits, and for the tests of the page."""

from __future__ import annotations

from playwright.sync_api import Page

COULD_RUN = """within => {
    const found = [];
    const look = (root) => {
        for (const element of root.querySelectorAll("*")) {
            const { localName, attributes, shadowRoot } = element;
            const runs = [...attributes].some(({ name, value }) => /^on/i.test(name) || /^\\s*javascript:/i.test(value));
            const bare = localName === "img" && !attributes.src; // the editor has such, as room for the cursor
            if (runs || (!bare && /^(script|img|iframe|object|embed|foreignObject|base|link|style)$/i.test(localName))) found.push(element.outerHTML.slice(0, 200));
            if (shadowRoot) look(shadowRoot);
        }
    };
    for (const root of document.querySelectorAll(within)) look(root);
    return found;
}"""
"""Elements within those of a selector that run a script or fetch something."""


def paste(page: Page, text: str) -> None:
    """Replace the whole text by way of the clipboard, as a reader would."""
    page.evaluate("text => navigator.clipboard.writeText(text)", text)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+A")
    page.keyboard.press("Control+V")


def editor_text(page: Page) -> str:
    """The whole text: of lines that are out of sight the page has no elements, so the editor itself is asked."""
    return page.locator(".cm-content").evaluate("content => content.cmTile.root.view.state.doc.toString()")
