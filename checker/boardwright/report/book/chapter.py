"""What all chapters share: the board, its report, and what several of them ask for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from boardwright.board.assemble import Board
from boardwright.board.layout.leads import Lead
from boardwright.report.book.markup import Html
from boardwright.report.cut_list import CutList, cut_list
from boardwright.report.report import Report
from boardwright.spec.fields import Jack
from boardwright.spec.problem import Path


class Absent(str):
    """Why a chapter is not in a book, as a sentence."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter: its name in links, its title, and what makes it."""

    name: str
    title: str
    pieces: Callable[[Book], list[Html] | Absent]


@dataclass(eq=False)
class Book:
    """The board that a book is about."""

    board: Board
    report: Report
    chapters: tuple[Chapter, ...]
    _made: dict[str, list[Html] | Absent] = field(default_factory=dict)

    @property
    def name(self) -> str:
        return self.report.board.name or "Pedal board"

    @cached_property
    def cuts(self) -> CutList:
        return cut_list(self.board)

    def title(self, chapter: str) -> str:
        """The title of a chapter, by its name."""
        return next(each.title for each in self.chapters if each.name == chapter)

    def pieces(self, chapter: Chapter) -> list[Html] | Absent:
        """A chapter, made when it is first asked for."""
        if chapter.name not in self._made:
            self._made[chapter.name] = chapter.pieces(self)
        return self._made[chapter.name]

    def has(self, chapter: str) -> bool:
        """Whether a chapter is in the book."""
        return not isinstance(self.pieces(next(each for each in self.chapters if each.name == chapter)), Absent)

    def lead(self, path: Path, start: Jack | None, end: Jack) -> Lead | None:
        """The lead that a place in the text tells of, between two jacks; a start of ``None`` is any."""
        for lead in self.board.layout.leads:
            same_end = lead.end.name == end.thing and end.jack in (None, lead.end.jack.jack)
            same_start = start is None or (lead.start.name == start.thing and start.jack in (None, lead.start.jack.jack))
            if lead.path == path and same_end and same_start:
                return lead
        return None
