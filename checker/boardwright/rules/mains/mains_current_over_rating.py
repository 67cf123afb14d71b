"""More mains current than a cord, block or inlet may carry.

## What it finds
A cord, block, inlet or circuit through which more current flows than its rating allows.

## Why it matters
Every plug, lead and block has a limit. Amplifiers add up, and a coiled reel cooks itself.

## How it decides
For each of them it adds the VA of everything behind it and divides by the place's voltage (the lowest, where there are
several). A supply that states only watts counts with a power factor of {{ limit power-factor }}. Above the rating is a
danger, above {{ limit mains-headroom }} of it a risk. Inlets of a standard shape that state no rating count with
{{ limit coupler-c14 }} (C14) or {{ limit coupler-c8 }} (C8, C6); a coiled cord with its coiled rating, or with
{{ limit coiled }} of its rating where the reel is not marked. A rating that nobody states matters where more than
{{ limit any-rating }} may flow.

## How to mend it
Spread the load over several outlets of one circuit; unwind the reel, all of it; use factory-made cords and blocks of a higher
rating. Whether the circuit behind the wall carries it is for a qualified person to say, under the local electrical code.

## Source
IEC 60320 (ratings of couplers); physics. The share in reserve and the power factor are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.mains._currents import Branch, ask_about, branches
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.rules.wall import defer
from boardwright.spec.figure import figure, tell


@rule(Severity.DANGER, Severity.RISK, lesson="the-wall")
def mains_current_over_rating(board: Board) -> Iterator[Judgement]:
    for branch in branches(board):
        yield _judged(board, branch)


def _judged(board: Board, branch: Branch) -> Judgement:
    rating = branch.rating
    if rating.known and over(branch.least, rating.value):
        return _over(branch)
    if not branch.complete:
        return cannot_tell(Severity.DANGER, [branch.thing], ask_about(board, branch.name, branch))
    if not rating.known:
        if over(branch.most, limits.ANY_RATING.value):
            return cannot_tell(Severity.DANGER, [branch.thing], ask_about(board, branch.name, branch))
        return clear(branch.thing, severity=Severity.DANGER)
    if over(branch.most, rating.value):
        return cannot_tell(Severity.DANGER, [branch.thing], ask_about(board, branch.name, branch))  # only at the voltage of some places
    if over(branch.most, rating.value * limits.MAINS_HEADROOM.value):
        return _near(branch)
    return clear(branch.thing, severity=Severity.DANGER)


def _numbers(branch: Branch, amps: float) -> list:
    return [number("flows", figure(amps, "A", branch.origin)), number("rating", branch.rating)]


def _over(branch: Branch) -> Judgement:
    more = "" if branch.complete else " or more"
    return trips(
        Severity.DANGER,
        [branch.thing],
        f"Through `{branch.name}` flow {tell(branch.least, 'A')}{more} for {listed([item.name for item in branch.items])}, and it may carry "
        f"{branch.rating}{branch.why_rating}. It gets hot, and can burn.",
        defer(branch.remedy),
        _numbers(branch, branch.least),
    )


def _near(branch: Branch) -> Judgement:
    return trips(
        Severity.RISK,
        [branch.thing],
        f"`{branch.name}` carries {tell(branch.most, 'A')} of the {branch.rating} that it may{branch.why_rating}. For hours on "
        "end, leave a fifth spare.",
        defer(branch.remedy),
        [*_numbers(branch, branch.most), limit("in use at most", limits.MAINS_HEADROOM)],
    )
