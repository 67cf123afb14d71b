"""How loud hum may be: estimates, each with the assumptions that it rests on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.audio import Hop
from boardwright.board.ground_bonds import Via
from boardwright.board.ground_paths import Loop
from boardwright.limits import Limit
from boardwright.physics.coupling import earth_loop_voltage
from boardwright.physics.fields import loop_emf
from boardwright.physics.levels import decibels_of
from boardwright.spec.figure import Figure, Origin, figure, weakest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


@dataclass(frozen=True, slots=True)
class Hum:
    """Hum that a loop through the wall puts in series with the signal. Everything but lengths that were stated is assumed.

    Voltages in V, resistances in ohm, area in m². ``against_guitar`` in dB.
    """

    volts: float
    induced: float
    difference: Limit
    """Voltage between the two earths: the bigger of the two causes, nearly always."""
    length: Figure
    screen: float
    area: float
    against_guitar: float


def loop_hum(board: Board, loop: Loop) -> Hum | None:
    """An estimate for a loop through two mains cords; ``None`` for one that no audio lead is part of."""
    hops = [bond.hop for bond in loop.goes_by(Via.SCREEN) if bond.hop is not None]
    if not hops:
        return None
    lengths = [lead_length(board, hop) for hop in hops]
    length = figure(sum(each.value for each in lengths), "m", weakest(each.origin for each in lengths))
    screen = sum(screen_resistance(each.value) for each in lengths)
    area = length.value * limits.LOOP_WIDTH.value
    induced = loop_emf(mains_frequency(board), area, limits.ROOM_FIELD.value)
    difference = limits.EARTH_DIFFERENCE_CIRCUITS if on_two_circuits(board, loop.cords) else limits.EARTH_DIFFERENCE
    volts = earth_loop_voltage(induced, difference.value, screen, limits.EARTH_WAY.value)
    return Hum(volts, induced, difference, length, screen, area, decibels_of(volts / limits.GUITAR_SIGNAL.value))


def lead_length(board: Board, hop: Hop) -> Figure:
    """Length (m) of an audio lead: as stated, or a usual one for where it runs."""
    if hop.length is not None and hop.length.known:
        return hop.length
    spec = board.spec
    leaves = any(jack.thing in spec.amps or jack.thing in spec.computers or jack.thing not in board.names for jack in (hop.start, hop.end))
    usual = limits.RIG_LEAD if leaves or hop.start.thing in ("guitar", *spec.instruments) else limits.BOARD_LEAD
    return figure(usual.value, "m", Origin.ASSUMED)


def screen_resistance(length: float) -> float:
    """Resistance (ohm) of a lead's screen and its two contacts."""
    return length * limits.SCREEN_RESISTANCE.value + limits.SCREEN_CONTACTS.value


def mains_frequency(board: Board) -> float:
    """Mains frequency (Hz) of the place; the higher one where there are two, since it induces more."""
    hertz = [each for nominal in board.wall.nominals for each in nominal.hertz]
    return max(hertz, default=limits.HUM_FREQUENCY.value)


def on_two_circuits(board: Board, names: Sequence[str]) -> bool:
    """Whether these are known to be plugged into different wall circuits."""
    circuits = {board.wall.circuit(name) for name in names}
    return len(circuits) > 1 and None not in circuits


def ring_area(corners: Sequence[tuple[float, float]]) -> float:
    """Area (m²) of a ring on the board by its corners (m), by the shoelace formula."""
    after = [*corners[1:], corners[0]] if corners else []
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, after, strict=True))) / 2


def middle(corners: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The mean of the corners (m)."""
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)


def distance(one: tuple[float, float], other: tuple[float, float]) -> float:
    return math.dist(one, other)
