"""Level that does not suit the input.

## What it finds
A source that is far louder, or far softer, than what the input behind it is made for.

## Why it matters
Guitars whisper, studio gear talks, loudspeaker outputs shout. Feed a talker into an ear made for whispers and it distorts;
feed a whisper into one made for talk and you hear mostly hiss.

## How it decides
The nominal levels of the two classes are compared: pickup −20 dBV, instrument and consumer line −10 dBV, professional line
+4 dBu, microphone −50 dBV. More than {{ limit level-hot }} above what the input is made for, or {{ limit level-weak }} and
further below, is a risk. A return has nothing to turn up, so there {{ limit level-soft }} and further is advice, as for a pedal into one of
professional level; where the loop's send is too loud already, that says it. A reamp box turns line into pickup level, a direct box whatever it gets into microphone level.
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


@rule(Severity.RISK, Severity.ADVICE, lesson="levels")
def level_class_mismatch(board: Board) -> Iterator[Judgement]:
    stages = board.signal.stages
    leads = [edge for edge in board.signal.graph.edges if edge.hop is not None and edge.start.thing in stages and edge.end.thing in stages]
    loud = {edge.start.thing for edge in leads if (gap := _gap(board, edge)) is not None and over(gap, limits.LEVEL_HOT.value)}
    for edge in leads:
        yield from _lead(board, edge, loud)


def _gap(board: Board, edge: Edge) -> float | None:
    """How far (dB) what comes lies above what the input is made for; ``None`` where one of them has no class."""
    out = gives(board.signal.stages[edge.start.thing], edge.start.jack)
    into = takes(board.signal.stages[edge.end.thing], edge.end.jack)
    return None if out not in NOMINAL or into not in NOMINAL or "speaker" in edge.start.jack else NOMINAL[out] - NOMINAL[into]


def _lead(board: Board, edge: Edge, loud: set[str]) -> Iterator[Judgement]:
    source, target = board.signal.stages[edge.start.thing], board.signal.stages[edge.end.thing]
    about = [thing(board, target.name), thing(board, source.name)]
    at = edge.hop.path if edge.hop else ()
    for stage, jack, word in ((source, edge.start.jack, "send"), (target, edge.end.jack, "return")):
        if stage.role is Role.AMP and word in jack and (takes if word == "return" else gives)(stage, jack) in (None, "unknown"):
            question = f"At what level does the loop of `{stage.name}` work? If it has a switch, start at the pedal (instrument) setting."
            yield cannot_tell(Severity.RISK, [thing(board, stage.name)], question, at=at)
            return
    gap = _gap(board, edge)
    if gap is None:
        return
    out, into = gives(source, edge.start.jack), takes(target, edge.end.jack)
    to_return = target.role is Role.AMP and "return" in edge.end.jack and target.name not in loud
    least = limits.LEVEL_SOFT if to_return else limits.LEVEL_WEAK
    hot, weak = over(gap, limits.LEVEL_HOT.value), over(limits.LEVEL_WEAK.value, gap)
    if not hot and not over(least.value, gap):
        yield clear(*about)
        return
    soft = "far too soft for that input: you hear mostly hiss" if weak else "soft for that input: the amplifier is not driven as it should be, and hisses more"
    said = "it is far too loud for that input, and distorts" if hot else f"it is {soft}"
    yield trips(
        Severity.RISK if hot or weak else Severity.ADVICE,
        about,
        f"`{source.name}` gives {out} level and `{target.name}` is made for {into}, {tell(abs(gap), 'dB')} {'below' if hot else 'above'}: {said}.",
        "Put a pad, a reamp box or a level switch between." if hot else "Put a preamplifier or a boost between, or use an instrument input.",
        [number("apart", figure(gap, "dB")), limit("too loud from", limits.LEVEL_HOT), limit("too soft from", least)],
        at=at,
    )
