"""Which papers go with the board, where each is, and serial numbers to write down."""

from __future__ import annotations

from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import BLANK, TICK, Child, Html, paragraph, table, tag
from boardwright.rules.build.labels_and_handover_incomplete import wanted_papers
from boardwright.spec.sections.papers import PAPERS

IN_THE_BOOK = {
    "signal-drawing": "signal-map",
    "power-map": "power-map",
    "earth-map": "earth-map",
    "layout": "layout",
    "midi-map": "midi",
    "preset-list": "presets",
    "lead-list": "leads",
    "spares-list": "spares",
    "quiet-card": "quiet",
    "serial-list": "papers",
    "readings": "bench",
}
"""Papers that are a chapter, by its name."""

BESIDE = "beside this book"
ON_THE_COVER = "the cover, once written in"


def pieces(book: Book) -> list[Html] | Absent:
    names = list(dict.fromkeys([*book.board.spec.supplies, *book.board.power.devices]))
    if not wanted_papers(book.board) and not book.board.spec.papers:
        return Absent("such a board is asked for none, and none are named.")
    parts = [
        paragraph("What whoever repairs this board in the dark should find with it.", class_="lead-in"),
        table(("paper", "where", "there"), [_paper(book, paper) for paper in PAPERS]),
    ]
    if names:
        parts += [tag("h3", "Serial numbers and settings"), table(("box", "kind", "serial number", "where its knobs stand"), [_box(book, name) for name in names], "wide-blanks")]
    return parts


def _paper(book: Book, paper: str) -> tuple[Child, ...]:
    named = any(each.paper == paper for each in book.board.spec.papers.values())
    chapter = IN_THE_BOOK.get(paper)
    if chapter is not None and (chapter == "papers" or book.has(chapter)):
        where = f"“{book.title(chapter)}” in this book"
    elif paper == "date-and-maker":
        where = ON_THE_COVER
    else:
        where = f"{BESIDE}, as the text says" if named else f"to be added {BESIDE}"
    return paper.replace("-", " "), where, TICK


def _box(book: Book, name: str) -> tuple[Child, ...]:
    device = book.board.power.devices.get(name)
    return name, (device.kind_name or "" if device and device.supply is None else "supply"), BLANK, BLANK
