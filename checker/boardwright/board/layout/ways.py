"""The way of every lead: drawn in the text, or proposed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.audio import GUITAR
from boardwright.board.layout.geometry import Point
from boardwright.board.layout.leads import End, Lead
from boardwright.board.layout.routing import ABOVE, BELOW, POWER, SOUND, Ground, Terminal, Way, Wish, find_ways, streets_of

if TYPE_CHECKING:
    from boardwright.board.layout.layout import Layout

MOST_LEADS = 160
"""Beyond anything on a pedal board; for more, no ways are proposed."""
_DROP = 0.010
"""A lead hangs this far below the deck that it passes (m)."""


@dataclass(frozen=True, slots=True)
class LeadWay:
    """How a lead goes. ``length`` (m) has the parts up and down in it; ``None`` where it goes on beyond the board."""

    lead: Lead
    way: Way
    length: float | None
    proposed: bool


def ways_of(layout: Layout) -> list[LeadWay]:
    """The ways of all leads whose ends have places, and of all runs that are drawn."""
    found = []
    wanting: list[tuple[Lead, Wish]] = []
    for lead in layout.leads:
        if lead.run is not None and lead.run.has_way:
            layer = BELOW if lead.run.section.under else ABOVE
            drawn = Way(lead.run.points, (layer,) * (len(lead.run.points) - 1))
            beyond = lead.leaves_board or bool(lead.run.section.leaves_board)
            found.append(LeadWay(lead, drawn, None if beyond else lead.run.way_length, False))
        elif (wish := _wish(layout, lead)) is not None:
            wanting.append((lead, wish))
    ground = _ground(layout)
    if ground is not None and 0 < len(wanting) <= MOST_LEADS:
        for (lead, _), way in zip(wanting, find_ways(ground, tuple(wish for _, wish in wanting)), strict=True):
            length = None if lead.leaves_board else _length(layout, lead, way)
            found.append(LeadWay(lead, way, length, True))
    order = {id(lead): number for number, lead in enumerate(layout.leads)}
    return sorted(found, key=lambda each: order[id(each.lead)])


def _ground(layout: Layout) -> Ground | None:
    area = layout.deck.area
    if area is None:
        return None
    standing = [box for box in layout.boxes.values() if box.footprint is not None and not box.under]
    above = tuple(box.footprint for box in standing if box.footprint is not None)
    below = tuple(box.footprint for box in layout.hanging if box.footprint is not None)
    rows = [box.footprint for box in standing if not box.is_treadle and box.footprint is not None]
    holes = [(hole.at[0].value, hole.at[1].value) for hole in layout.spec.openings.values() if hole.at and all(each.known for each in hole.at)]
    return Ground(area, above, below, streets_of(area, rows), tuple(holes) or None)


def _wish(layout: Layout, lead: Lead) -> Wish | None:
    use = SOUND if lead.carries == "audio" else POWER
    start, end = (_terminal(lead, each) for each in lead.ends)
    if start and end:
        return Wish(use, start, end)
    here = start or end
    if here is None or not lead.leaves_board:
        return None
    gone = lead.end if start else lead.start
    comes_in = gone.name == GUITAR or gone.name in layout.spec.instruments
    return Wish(use, here, "right" if comes_in and lead.carries == "audio" else "rear")


def _terminal(lead: Lead, end: End) -> Terminal | None:
    socket = end.socket
    if socket is None or end.box is None:
        return None
    reach = limits.OUTLET_ROOM.value if end.box.is_supply else end.projection(lead.carries, lead.od.value)
    x, y = socket.point
    return Terminal((round(x, 5), round(y, 5)), socket.side, round(reach, 5), BELOW if end.box.under else ABOVE)


def _length(layout: Layout, lead: Lead, way: Way) -> float:
    """Along the way, with what goes up and down: from sockets to the deck, over steps between rows, through the deck."""
    deck = layout.deck
    flat = sum(abs(bx - ax) + abs(by - ay) for (ax, ay), (bx, by) in pairwise(way.points))
    heights = [box.height / 2 for box in (lead.start.box, lead.end.box) if box is not None and not box.under]
    rises = [_rise(layout, point) for point, layer in zip(way.points, (*way.layers, ABOVE), strict=True) if layer == ABOVE]
    steps = sum(abs(b - a) for a, b in pairwise(rises))
    through = way.passes * (deck.thickness.value + _DROP)
    return flat + sum(heights) + steps + through


def _rise(layout: Layout, point: Point) -> float:
    row = layout.deck.row_at(point[1])
    return row.rise if row else 0.0
