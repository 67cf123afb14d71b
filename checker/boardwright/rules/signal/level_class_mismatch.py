"""Level that does not suit the input.

## What it finds
A source that is far louder, or far softer, than what the input behind it is made for.

## Why it matters
Guitars whisper, studio gear talks, loudspeaker outputs shout. Feed a talker into an ear made for whispers and it distorts;
feed a whisper into one made for talk and you hear mostly hiss.

## How it decides
The nominal levels of the two classes are compared: pickup −20 dBV, instrument and consumer line −10 dBV, professional line
+4 dBu, microphone −50 dBV. More than {{ limit level-hot }} above what the input is made for, or {{ limit level-weak }} and
further below, is a risk. A reamp box turns line into pickup level, a direct box whatever it gets into microphone level.
A bare `line` on pedals is the consumer kind. The level of an amplifier's return is asked for.

## How to mend it
A level switch, a pad, a reamp box or a preamplifier.

## Source
Line levels as in IEC 61938 and by convention; levels of pedals and pickups are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.signal import Edge, Role
from boardwright.rules.registry import rule
from boardwright.rules.signal._levels import NOMINAL, gives, takes
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell


@rule(Severity.RISK, lesson="levels")
def level_class_mismatch(board: Board) -> Iterator[Judgement]:
    for edge in board.signal.graph.edges:
        if edge.hop is not None and edge.start.thing in board.signal.stages and edge.end.thing in board.signal.stages:
            yield from _lead(board, edge)


def _lead(board: Board, edge: Edge) -> Iterator[Judgement]:
    source, target = board.signal.stages[edge.start.thing], board.signal.stages[edge.end.thing]
    about = [thing(board, target.name), thing(board, source.name)]
    at = edge.hop.path if edge.hop else ()
    for stage, jack, word in ((source, edge.start.jack, "send"), (target, edge.end.jack, "return")):
        if stage.role is Role.AMP and word in jack and (takes if word == "return" else gives)(stage, jack) in (None, "unknown"):
            question = f"At what level does the loop of `{stage.name}` work? If it has a switch, start at the pedal (instrument) setting."
            yield cannot_tell(Severity.RISK, [thing(board, stage.name)], question, at=at)
            return
    out, into = gives(source, edge.start.jack), takes(target, edge.end.jack)
    if out not in NOMINAL or into not in NOMINAL or "speaker" in edge.start.jack:
        return
    gap = NOMINAL[out] - NOMINAL[into]
    if not over(gap, limits.LEVEL_HOT.value) and not over(limits.LEVEL_WEAK.value, gap):
        yield clear(*about)
        return
    hot = gap > 0
    said = "it is far too loud for that input, and distorts" if hot else "it is far too soft for that input: you hear mostly hiss"
    yield trips(
        Severity.RISK,
        about,
        f"`{source.name}` gives {out} level and `{target.name}` is made for {into}, {tell(abs(gap), 'dB')} {'below' if hot else 'above'}: {said}.",
        "Put a pad, a reamp box or a level switch between." if hot else "Put a preamplifier or a boost between, or use an instrument input.",
        [number("apart", figure(gap, "dB")), limit("too loud from", limits.LEVEL_HOT), limit("too soft from", limits.LEVEL_WEAK)],
        at=at,
    )
