"""What one run of wire hears of another: mutual inductance of their true ways, and the gain between two ends."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

from boardwright.board.audio import Audio
from boardwright.board.feeding import Device
from boardwright.board.layout.geometry import Point, segment_distance, segments
from boardwright.board.layout.runs import Run
from boardwright.physics.inductance import Filament, mutual_inductance

_SHARPEST = 4.0
"""A corner is not drawn out further than this many times the spacing."""


def beside(path: Sequence[Point], by: float) -> list[Point]:
    """The path of a wire that lies ``by`` to the left of ``path`` (m)."""
    ways = [((bx - ax), (by_ - ay)) for (ax, ay), (bx, by_) in pairwise(path)]
    normals = [(-dy / math.hypot(dx, dy), dx / math.hypot(dx, dy)) for dx, dy in ways]
    moved = []
    for number, (x, y) in enumerate(path):
        before, after = normals[max(number - 1, 0)], normals[min(number, len(normals) - 1)]
        nx, ny = before[0] + after[0], before[1] + after[1]
        square = nx * nx + ny * ny
        scale = min(2 / square, _SHARPEST / math.sqrt(square)) if square > 1e-12 else 0.0
        moved.append((x + nx * scale * by, y + ny * scale * by))
    return moved


def mutual(first: Sequence[Point], second: Sequence[Point], first_spacing: float, second_spacing: float, apart: float) -> float:
    """Mutual inductance of two flat pairs that lie along two ways (H), of either sign.

    Args:
        first, second: their corners (m).
        first_spacing, second_spacing: from the middle of one conductor to the other, in each pair (m).
        apart: how far one lies above the other (m), more than zero where they cross.

    Source: Neumann's integral over the four pairs of conductors, straight part by straight part.
    """
    total = 0.0
    for side, sign in ((first_spacing / 2, 1), (-first_spacing / 2, -1)):
        one = beside(first, side)
        for other_side, other_sign in ((second_spacing / 2, 1), (-second_spacing / 2, -1)):
            other = beside(second, other_side)
            total += sign * other_sign * _filaments(one, other, apart)
    return total


def _filaments(first: Sequence[Point], second: Sequence[Point], apart: float) -> float:
    return math.fsum(
        mutual_inductance(Filament((*a, 0.0), (*b, 0.0)), Filament((*c, apart), (*d, apart))) for a, b in segments(first) for c, d in segments(second)
    )


def lies_apart(one: Run, other: Run) -> float:
    """How far one run lies above the other (m): nothing where they lie side by side, as high as they touch where they cross."""
    touching = (one.od.value + other.od.value) / 2
    nearest = min((segment_distance(a, b) for a in segments(one.points) for b in segments(other.points)), default=math.inf)
    return math.sqrt(max(0.0, touching**2 - nearest**2))


def gain_between(audio: Audio, devices: dict[str, Device], runs: Sequence[Run], first: str, last: str) -> float | None:
    """The most gain (dB) from the input of ``first`` to the output of ``last``, both included; ``None`` if no sound gets there.

    Runs that say what they join count as arrows too. A box that is off has no gain, so none counts below 0 dB.
    """
    following: dict[str, list[str]] = defaultdict(list)
    for hop in audio.hops:
        following[hop.start.thing].append(hop.end.thing)
    for run in runs:
        if run.section.joins and run.carries in (None, "audio"):
            following[run.section.joins[0].thing].append(run.section.joins[1].thing)
    best: dict[str, float | None] = {}
    pending: set[str] = set()
    work = [(first, False)]
    while work:
        here, done = work.pop()
        own = max(0.0, devices[here].gain.value) if here in devices else 0.0
        if done:
            onward = [gain for each in following[here] if (gain := best.get(each)) is not None]
            best[here] = own if here == last else own + max(onward) if onward else None
            pending.discard(here)
        elif here not in best and here not in pending:
            pending.add(here)
            work.append((here, True))
            if here != last:
                work += [(each, False) for each in following[here] if each not in pending]
    return best.get(first)
