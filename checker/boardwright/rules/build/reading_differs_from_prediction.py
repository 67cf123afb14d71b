"""Reading differs from prediction.

## What it finds
A reading that is not what the board's text leads to: volts, current, ohms, the sound in a preset, latency, polarity, hum, and
whether two grounds are joined.

## Why it matters
The plan predicts what the meter should say. When the two disagree, believe the meter, and find out why before going on. Either
something is built otherwise than it is written, or something is broken.

## How it decides
Each of `readings` is held against what the same sums give that the other rules use: volts within {{ limit reading-volts }}
(with nothing connected, an unregulated adaptor may read up to {{ limit no-load-factor }} times its label), current within
{{ limit reading-current }}, a lead's contacts {{ limit reading-lead }} above what the wire itself has, tip to sleeve more than
{{ limit reading-open }}, latency within {{ limit reading-latency }}. Grounds that metal joins show less than {{ limit reading-joined }},
or what their screens have; grounds that are apart more than {{ limit reading-apart }}. Those are taken with every mains plug pulled.
Where the checker can predict nothing, your own `expect` counts. A finding names the two or three causes that such a reading tells
apart.

## How to mend it
By cause, the likeliest first. Where the meter and the text disagree about whether two grounds are joined, the meter is right:
correct the text, and read what the other rules say then. Nothing is ever measured at mains voltage: your local electrical code and
a qualified person come before that.

## Source
Measurement practice, no published source for the windows. Physics: Ohm's law; wire and contacts as in the other rules.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.bench.expected import Expected
from boardwright.board.bench.taken import Taken, taken
from boardwright.rules.build._causes import causes
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, number, trips
from boardwright.spec.figure import Figure, Origin
from boardwright.spec.sections.readings import WORDS

_WORDS = {"volts": "the voltage", "current": "the current", "ohms": "the resistance", "sound": "the sound", "polarity": "the polarity", "latency": "the latency"}


@rule(Severity.FAULT, lesson="row-by-row")
def reading_differs_from_prediction(board: Board) -> Iterator[Judgement]:
    for each in taken(board):
        about = [Thing(name, each.path) for name in each.where]
        agrees = each.agrees
        if agrees is None:
            what = _WORDS.get(each.reading.what or "", "this")
            yield cannot_tell(Severity.FAULT, about, f"What should {what} at `{each.name}` be? It cannot be worked out from the text: write `expect`.")
        elif agrees:
            yield clear(*about, severity=Severity.FAULT)
        else:
            yield trips(Severity.FAULT, about, _sentence(each), _remedy(each), _numbers(each))


def _sentence(each: Taken) -> str:
    due = _due(each)
    names = " and ".join(f"`{name}`" for name in each.where)
    return f"{'Between' if len(each.where) == 2 else 'At'} {names} you read {_shown(each)}; due was {due}. It can mean: {'; '.join(causes(each))}."


def _shown(each: Taken) -> str:
    got = str(each.got)
    how = {"no-load": "with nothing connected", "loaded": "with everything on", "flexed": "while it was bent", "unplugged": "unplugged"}.get(each.reading.condition or "")
    of = f" {each.reading.of.replace('-', ' ')}" if each.reading.of and each.reading.of != "all" else ""
    word = f"`{got}`" if got in WORDS else got
    return word + of + (f" {how}" if how else "") + (f" in preset `{each.reading.preset}`" if each.reading.preset else "")


def _due(each: Taken) -> str:
    if not each.expected:
        return str(each.due)
    return " or ".join(dict.fromkeys(found.window for found in each.expected if found.agrees(each.got) is not True))


def _remedy(each: Taken) -> str:
    if len(each.where) == 2:
        return "Believe the meter: find the way that it found, correct the text, and look at what the earth rules say then."
    first = {"volts": "Leave it unplugged until you know.", "current": "Unplug it if it is warm."}.get(each.reading.what or "", "")
    return f"{first} Try the causes in this order, and measure again before you go on.".strip()


def _numbers(each: Taken) -> list[Number]:
    found: list[Number] = []
    if isinstance(each.got, Figure):
        found.append(number("read", each.got.as_(Origin.MEASURED)))
    for expected in each.expected[:1]:
        found += _of_expected(expected)
    return found


def _of_expected(expected: Expected) -> list[Number]:
    ends = (("expected", expected.value), ("at least", expected.low), ("at most", expected.high))
    return [number(name, Figure(value, value, expected.unit, expected.origin)) for name, value in ends if value is not None]
