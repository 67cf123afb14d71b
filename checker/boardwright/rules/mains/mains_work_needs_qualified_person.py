"""Work at mains voltage is for a qualified person.

## What it finds
Mains parts on the board that somebody made at home or that nobody answers for; work at mains voltage that is planned;
parts without a safety mark; readings that are not as they should be; and warning signs that mean stop.

## Why it matters
What comes out of a factory-made low-voltage supply is yours to build with. What touches the wall is for somebody who is
trained and, in many places, licensed. A mistake there shows itself months later, in another person's hands.

## How it decides
Mains parts on the board that state `made_by: self` trip; who made them and is not stated is asked about. So does planned work,
unless an electrician does it; a part whose `mark` is `no`; a reading of more than {{ limit earth-bond }} to earth (without the
cord) or of less than {{ limit insulation }} insulation; and any warning sign. A whole supply that was bought and screwed on
is no work at mains voltage. Signs and marks that the text does not mention belong to the one line that asks for a look over
all that plugs into the wall; `looked_over: yes` answers it.

## How to mend it
Stop there. Buy factory-made parts, or hand the work over to a licensed electrician or another qualified person, who works to the
local electrical code and notes down earth continuity, insulation, polarity, the trip of the residual-current device and a test
of function. Call one also for anything in the fixed wiring, an outlet without earth, a tingle, a burning smell, a device that
trips again and again, any supply outdoors, and a voltage that has to be changed inside a unit.

## Source
National wiring rules; IEC 60364-6 (verification); IEC 62368-1. Whose work it is differs between countries: ask there.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, trips
from boardwright.rules.wall import State, ask_item, ask_look_over, ask_mains, defer, look_over, maker, of_item, of_look_over, of_mains, readings
from boardwright.spec.fields import YesNo
from boardwright.spec.wording import series

_SIGNS = {
    "tingle": "a tingle from metal",
    "burning-smell": "a burning smell",
    "trips-again": "a breaker or residual-current device that trips again and again",
    "scorched": "scorched plastic",
    "crackles": "a crackling outlet or plug",
    "hot-plug": "a plug too hot to hold",
    "wet": "something wet inside",
}


@rule(Severity.DANGER, lesson="the-wall")
def mains_work_needs_qualified_person(board: Board) -> Iterator[Judgement]:
    yield from _signs(board)
    yield from _planned(board)
    yield from _made(board)
    yield from _readings(board)
    if look_over(board) is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_look_over(board)], ask_look_over(board))
    for item in board.wall.items.values():
        if item.marked is YesNo.NO:
            yield trips(
                Severity.DANGER,
                [of_item(item)],
                f"`{item.name}` carries no safety mark. Nobody has shown that the wall stays out of its low-voltage side.",
                defer("Do not plug it in. Replace it with a factory-made one that carries the marks of your country."),
                at=(*item.path, "mark"),
            )
        elif item.marked is YesNo.UNKNOWN:
            yield cannot_tell(Severity.DANGER, [of_item(item)], ask_item(board, item))
        elif item.marked is YesNo.YES:
            yield clear(of_item(item), severity=Severity.DANGER)


def _signs(board: Board) -> Iterator[Judgement]:
    signs = [sign for sign in board.wall.section.signs or () if sign in _SIGNS]
    if signs:
        yield trips(
            Severity.DANGER,
            [Thing("mains", ("mains", "signs"))],
            f"Somebody noticed {series(_SIGNS[sign] for sign in signs)}. Each of these means that something at mains voltage is wrong already.",
            defer("Switch off at the wall, leave it off, and call a licensed electrician."),
        )


def _planned(board: Board) -> Iterator[Judgement]:
    work = [each for each in board.wall.section.planned_work or () if each != "unknown"]
    if work and board.wall.section.made_by != "electrician":
        yield trips(
            Severity.DANGER,
            [Thing("mains", ("mains", "planned_work"))],
            f"Work at mains voltage is planned: {series(work)}.",
            defer("Stop here and hand it over to a licensed electrician or another qualified person."),
        )


def _made(board: Board) -> Iterator[Judgement]:
    state = maker(board)
    if state is State.WRONG:
        what = "mains wiring" if board.wall.section.loose_wiring else "mains parts"
        yield trips(
            Severity.DANGER,
            [of_mains(board)],
            f"The {what} on this board {'was' if what.endswith('g') else 'were'} made at home. What touches the wall is for "
            "somebody who is trained and, in many places, licensed.",
            defer(
                "Leave it unplugged. Replace it with factory-made parts, or have a licensed electrician take it over, test it and note the readings."
            ),
            [limit("earth at most", limits.EARTH_BOND), limit("insulation at least", limits.INSULATION)],
        )
    elif state is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_mains(board)], ask_mains(board))
    elif state is State.RIGHT and readings(board) is not State.UNSHOWN:
        yield clear(of_mains(board), severity=Severity.DANGER)


def _readings(board: Board) -> Iterator[Judgement]:
    state = readings(board)
    if state is State.WRONG:
        yield trips(
            Severity.DANGER,
            [Thing("mains", ("mains", "tests"))],
            "A reading that was noted down is not as it should be: earth, insulation, polarity or the residual-current device.",
            defer("Leave it unplugged, and show the readings to a licensed electrician."),
            [limit("earth at most", limits.EARTH_BOND), limit("insulation at least", limits.INSULATION)],
        )
    elif state is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_mains(board)], ask_mains(board))
