"""Bend too tight.

## What it finds
Bends that are tighter than their cable allows, solid wire that moves, and plugs whose cable bends right behind them.

## Why it matters
Cables hate being folded. A gentle curve lasts years; a kink breaks inside, where you cannot see it.

## How it decides
A stated inside radius must be {{ limit bend-fixed }} diameters of the cable, {{ limit bend-flexed }} where it moves. The
corners of a drawn way must leave room for such bends, and the first and last {{ limit straight-behind-plug }} diameters
must be straight. A cable with a solid conductor must not move at all. Diameters that are not stated: {{ limit od-audio }}
for audio, {{ limit od-dc }} for DC, {{ limit od-mains }} for mains.

## How to mend it
Turn a flat plug the other way, use thinner cable, or give it a wider way.

## Source
Rules of thumb in cable handbooks: 4 diameters fixed, 8 to 10 moving.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.geometry import corner_radius
from boardwright.board.layout.runs import Run
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run
from boardwright.rules.verdict import Judgement, Severity, clear, limit, over, trips


@dataclass(frozen=True, slots=True)
class _Bend:
    radius: float
    where: str


@rule(Severity.RISK, lesson="leads-and-routes")
def bend_too_tight(board: Board) -> Iterator[Judgement]:
    for run in board.layout.runs:
        bends = [*_stated(run), *_corners(run)]
        if run.section.core == "solid" and run.section.flex:
            yield _solid(run)
        elif bends:
            yield _judge(run, min(bends, key=lambda bend: bend.radius))


def _stated(run: Run) -> Iterator[_Bend]:
    for bend in run.section.bends or ():
        if bend.known:
            yield _Bend(bend.value, "one of its bends")


def _corners(run: Run) -> Iterator[_Bend]:
    """The bends that its drawn way has room for, along the inside of the cable; straight parts behind plugs kept."""
    points = list(run.points)
    if len(points) < 3:
        return
    plug = limits.PLUG_STRAIGHT_PART.value * run.od.value
    if not run.section.leaves_board:
        for end, inner in ((0, 1), (-1, -2)):
            length = math.dist(points[end], points[inner])
            share = min(plug / length, 1.0)
            points[end] = tuple(a + (b - a) * share for a, b in zip(points[end], points[inner], strict=True))  # type: ignore[assignment]
    for corner in range(1, len(points) - 1):
        radius = corner_radius(points, corner)
        if not math.isinf(radius):
            x, y = run.points[corner]
            yield _Bend(max(radius - run.od.value / 2, 0.0), f"the corner at [{x * 1000:.0f}, {y * 1000:.0f}]")


def _judge(run: Run, bend: _Bend) -> Judgement:
    bound = limits.BEND_FLEXED if run.section.flex else limits.BEND_FIXED
    least = bound.value * run.od.value
    if not over(least - limits.PLACE_SLACK.value / 2, bend.radius):
        return clear(of_run(run))
    moving = "moves" if run.section.flex else "lies still"
    return trips(
        Severity.RISK,
        [of_run(run)],
        f"`{run.name}` is {run.od.value * 1000:.3g} mm thick and {moving}: {bend.where} has {mm(bend.radius)} inside, and wants {mm(least)}.",
        "Give it a wider way, use thinner cable, or turn a flat plug the other way.",
        [size("inside radius", bend.radius), size("diameter", run.od.value, run.od.origin), limit("diameters", bound)],
    )


def _solid(run: Run) -> Judgement:
    return trips(
        Severity.RISK,
        [of_run(run)],
        f"`{run.name}` moves in use and has a solid conductor: it breaks after some hundred bends.",
        "Use stranded wire there.",
    )
