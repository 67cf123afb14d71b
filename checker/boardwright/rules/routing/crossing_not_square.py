"""Crossing not square.

## What it finds
Leads that carry sound and cross mains or low-voltage AC at a slant.

## Why it matters
Where sound and power must cross, let them cross like a plus sign, not like a slip road.

## How it decides
Advice for two runs whose flattest crossing is at less than {{ limit square-angle }}. What a slanting crossing hears is worked out for two runs
that cross in their middles, one lying on the other, against the same two side by side: nothing at a right angle, and less
than the cosine would have it at a slant, since the ends of the runs move apart.

## How to mend it
Lead one of them so that they cross at a right angle.

## Source
Physics: mutual inductance of crossing filaments, by Neumann's integral in closed form.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.geometry import Crossing, crossings
from boardwright.board.layout.runs import Run
from boardwright.physics.inductance import crossing_filaments, parallel_filaments
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run, pairs, too_much, ways
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.figure import tell


@rule(Severity.ADVICE, lesson="leads-and-routes", explained_by=("audio-beside-power",))
def crossing_not_square(board: Board) -> Iterator[Judgement]:
    met, hit = set(), set()
    meeting = pairs(board, ("mains", "ac-low"), limits.PLACE_SLACK.value)
    if (given_up := too_much(meeting, Severity.ADVICE)) is not None:
        yield given_up
        return
    for sound, other in meeting:
        flattest = min(crossings(sound.points, other.points), key=lambda each: each.angle, default=None)
        if flattest is not None:
            met.add(sound.name)
            if over(limits.SQUARE_ANGLE.value, math.degrees(flattest.angle)):
                hit.add(sound.name)
                yield _judge(sound, other, flattest)
    for sound in ways(board, "audio"):
        if sound.name in met - hit:
            yield clear(of_run(sound))


def _judge(sound: Run, other: Run, each: Crossing) -> Judgement:
    share = heard_share(sound, other, each.angle)
    degrees = math.degrees(each.angle)
    return trips(
        Severity.ADVICE,
        [of_run(sound), of_run(other)],
        f"`{sound.name}` crosses `{other.name}` at {degrees:.0f}°: it hears {tell(share, '%')} of what it would hear lying beside it, "
        "and nothing at a right angle.",
        "Lead one of them so that they cross like a plus sign.",
        [
            Number("angle", f"{degrees:.0f}°", degrees, "°", "computed"),
            Number("heard", tell(share, "%"), share, "%", "computed"),
            limit("at least", limits.SQUARE_ANGLE),
        ],
    )


def heard_share(sound: Run, other: Run, angle: float) -> float:
    """Coupling of a crossing at ``angle`` (rad) as a share of the same two runs side by side."""
    length = min(sound.way_length, other.way_length)
    apart = (sound.od.value + other.od.value) / 2
    return abs(crossing_filaments(length, length, apart, angle)) / parallel_filaments(length, apart)
