"""Which grounds a meter finds joined and which apart, with every mains plug pulled and nothing live."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.audio import GUITAR
from boardwright.board.bench.expected import Expected
from boardwright.board.conductors import MINUS, ground, pole
from boardwright.board.ground_bonds import Bond, Node
from boardwright.board.ground_hum import lead_length, screen_resistance
from boardwright.board.ground_paths import shortest_way
from boardwright.spec.fields import Jack

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

BOARD = "board"
"""What the signal ground of the board is called: the sleeve of the jack that the guitar is plugged into."""
UNPLUGGED = (
    "Ohms, with every mains plug pulled out (amplifiers, supplies, computers) and every other lead in its place: one probe on the sleeve of "
    "each thing's jack."
)


@dataclass(frozen=True, slots=True)
class Joined:
    """Whether two grounds hang together without the wall."""

    holds: bool | None
    """``None`` where it depends on something that nobody described."""
    way: tuple[Bond, ...] = ()
    """What joins them for sure."""


def readings(board: Board) -> Iterator[Expected]:
    for name in board.ground.amps:
        found = expected_between(board, Jack(BOARD), Jack(name))
        if found is not None:
            yield found


def expected_between(board: Board, one: Jack, other: Jack) -> Expected | None:
    """What the meter should show between two grounds; ``None`` where that cannot be told."""
    found = between(board, node_of(board, one), node_of(board, other))
    if found.holds is None or any(bond.soft for bond in found.way):
        return None
    where, path = (str(one), str(other)), board.ground.path_of(other.thing)
    if not found.holds:
        return Expected(where, "ohms", path, UNPLUGGED, condition="unplugged", low=limits.READING_APART.value)
    screens = sum(screen_resistance(lead_length(board, bond.hop).value) for bond in found.way if bond.hop is not None)
    most = max(limits.READING_JOINED.value, screens + limits.READING_LEAD.value)
    return Expected(where, "ohms", path, UNPLUGGED, condition="unplugged", value=screens, high=most)


def between(board: Board, one: Node, other: Node) -> Joined:
    """Whether two grounds are joined by anything but mains cords."""
    certain, possible = board.ground.unplugged
    if certain.find(one) == certain.find(other):
        return Joined(True, _way(board, one, other))
    return Joined(None if possible.find(one) == possible.find(other) else False)


def _way(board: Board, one: Node, other: Node) -> tuple[Bond, ...]:
    """The fewest bonds, through soft ones only if there is no other way."""
    sure, hard = board.ground.unplugged_bonds
    way = shortest_way(hard, one, [other])
    return tuple(way if way is not None else shortest_way(sure, one, [other]) or ())


def node_of(board: Board, jack: Jack) -> Node:
    """The node of the ground graph that a name in ``readings`` means."""
    if jack.thing == BOARD and not _is_thing(board, BOARD):
        arrives = next((hop.end.thing for hop in board.audio.hops if hop.start.thing == GUITAR), None)
        first = arrives or next((hop.end.thing for hop in board.audio.hops), GUITAR)
        return ground(first)
    supply = board.power.supplies.get(jack.thing)
    if supply is not None and supply.outlets:
        return pole(supply.outlets.get(jack.jack or "") or next(iter(supply.outlets.values())), MINUS)
    side = (*ground(jack.thing), jack.jack or "")
    return side if any(side in (bond.a, bond.b) for bond in board.ground.screens) else ground(jack.thing)


def _is_thing(board: Board, name: str) -> bool:
    return name in board.names or any(name in (hop.start.thing, hop.end.thing) for hop in board.audio.hops)
