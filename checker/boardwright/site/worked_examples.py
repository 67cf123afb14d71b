"""The worked examples: a page for each demo board, and for each as it was before it was mended."""

from __future__ import annotations

from difflib import unified_diff

from markupsafe import Markup

from boardwright.report.drawings import DRAWINGS
from boardwright.site.boards import Boards, ShownBoard
from boardwright.site.front import front_matter
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page

FOLDER = "examples"
BOOKS = ("saltmarsh-tour", "builders-bench", "practice-four")
"""The examples whose handover book the site has: a tour, a build for somebody else, a first board."""

_MARKS = "\\`*_{}[]()#+-.!"
_ENTITIES = {"<": "&lt;", ">": "&gt;", "&": "&amp;"}

CAUTION = """!!! warning "It reads a description"

    The drawing and the figures follow from the text above, not from a look at real wiring. Supplies are factory-made and
    stay closed; whatever is at mains voltage is a qualified person's work under your local electrical code. See
    [Cautions](../cautions.md)."""


BOOK = """## The book {{ #book }}

[The handover book of this board](../{address}) has all of this on paper, with outlet table, lead list, build plan and the card for
when it goes quiet. [What is in it](../reference/handover-book.md)."""


def book_address(shown: ShownBoard) -> str:
    """Where the site serves an example's handover book."""
    return f"books/{shown.name}.html"


def example_page(shown: ShownBoard, boards: Boards) -> str:
    """The Markdown of a worked example."""
    path = boards.path(shown)
    mended = boards.mended(shown)
    parts = [
        front_matter(shown.title, " ".join(shown.opening)),
        f"# {_plain(shown.title)}",
        f"{{{{ opening {path} }}}}",
        *([f"The same board, mended: {_link(mended)}."] if mended else _befores(boards.befores(shown))),
        "## What the checker says { #answer }",
        f"{{{{ answer {path} }}}}",
        "## Drawn { #drawings }",
        *(f"{{{{ drawing {name} {path} }}}}" for name in DRAWINGS),
        "## The board { #board }",
        f"{{{{ board {path} }}}}",
        *([BOOK.format(address=book_address(shown))] if shown.name in BOOKS else []),
    ]
    if mended:
        parts += ["## What was changed { #changes }", "Lines that went are marked with a minus, lines that came with a plus.", _changes(shown, mended)]
    shops = "Shops may link to this board or show it on a page of their own: see [For shops and builders](../for-shops.md)."
    return "\n\n".join([*parts, shops, CAUTION]) + "\n"


def _befores(befores: list[ShownBoard]) -> list[str]:
    if len(befores) > 1:
        return ["The same board before it was mended, with one thing wrong in each:", "\n".join(f"* {_link(each)}" for each in befores)]
    return [f"The same board before it was mended: {_link(each)}." for each in befores]


def _link(shown: ShownBoard) -> str:
    return f"[{_plain(shown.title)}]({shown.name}.md)"


def _changes(before: ShownBoard, after: ShownBoard) -> str:
    """The lines that mending took, as a difference of the two texts without their opening comments."""
    old, new = (each.text.splitlines()[len(_comment(each)) :] for each in (before, after))
    lines = list(unified_diff(old, new, lineterm="", n=1))[2:]
    shown = [line for line in lines if not line.startswith("@@")]
    fence = "`" * 8
    return "\n".join([f"{fence}diff", *shown, fence])


def _comment(shown: ShownBoard) -> list[str]:
    lines = shown.text.splitlines()
    return lines[: next((n for n, line in enumerate(lines) if not line.startswith("#")), len(lines))]


def _plain(words: str) -> str:
    """Words that Markdown must take as they are."""
    return "".join(_ENTITIES.get(letter, f"\\{letter}" if letter in _MARKS else letter) for letter in words)


def index(page: Page) -> Markup:
    """Every example with what was found; the one before beside its mended twin."""
    each = [
        (_linked(page, shown), str(len(shown.board.power.devices)), prose(shown.report.headline), _before(page, shown))
        for shown in page.boards.examples
        if page.boards.mended(shown) is None
    ]
    heads = ("board", "devices", "what the checker says", "before it was mended")
    return table("Worked examples", heads, rows(each), look="bw-table--prose")


def _linked(page: Page, shown: ShownBoard) -> Markup:
    return tag("a", {"href": page.link(f"{FOLDER}/{shown.name}/")}, shown.title)


def _before(page: Page, shown: ShownBoard) -> Markup:
    befores = page.boards.befores(shown)
    return Markup(tag("br")).join(tag("span", {}, _linked(page, each), ": ", prose(each.report.headline)) for each in befores)
