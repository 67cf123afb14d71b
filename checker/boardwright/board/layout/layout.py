"""The board in space, put together: deck, boxes in their places, leads, runs."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from math import floor

from boardwright.board.audio import Audio
from boardwright.board.layout.boxes import Box, assemble_boxes
from boardwright.board.layout.cuts import Bought, Cut, list_leads
from boardwright.board.layout.deck import Deck, assemble_deck
from boardwright.board.layout.geometry import Rect
from boardwright.board.layout.leads import Lead, assemble_leads
from boardwright.board.layout.plugs import Plug, Squeeze, coming_from, plugs_in, squeezes
from boardwright.board.layout.proposal import Overfull, propose_places
from boardwright.board.layout.runs import Run, assemble_runs
from boardwright.board.layout.ways import LeadWay, ways_of
from boardwright.board.power import Power
from boardwright.spec.problem import Problem
from boardwright.spec.read import Spec
from boardwright.spec.wording import nearest

SQUARE = 0.25
"""Side of the squares by which neighbours are found (m)."""
NEAR = 0.25
"""No plug, shoe or finger needs more room than this (m)."""
MOST_SQUARES = 100
"""A box larger than so many squares is not looked up by them."""
MOST_IN_SQUARE = 64
"""Boxes in one square of the coarse grid; no more than a few have room there."""


@dataclass(eq=False)
class Layout:
    """Everything about a board that has to do with places and lengths."""

    spec: Spec
    deck: Deck
    boxes: dict[str, Box]
    leads: list[Lead]
    runs: list[Run]
    overfull: list[Overfull]
    """Rows whose boxes cannot all be given a place."""
    _near: dict[tuple[str, float], list[Box]] = field(default_factory=dict)

    @property
    def placed(self) -> list[Box]:
        """Boxes whose places the text states: those that rules judge."""
        return [box for box in self.boxes.values() if box.corner is not None and not box.proposed]

    @property
    def standing(self) -> list[Box]:
        """Placed boxes on the deck."""
        return [box for box in self.placed if not box.under]

    @property
    def hanging(self) -> list[Box]:
        """Boxes below the deck, with or without a place."""
        return [box for box in self.boxes.values() if box.under]

    @property
    def is_proposed(self) -> bool:
        """Whether any place is ours."""
        return any(box.proposed for box in self.boxes.values())

    @cached_property
    def plugs(self) -> dict[str, list[Plug]]:
        return plugs_in(self.standing, self.leads)

    @cached_property
    def _cells(self) -> dict[tuple[int, int, bool], list[int]]:
        """The numbers of placed boxes by the squares of a coarse grid that they touch, below and above the deck apart."""
        cells: dict[tuple[int, int, bool], list[int]] = {}
        for box in self.placed:
            for x, y in () if box in self._vast else _squares(box.room):
                cells.setdefault((x, y, box.under), []).append(self._number[box.name])
        return cells

    @cached_property
    def _vast(self) -> list[Box]:
        """Boxes as large as rooms, which are slips of the pen: compared with everything."""
        return [box for box in self.placed if box.room is not None and box.room.area > MOST_SQUARES * SQUARE * SQUARE]

    def near(self, box: Box, by: float) -> list[Box]:
        """Other placed boxes on the same side of the deck that are no further away than about ``by`` (m), in their order.

        Not to be changed.
        """
        if (box.name, by) not in self._near:
            self._near[box.name, by] = self._find_near(box, by)
        return self._near[box.name, by]

    def _find_near(self, box: Box, by: float) -> list[Box]:
        rect = box.room
        if rect is None:
            return []
        if box in self._vast:
            return [other for other in self.placed if other is not box and other.under is box.under]
        number = self._number[box.name]
        found = {self._number[other.name] for other in self._vast if other.under is box.under}
        for x, y in _squares(rect.grown(by, by, by, by)):
            found.update(_around(number, self._cells.get((x, y, box.under), [])))
        found.discard(number)
        return [self._numbered[each] for each in sorted(found)]

    def in_heap(self, box: Box) -> bool:
        """Whether more boxes are said to stand where this one does than are compared with it."""
        return box.room is not None and box not in self._vast and any(len(self._cells[x, y, box.under]) > MOST_IN_SQUARE for x, y in _squares(box.room))

    @cached_property
    def _numbered(self) -> list[Box]:
        """Every box, in the order of the text."""
        return list(self.boxes.values())

    @cached_property
    def _number(self) -> dict[str, int]:
        return {name: number for number, name in enumerate(self.boxes)}

    @cached_property
    def squeezes(self) -> dict[str, list[Squeeze]]:
        """For each box on the deck what stands before its plugs."""
        coming = coming_from(self.standing, self.plugs)
        return {box.name: squeezes(box, self.plugs[box.name], coming, self.near(box, NEAR)) for box in self.standing}

    @cached_property
    def ways(self) -> list[LeadWay]:
        """How each lead goes, drawn or proposed."""
        return ways_of(self)

    @cached_property
    def list_of_leads(self) -> list[Cut | Bought]:
        """Every lead, to be made or to be bought."""
        return list_leads(self)


def _around(number: int, heap: list[int]) -> list[int]:
    """Of a heap in one square, those written next before and behind a box: each with each would be millions."""
    if len(heap) <= MOST_IN_SQUARE:
        return heap
    place = bisect_left(heap, number)
    return heap[max(0, place - MOST_IN_SQUARE // 2) : place + MOST_IN_SQUARE // 2]


def _squares(rect: Rect | None) -> Iterator[tuple[int, int]]:
    if rect is None:
        return
    for x in range(floor(rect.left / SQUARE), floor(rect.right / SQUARE) + 1):
        for y in range(floor(rect.front / SQUARE), floor(rect.back / SQUARE) + 1):
            yield x, y


def assemble_layout(spec: Spec, audio: Audio, power: Power) -> Layout:
    """The board in space. Boxes that state a row and no corner are given a proposed place."""
    deck = assemble_deck(spec)
    boxes = assemble_boxes(spec, deck)
    runs = assemble_runs(spec)
    leads = assemble_leads(spec, boxes, audio, power, runs)
    overfull = propose_places(deck, boxes, leads)
    return Layout(spec, deck, boxes, leads, runs, overfull)


def unknown_places(layout: Layout) -> Iterator[Problem]:
    """Names and rows that the layout's text uses and that do not exist."""
    spec = layout.spec
    for run in layout.runs:
        for what, known in (("holes", spec.openings), ("stock", spec.stock)):
            names = getattr(run.section, what) or []
            for name in [names] if isinstance(names, str) else names:
                if name not in known:
                    guess = nearest(name, [*known])
                    hint = f" Did you mean `{guess}`?" if guess else ""
                    where = (*run.path, what)
                    expected = f"a name from `{'openings' if what == 'holes' else 'stock'}`"
                    said = f"`{name}` is not described anywhere.{hint}"
                    yield Problem("name", said, where, spec.locate(where), expected, spec.edits(where, name, guess))
    for box in layout.boxes.values():
        number = box.section.row
        if number is not None and layout.deck.frame.rows and layout.deck.row(number) is None:
            where = (*box.path, "row")
            rows = len(layout.deck.frame.rows)
            message = f"`{box.name}` stands in row {number}, and the frame has {rows}."
            yield Problem("name", message, where, spec.locate(where), f"a row from 1 to {rows}")
