"""Metal near mains is not joined to protective earth.

## What it finds
A metal frame or enclosure that mains parts are in or on, and that is not joined to protective earth, or not well enough.

## Why it matters
If a live wire ever comes loose and touches metal that is earthed, the fuse goes at once. If the metal is not earthed, it
stays live and waits for a hand.

## How it decides
It looks at the metal of the mains enclosure and, where mains parts are on the board, at a metal frame. Metal counts as
earthed if that is stated, or if `grounds` joins it to earth without the help of an audio lead; a reading above
{{ limit earth-bond }} (without the cord) counts as not earthed. Where all the mains on the board is factory-made, closed
supplies of class II or III and nothing is loose, there is nothing to earth. Not stated is never taken for earthed: it is
asked about before anything is switched on.

## How to mend it
Leave it unplugged. Let a qualified person see to the earth and test it under the local electrical code; or keep
mains off the board and use a factory-made supply outside of it.

## Source
IEC 61140 (class I relies on protective earth); IEC 60364-4-41, 411.3.1.1. The limit is the one used in appliance testing.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, number, trips
from boardwright.rules.wall import State, ask_mains, bonding, defer, of_mains


@rule(Severity.DANGER, lesson="the-wall")
def frame_without_protective_earth(board: Board) -> Iterator[Judgement]:
    found = bonding(board)
    wrong = [name for name, state in found.items() if state is State.WRONG]
    for name in wrong:
        thing = _thing(board, name)
        yield trips(
            Severity.DANGER,
            [thing],
            f"The metal {name} has mains in or on it and is not joined to protective earth. If a live wire comes loose, "
            "the metal is live, and nothing switches off.",
            defer("Leave it unplugged, and have a qualified person make its earth good and test it."),
            _numbers(board),
        )
    if not wrong and State.UNSHOWN in found.values():
        yield cannot_tell(Severity.DANGER, [of_mains(board)], ask_mains(board))
    yield from (clear(_thing(board, name), severity=Severity.DANGER) for name, state in found.items() if state is State.RIGHT)
    if not found and board.wall.on_board:
        yield clear(of_mains(board), severity=Severity.DANGER)


def _thing(board: Board, name: str) -> Thing:
    return Thing(name, ("mains", "enclosure") if name == "enclosure" else ("board", "frame"))


def _numbers(board: Board) -> list[Number]:
    box, tests = board.wall.section.enclosure, board.wall.section.tests
    readings = [box.earth_resistance if box else None, tests.earth_resistance if tests else None]
    known = [number("measured to the earth pin", each) for each in readings if each is not None and each.known]
    return [*known, limit("at most", limits.EARTH_BOND)] if known else []
