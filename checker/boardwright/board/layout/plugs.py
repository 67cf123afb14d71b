"""Plugs and the room they take: which plugs stand out of which side of a box, and what stands in their way."""

from __future__ import annotations

from collections.abc import Iterator
from operator import itemgetter
from typing import NamedTuple

from boardwright import limits
from boardwright.board.layout.boxes import Box, Socket
from boardwright.board.layout.geometry import Rect, opposite
from boardwright.board.layout.leads import POWER, End, Lead
from boardwright.spec.figure import Origin


class Plug(NamedTuple):
    """A plug in its socket."""

    lead: Lead
    end: End
    socket: Socket
    reach: float
    """How far it stands out of the panel, the bend of its cable included (m)."""
    width: float

    @property
    def origin(self) -> Origin:
        return min(self.end.shape_origin, self.socket.origin)

    def spans(self, footprint: Rect) -> tuple[float, float]:
        """From where to where its body reaches along the side; the whole side where its place is not known."""
        if self.socket.offset is None:
            return footprint.along(self.socket.side)
        return self.socket.offset - self.width / 2, self.socket.offset + self.width / 2


def plugs_in(boxes: list[Box], leads: list[Lead]) -> dict[str, list[Plug]]:
    """The plugs in each of these boxes. Power and data sockets count only where the text says on which side they are."""
    found: dict[str, list[Plug]] = {box.name: [] for box in boxes}
    for lead in leads:
        width = (limits.DC_WIDTH if lead.carries in POWER else limits.PLUG_WIDTH).value
        for end in lead.ends:
            if end.box is None or end.name not in found or (socket := end.socket) is None:
                continue
            if lead.carries == "audio" or socket.origin is not Origin.ASSUMED:
                found[end.name].append(Plug(lead, end, socket, end.projection(lead.carries, lead.od.value), width))
    return found


class Squeeze(NamedTuple):
    """A plug and what stands before it. ``needed`` counts the plug that comes the other way, if there is one."""

    plug: Plug
    other: Box
    facing: Plug | None
    gap: float
    needed: float

    @property
    def origin(self) -> Origin:
        origins = [self.plug.origin, self.other.size_origin]
        return min([*origins, self.facing.origin] if self.facing else origins)


_Coming = tuple[float, float, Plug]
"""A plug that comes the other way: from where to where it reaches."""


def coming_from(boxes: list[Box], plugs: dict[str, list[Plug]]) -> dict[tuple[str, str], list[_Coming]]:
    """The plugs of boxes by box and side, as they come towards what stands there."""
    found: dict[tuple[str, str], list[_Coming]] = {}
    for box in boxes:
        here = box.footprint
        assert here is not None
        for plug in plugs[box.name]:
            found.setdefault((box.name, plug.socket.side), []).append((*plug.spans(here), plug))
    return found


def squeezes(box: Box, plugs: list[Plug], coming: dict[tuple[str, str], list[_Coming]], others: list[Box]) -> list[Squeeze]:
    """For each plug of a box the one of ``others`` that leaves it the least room."""
    found = []
    here = box.footprint
    assert here is not None
    beyond: dict[str, list[_Beyond]] = {}
    for plug in plugs:
        side = plug.socket.side
        if side not in beyond:
            beyond[side] = list(_beyond(here, side, others, coming))
        low, high = plug.spans(here)
        met = []
        for other, gap, start, end, comings in beyond[side]:
            if min(high, end) - max(low, start) > 0:
                facing = _facing(low, high, comings)
                needed = plug.reach + facing.reach if facing else plug.reach
                met.append((gap - needed, other, facing, gap, needed))
        if met:
            found.append(Squeeze(plug, *min(met, key=itemgetter(0))[1:]))
    return found


_Beyond = tuple[Box, float, float, float, list[_Coming]]
"""A box off one side of another: how far off, from where to where it reaches, and its plugs on the side that faces."""


def _beyond(here: Rect, side: str, boxes: list[Box], coming: dict[tuple[str, str], list[_Coming]]) -> Iterator[_Beyond]:
    """The boxes that lie off one side, wherever along it."""
    across = opposite(side)
    for other in boxes:
        there = other.footprint
        assert there is not None
        gap = here.beside(there, side)
        if gap >= -limits.PLACE_SLACK.value:
            yield other, max(gap, 0.0), *there.along(across), coming.get((other.name, across), [])


def _facing(low: float, high: float, comings: list[_Coming]) -> Plug | None:
    """The plug that comes the other way on the same line; where places are not known they are taken to line up."""
    met = [plug for start, end, plug in comings if min(high, end) - max(low, start) > 0]
    return max(met, key=lambda each: each.reach, default=None)


def needed_between(left: Box, right: Box, plugs: dict[str, list[Plug]]) -> float:
    """The gap that the plugs between two neighbours need (m), wherever the two stand along the row."""
    one, other = left.footprint, right.footprint
    if one is None or other is None:
        return 0.0
    needed = 0.0
    coming = coming_from([left, right], plugs)
    for box, here, neighbour, there, side in ((left, one, right, other, "right"), (right, other, left, one, "left")):
        low, high = there.along(opposite(side))
        comings = coming.get((neighbour.name, opposite(side)), [])
        for plug in plugs[box.name]:
            start, end = plug.spans(here)
            if plug.socket.side == side and min(end, high) > max(start, low):
                facing = _facing(start, end, comings)
                needed = max(needed, plug.reach + (facing.reach if facing else 0.0))
    return needed
