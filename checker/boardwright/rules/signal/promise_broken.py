"""Promise is broken.

## What it finds
A line of `promises` that does not hold in every state: a sound that can get where it must never be heard, an amplifier
that can fall silent, two amplifiers that can drift apart in time, more or less than one earth.

## Why it matters
A board with a switcher has more states than anyone can try at rehearsal. Say what must never happen, and the night on
which it would have happened is found at the table.

## How it decides
Every preset counts, and every combination of switches that a player can reach by hand. Three kinds of answer are tried, the
strongest first. By wiring: with all switches left out of the drawing there is no way at all, so no state can have one.
Whatever you switch: ways exist, but their switches can never stand so at once. Or a witness: one state, in a preset if
there is one, in which it happens.

A box with a tail (delay, reverb, looper) may be played into in one state and heard in a later one. `unless: quiet` leaves
out presets marked `quiet: yes` and states in which a mute is closed. A box set to the effect alone may be silent while it is off, unless a plain wire goes round it: what
is always to be heard through it is asked about. `same_time` compares copies of one sound, and counts
{{ limit same-time }} as the same where it says nothing else. Wet-only effects are sounds of their own: their two outputs
are compared with each other, not with the guitar.

## How to mend it
The finding names the state: set it up and listen. Then move the lead or the loop that lets it happen, so that the wiring
cannot do it; or change the promise, if the state is meant.

## Source
Graph reachability over sets of states (reduced ordered decision diagrams: R. E. Bryant, IEEE Transactions on Computers C-35,
1986). What counts as the same time is common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal.promises import Answer, Kept
from boardwright.rules.earth._loops import things_of
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips


@rule(Severity.FAULT, lesson="three-amplifiers", explained_by=("amplifiers-not-on-exactly-one-earth",))
def promise_broken(board: Board) -> Iterator[Judgement]:
    for answer in board.promises:
        things = [Thing(name, board.names.get(name, answer.path)) for name in answer.things]
        things = things or (_earths(board) if answer.kept is Kept.BROKEN else []) or [_promise(answer)]
        if answer.kept is Kept.HOLDS:
            yield clear(*things, severity=Severity.FAULT)
        elif answer.kept is Kept.CANNOT_TELL:
            yield cannot_tell(Severity.FAULT, things, f"Promised: {_lower(answer.promise)} {answer.question}", at=answer.path)
        else:
            yield trips(
                Severity.FAULT,
                things,
                f"Promised: {_lower(answer.promise)} It is broken. {' '.join(answer.proof)}",
                "Change the wiring so that this state cannot happen, or the promise if it is meant.",
                at=answer.path,
                witness=answer.state.words if answer.state else None,
            )


def _earths(board: Board) -> list[Thing]:
    """What breaks `one-earth`, under the name that the earth rules give it: the isolator that a second earth goes through, or
    the amplifiers with which there is none."""
    answer = board.one_earth
    if answer.loops:
        return things_of(board, answer.loops[0])
    return [thing(board, name) for name in answer.floating[0]] if answer.floating else []


def _promise(answer: Answer) -> Thing:
    return Thing(f"promise {int(answer.path[1]) + 1}", answer.path)


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
