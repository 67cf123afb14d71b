"""Places for boxes of which only the row is stated: a proposal, made so that plugs and feet have room."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright import limits
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.deck import Deck, Row
from boardwright.board.layout.leads import Lead
from boardwright.board.layout.plugs import Plug, needed_between, plugs_in

_FRONT_MARGIN = 0.010
"""A box stands this far behind the front of its row (m), where the row is deep enough."""
_LEAST_GAP = 0.005
"""Between boxes without plugs between them (m)."""


@dataclass(frozen=True, slots=True)
class Overfull:
    """A row whose boxes do not fit. Widths in metres; ``needed`` has the room for plugs and feet in it."""

    row: Row
    boxes: tuple[Box, ...]
    bare: float
    needed: float
    width: float


def propose_places(deck: Deck, boxes: dict[str, Box], leads: list[Lead]) -> list[Overfull]:
    """Give every box that states a row but no corner a place in it; say which rows cannot hold theirs.

    A row fills from the right, as sound runs: in the order of the leads, then in the order of the text.
    """
    if deck.width is None:
        return []
    order = _order(boxes, leads)
    overfull = []
    for row in deck.rows:
        waiting = [box for box in order if box.corner is None and box.row is row and not box.under]
        if not waiting:
            continue
        for box in waiting:
            spare = max(0.0, row.back - row.front - box.depth)
            margin = limits.TRAVEL_FRONT.value if box.is_treadle else _FRONT_MARGIN
            box.propose((0.0, row.front + min(margin, spare / 2)))
        fixed = [box for box in boxes.values() if box.corner is not None and not box.under and box not in waiting and _shares(box, row)]
        plugs = plugs_in(waiting + fixed, leads)
        found = _fill(deck.width, row, waiting, fixed, plugs)
        if found is not None:
            overfull.append(found)
    return overfull


def _order(boxes: dict[str, Box], leads: list[Lead]) -> list[Box]:
    named = [end.name for lead in leads if lead.carries == "audio" for end in lead.ends if end.name in boxes]
    return [boxes[name] for name in dict.fromkeys([*named, *boxes])]


def _shares(box: Box, row: Row) -> bool:
    rect = box.room
    return rect is not None and rect.front < row.back and rect.back > row.front


def _fill(width: float, row: Row, waiting: list[Box], fixed: list[Box], plugs: dict[str, list[Plug]]) -> Overfull | None:
    """Place from the right, each as near to its neighbour as plugs and feet allow, and share what is left over."""
    edge, neighbour, places = width, None, []
    for box in waiting:
        gap = _gap(box, neighbour, plugs) if neighbour else 0.0
        left = edge - gap - box.width
        for other in sorted(fixed, key=lambda each: -(each.corner or (0, 0))[0]):
            rect = other.room
            assert rect is not None
            beside = _gap(other, box, plugs), _gap(box, other, plugs)
            if left < rect.right + beside[0] and left + box.width > rect.left - beside[1]:
                left = rect.left - beside[1] - box.width
        places.append(left)
        edge, neighbour = left, box
    if places[-1] < -1e-9:
        for box in waiting:
            box.corner, box.proposed = None, False
        bare = sum(box.width for box in waiting)
        taken = sum((box.room.width if box.room else 0.0) for box in fixed)
        return Overfull(row, tuple(waiting), bare, width - places[-1] - taken, width - taken)
    share = places[-1] / (len(places) + 1) if not fixed else 0.0
    for number, (box, left) in enumerate(zip(waiting, places, strict=True), 1):
        assert box.corner is not None
        box.propose((round(left - share * number, 3), round(box.corner[1], 3)))
    return None


def _gap(left: Box, right: Box, plugs: dict[str, list[Plug]]) -> float:
    """Room between two neighbours: for plugs, for a shoe, and for a treadle's travel."""
    gap = max(_LEAST_GAP, needed_between(left, right, plugs))
    if left.is_treadle or right.is_treadle:
        gap = max(gap, limits.TRAVEL_SIDE.value)
    if left.stepped[0] and right.stepped[0]:
        apart = limits.SWITCH_ADVICE.value
        feet_left, feet_right = left.feet, right.feet
        if feet_left and feet_right and left.corner and right.corner:
            to_edge = left.corner[0] + left.width - max(foot.point[0] for foot in feet_left)
            from_edge = min(foot.point[0] for foot in feet_right) - right.corner[0]
            gap = max(gap, apart - to_edge - from_edge)
    return gap
