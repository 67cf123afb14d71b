"""Control or port buried.

## What it finds
Sockets, switches, fuses and controls on the sides of boxes that fingers do not reach.

## Why it matters
Leave a finger's width at anything you may need to touch, including the update port and the fuse. A power plug must come
out in a blackout.

## How it decides
Everything in `ports`, and a power socket that is stated on a side where a neighbour stands, needs
{{ limit finger-room }} to the next box, and {{ limit hand-height }} of height below a shelf. Advice; a risk where it is the
mains switch, the mains socket or the fuse.

## How to mend it
Turn or move the box, or bring the port out with a short extension lead.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.geometry import OUTWARD, Rect
from boardwright.board.layout.leads import POWER
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, clear, limit, over, trips

VITAL = ("mains", "fuse", "switch")


@dataclass(frozen=True, slots=True)
class _Reach:
    what: str
    side: str
    along: tuple[float, float]


@rule(Severity.ADVICE, Severity.RISK, lesson="feet-and-lids", explained_by=("boxes-overlap",), whole_matter=True)
def control_or_port_buried(board: Board) -> Iterator[Judgement]:
    for box in board.layout.placed:
        for port in _ports(board, box):
            yield _judge(box, port, board.layout.near(box, limits.FINGER_ROOM.value))


def _ports(board: Board, box: Box) -> Iterator[_Reach]:
    rect = box.footprint
    assert rect is not None
    for port in box.section.ports or ():
        side = box.turned(port.side)
        whole = rect.along(side)
        if port.offset is None or not port.offset.known:
            yield _Reach(port.what, side, whole)
            continue
        forward = box.turn in ((0, 270) if port.side in ("front", "rear") else (0, 90))
        middle = whole[0] + port.offset.value if forward else whole[1] - port.offset.value
        yield _Reach(port.what, side, (middle - limits.DC_WIDTH.value / 2, middle + limits.DC_WIDTH.value / 2))
    for plug in board.layout.plugs.get(box.name, []):
        if plug.lead.carries in POWER and plug.socket.side in ("left", "right"):
            yield _Reach("power plug", plug.socket.side, plug.spans(rect))


def _judge(box: Box, port: _Reach, neighbours: list[Box]) -> Judgement:
    fingers = _zone(box, port)
    severity = Severity.RISK if port.what in VITAL else Severity.ADVICE
    named = {"control": "control", "switch": "mains switch", "mains": "mains socket", "usb": "USB port", "battery": "battery door"}.get(port.what, port.what)
    for other in neighbours:
        rect = other.footprint
        assert rect is not None and box.footprint is not None
        x, y = fingers.overlap(rect)
        if x <= 1e-9 or y <= 1e-9:
            continue
        above = other.rise - box.rise
        gap = max(box.footprint.beside(rect, port.side), 0.0)
        if above > 0 and other.rise >= box.top:
            if over(limits.HAND_HEIGHT.value, above):
                return trips(
                    severity,
                    [of_box(box), of_box(other)],
                    f"The {named} on the {port.side} of `{box.name}` lies {mm(above)} below `{other.name}`: no hand gets there.",
                    "Move or turn the box, or bring the port out with a short extension.",
                    [size("height", above), limit("a hand needs", limits.HAND_HEIGHT)],
                )
            continue
        if over(limits.FINGER_ROOM.value, gap):
            return trips(
                severity,
                [of_box(box), of_box(other)],
                f"The {named} on the {port.side} of `{box.name}` faces `{other.name}` at {mm(gap)}: no finger gets there.",
                "Turn or move one of them, or bring the port out with a short extension.",
                [size("gap", gap), limit("fingers need", limits.FINGER_ROOM)],
            )
    return clear(of_box(box), severity=severity)


def _zone(box: Box, port: _Reach) -> Rect:
    """Where fingers must come in front of a port."""
    rect, room = box.footprint, limits.FINGER_ROOM.value
    assert rect is not None
    edge, (ox, oy) = rect.edge(port.side), OUTWARD[port.side]
    if ox:
        return Rect(min(edge, edge + ox * room), port.along[0], max(edge, edge + ox * room), port.along[1])
    return Rect(port.along[0], min(edge, edge + oy * room), port.along[1], max(edge, edge + oy * room))
