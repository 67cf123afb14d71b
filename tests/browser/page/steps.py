"""What the tests of the page know and do."""

import json
from pathlib import Path

from boardwright.browser import answer
from fuzz.at_page import editor_text, paste  # noqa: F401

HOUSE = Path(__file__).parents[3]
SAMPLE = HOUSE / "demo_boards/spare-room-five-before.yaml"
BEFORE = json.loads(answer(SAMPLE.read_text()))
CLEAN = (HOUSE / "demo_boards/spare-room-five.yaml").read_text()

canned: dict[str, dict] = {}
"""Answers that a test made up, by the first line of the text that asks for them."""


def focused(page, what="textContent"):
    return page.evaluate(f"document.activeElement.{what}")


def add_axe(page):
    """axe-core in the page, past its policy, which allows no script of ours."""
    page.evaluate((HOUSE / "checker/browser/node_modules/axe-core/axe.min.js").read_text())
