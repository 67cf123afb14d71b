"""The frame and its case: rows and their rise, the gap below, the walls around."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright import limits
from boardwright.board.layout.geometry import OUTWARD, Rect
from boardwright.spec.figure import Figure, assumed
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.board import Case, Frame

CASE: Path = ("board", "case")


@dataclass(frozen=True, slots=True)
class Row:
    """A strip of deck: ``front`` and ``back`` as y, ``rise`` above the front deck (m). ``number`` counts from the front."""

    number: int
    front: float
    back: float
    rise: float


@dataclass(frozen=True, slots=True)
class Deck:
    """The frame. Width and depth (m) are ``None`` while they are not stated."""

    width: float | None
    depth: float | None
    rows: tuple[Row, ...]
    frame: Frame
    case: Case | None

    @property
    def area(self) -> Rect | None:
        if self.width is None or self.depth is None:
            return None
        return Rect(0.0, 0.0, self.width, self.depth)

    @property
    def thickness(self) -> Figure:
        stated = self.frame.thickness
        return stated if stated is not None and stated.known else assumed(limits.DECK_THICKNESS.value, "m")

    def row_at(self, y: float) -> Row | None:
        """The row that holds ``y``; between two rows, the one in front."""
        found = None
        for row in self.rows:
            if row.front <= y:
                found = row
        return found or (self.rows[0] if self.rows else None)

    def row(self, number: int | None) -> Row | None:
        return next((row for row in self.rows if row.number == number), None)

    def gap(self, y: float) -> float | None:
        """Clear height (m) below the deck at ``y``; a sloped frame changes evenly from front to back."""
        given = self.frame.gap_under
        if not given or any(not each.known for each in given):
            return None
        front, back = given[0].value, given[-1].value
        if len(given) == 1 or not self.depth:
            return front if front == back else None
        return front + (back - front) * min(max(y / self.depth, 0.0), 1.0)

    def wall(self, side: str) -> float | None:
        """Room (m) between the frame's edge and the case's wall; the frame stands in the middle of its case."""
        inside = self.case.inside if self.case else None
        if not inside or self.area is None or any(not each.known for each in inside[:2]):
            return None
        across = OUTWARD[side][0] != 0
        return (inside[0].value - self.area.width if across else inside[1].value - self.area.depth) / 2

    def rail(self, side: str) -> float:
        """Height (m) of the rail along an edge; 0 without one."""
        edge = self.frame.edge
        height = {"left": edge.left, "right": edge.right, "front": edge.front, "rear": edge.back}[side] if edge else None
        return height.value if height is not None and height.known else 0.0


def assemble_deck(spec: Spec) -> Deck:
    """The frame as described; one flat row where none are."""
    section = spec.board
    frame = (section.frame if section else None) or Frame()
    sides = [side.value if side.known and side.value > 0 else None for side in frame.size or []]
    width, depth = sides if len(sides) == 2 else (None, None)
    rows = []
    for number, row in enumerate(frame.rows or [], 1):
        if row.span and all(each.known for each in row.span):
            front, back = sorted(each.value for each in row.span)
            rows.append(Row(number, front, back, row.rise.value if row.rise is not None and row.rise.known else 0.0))
    if not rows and depth is not None:
        rows = [Row(1, 0.0, depth, 0.0)]
    return Deck(width, depth, tuple(sorted(rows, key=lambda row: row.front)), frame, section.case if section else None)
