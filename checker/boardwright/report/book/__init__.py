"""The handover book: everything that is known about a board, as one page to print.

Every chapter is a module with a function that takes the book and gives its pieces, or ``Absent`` with the reason why there
is nothing to print. A chapter takes its facts from the report and the board, never from a text of its own.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass

from boardwright.board.assemble import Board
from boardwright.report.book import (
    bench,
    cautions,
    cover,
    drawings,
    found,
    leads,
    midi,
    outlets,
    papers,
    presets,
    promises,
    quiet,
    reading,
    spares,
    unchecked,
    upkeep,
)
from boardwright.report.book.chapter import Absent, Book, Chapter
from boardwright.report.book.markup import Html, tag
from boardwright.report.book.style import STYLE, header
from boardwright.report.report import Report

CHAPTERS = (
    Chapter("reading", "How to read this book", reading.pieces),
    Chapter("cautions", "Cautions", cautions.pieces),
    Chapter("power-map", "Power map", drawings.power),
    Chapter("earth-map", "Earth map", drawings.earth),
    Chapter("signal-map", "Signal map", drawings.signal),
    Chapter("layout", "Layout", drawings.layout),
    Chapter("outlets", "Outlet table", outlets.pieces),
    Chapter("leads", "Lead list", leads.pieces),
    Chapter("presets", "Loops and presets", presets.pieces),
    Chapter("midi", "MIDI and control map", midi.pieces),
    Chapter("bench", "Build and test plan", bench.pieces),
    Chapter("quiet", "If it goes quiet", quiet.pieces),
    Chapter("spares", "Spares", spares.pieces),
    Chapter("upkeep", "Upkeep", upkeep.pieces),
    Chapter("papers", "Papers and serial numbers", papers.pieces),
    Chapter("promises", "Promises and their proofs", promises.pieces),
    Chapter("found", "What was found", found.pieces),
    Chapter("unchecked", "What was not checked", unchecked.pieces),
)

@dataclass(frozen=True, slots=True)
class Stage:
    """The chapter that is being made, how many are done, and of how many."""

    title: str
    done: int
    count: int


def handover_book(board: Board, report: Report) -> str:
    """The book as an HTML page that needs nothing from anywhere else and prints on A4."""
    making = in_stages(board, report)
    while True:
        try:
            next(making)
        except StopIteration as made:
            return str(made.value)


def in_stages(board: Board, report: Report) -> Generator[Stage, None, str]:
    """The book again, for those who tell somebody how far it is: a stage before each chapter, and in the end the page."""
    book = Book(board, report, CHAPTERS)
    made: list[tuple[Chapter, list[Html]]] = []
    absent: list[tuple[Chapter, Absent]] = []
    for number, chapter in enumerate(CHAPTERS):
        yield Stage(chapter.title, number, len(CHAPTERS))
        pieces = book.pieces(chapter)
        if isinstance(pieces, Absent):
            absent.append((chapter, pieces))
        else:
            made.append((chapter, pieces))
    bodies = [_body(chapter, number, pieces) for number, (chapter, pieces) in enumerate(made, 1)]
    front = cover.pieces(book, [chapter for chapter, _ in made], absent)
    head = tag("head", Html('<meta charset="utf-8">'), tag("title", f"{book.name}: handover book"), Html(f"<style>{STYLE}{header(book.name)}</style>"))
    return f'<!doctype html>\n<html lang="en">\n{head}\n{tag("body", tag("main", front, bodies))}\n</html>\n'


def _body(chapter: Chapter, number: int, pieces: list[Html]) -> Html:
    return tag("section", tag("h2", f"{number}  {chapter.title}"), pieces, id=chapter.name, class_="chapter")
