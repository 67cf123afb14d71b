"""Build steps out of order.

## What it finds
A board that was built in an order in which a fault cannot be told from the next one: sound laid before power was measured, a
second row wired before the first was heard, presets before loops.

## Why it matters
Build a little, test a little. If it was good a minute ago, the fault is in what you just added. If three rows were added since,
it may be anywhere.

## How it decides
It goes through `steps` in the order in which they are written. In each row: boxes placed, power laid, power measured, sound laid,
then listened to. A row is listened to before the next one gets its sound. All rows come before loops, loops before presets, presets
before the last amplifiers; shaking comes after everything that is laid, papers come last. It is a risk
if a row was switched on without having been measured, or if the next row was wired before this one was heard; anything else is
advice. Of several, the first is told. Putting boxes down early is allowed.

## How to mend it
Follow the build plan: `boardwright plan` prints it for your board. If it is built already, unplug the later row and test the
earlier one by itself.

## Source
Common practice, no published source; a check of a partial order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, trips
from boardwright.spec.sections.steps import ROW_WORK

_ONCE = ("loop", "preset", "amp")
_SAID = {
    "dry-fit": "the dry fit on paper", "frame": "the frame", "place": "putting boxes down", "power": "laying the power", "meter": "measuring the power",
    "audio": "laying the sound", "listen": "listening", "loop": "the loops", "preset": "the presets", "amp": "the amplifiers", "shake": "shaking", "label": "the labels",
    "papers": "the papers",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Did:
    """A step that was done, and where it stands in the text."""

    number: int
    do: str
    row: int


@rule(Severity.RISK, Severity.ADVICE, lesson="row-by-row")
def build_steps_out_of_order(board: Board) -> Iterator[Judgement]:
    steps = [_Did(number, step.do, step.row or 1) for number, step in board.spec.steps.items() if step.do and step.do != "unknown"]
    if not steps:
        return
    found = _untested(steps) or _inverted(steps)
    yield found or clear(Thing("steps", ("steps",)))


def _untested(steps: list[_Did]) -> Judgement | None:
    """A risk: switched on unmeasured, or wired on while the row before was never heard."""
    before: dict[tuple[str, int], None] = {}
    for step in steps:
        if step.do == "listen" and ("power", step.row) in before and ("meter", step.row) not in before:
            said = f"Row {step.row} was switched on before its power was measured. A reversed lead is found by the box that it destroys."
            return _trips(Severity.RISK, step, said, f"Unplug the boxes of row {step.row} and measure every power plug before it goes back in.")
        if step.do == "audio":
            unheard = next((row for do, row in before if do == "audio" and row < step.row and ("listen", row) not in before), None)
            if unheard is not None:
                said = f"Row {step.row} got its sound before row {unheard} was heard. If something is wrong now, it may be in either."
                return _trips(Severity.RISK, step, said, f"Listen to row {unheard} alone, and go on when it is good.")
        before[step.do, step.row] = None
    return None


def _inverted(steps: list[_Did]) -> Judgement | None:
    """Advice: something that was done later belongs before the first such step."""
    last = {(step.do, step.row): place for place, step in enumerate(steps)}
    for place, step in enumerate(steps):
        late = min((when for when in last.values() if when > place and _belongs_before(steps[when], step)), default=None)
        if late is not None:
            row = f", in row {step.row}," if step.do in ROW_WORK else ""
            first, second = _SAID[step.do], _SAID[steps[late].do]
            said = f"{first[:1].upper()}{first[1:]}{row} came before {second}. The other way round, a fault shows by itself."
            return _trips(Severity.ADVICE, step, said, "Follow the build plan for what is left, and test again what was done too early.")
    return None


def _belongs_before(one: _Did, other: _Did) -> bool:
    """Whether ``one`` should have been done before ``other``."""
    if one.do == "dry-fit":
        return other.do != "dry-fit"
    if one.do == "frame":
        return other.do not in ("dry-fit", "frame", "place")
    if one.do in ROW_WORK and other.do in ROW_WORK:
        return one.row == other.row and ROW_WORK.index(one.do) < ROW_WORK.index(other.do)
    if one.do in ROW_WORK:
        return other.do in (*_ONCE, "shake", "papers")
    if one.do in _ONCE:
        return other.do in (*_ONCE[_ONCE.index(one.do) + 1 :], "shake", "papers")
    return one.do in ("shake", "label") and other.do == "papers"


def _trips(severity: Severity, step: _Did, sentence: str, remedy: str) -> Judgement:
    path = ("steps", step.number)
    return trips(severity, [Thing(f"{step.do} of row {step.row}" if step.do in ROW_WORK else step.do, path)], sentence, remedy, at=path)
