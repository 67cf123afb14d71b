"""What the tests of the page know and do."""

import json
from pathlib import Path

from boardwright.browser import answer

HOUSE = Path(__file__).parents[3]
SAMPLE = HOUSE / "demo_boards/spare-room-five-before.yaml"
BEFORE = json.loads(answer(SAMPLE.read_text()))
CLEAN = (HOUSE / "demo_boards/spare-room-five.yaml").read_text()

canned: dict[str, dict] = {}
"""Answers that a test made up, by the first line of the text that asks for them."""


def paste(page, text):
    """Replaces the whole text by way of the clipboard, as a reader would."""
    page.evaluate("text => navigator.clipboard.writeText(text)", text)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+A")
    page.keyboard.press("Control+V")


def editor_text(page):
    """The whole text: of lines that are out of sight the page has no elements, so the editor itself is asked."""
    return page.locator(".cm-content").evaluate("content => content.cmTile.root.view.state.doc.toString()")


def focused(page, what="textContent"):
    return page.evaluate(f"document.activeElement.{what}")


def add_axe(page):
    """axe-core in the page, past its policy, which allows no script of ours."""
    page.evaluate((HOUSE / "checker/browser/node_modules/axe-core/axe.min.js").read_text())
