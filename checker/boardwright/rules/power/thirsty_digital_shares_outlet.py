"""Thirsty digital device shares a return with a loud pedal.

## What it finds
A digital device that draws a lot, on one return with a pedal that has a lot of gain.

## Why it matters
Big digital pedals deserve an outlet of their own. It is the cheapest noise cure there is.

## How it decides
It is the plain rule for when nothing can be worked out: a digital device that draws {{ limit thirsty-draw }} or more and
shares a return with any pedal of {{ limit loud-gain }} gain or more. Where `shared-outlet-carries-digital-noise` has
worked out the noise, that finding stands and this one goes under it. Delays, reverbs, loopers, pitch shifters, modellers
and tuners are taken for digital unless they say otherwise.

## How to mend it
An isolated outlet of its own for the digital device.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules import things
from boardwright.rules.power._moves import with_move
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips


@rule(Severity.RISK, lesson="quiet-power", explained_by=("shared-outlet-carries-digital-noise",))
def thirsty_digital_shares_outlet(board: Board) -> Iterator[Judgement]:
    for devices in board.power.pools().values():
        loud = max(devices, key=lambda device: device.gain.value)
        for device in devices:
            if not device.digital[0]:
                continue
            thing, draw = things.of_device(device), device.needs.current
            if len(devices) == 1:
                yield clear(thing)
                continue
            other = loud if loud is not device else max((d for d in devices if d is not device), key=lambda d: d.gain.value)
            if over(limits.LOUD_GAIN.value, other.gain.value):
                yield clear(thing, things.of_device(other))
            elif not draw.known:
                yield cannot_tell(Severity.RISK, [thing, things.of_device(other)], f"How much current does `{device.name}` draw? Read it off the label.")
            elif over(limits.THIRSTY_DRAW.value, draw.value):
                yield clear(thing, things.of_device(other))
            else:
                judged = trips(
                    Severity.RISK,
                    [thing, things.of_device(other)],
                    f"`{device.name}` is digital, draws {draw} and shares a return with `{other.name}`, which turns up whatever noise it meets.",
                    f"Give `{device.name}` an isolated outlet of its own.",
                    [number("draws", draw), limit("thirsty from", limits.THIRSTY_DRAW), number("gain", other.gain), limit("loud from", limits.LOUD_GAIN)],
                    at=device.lines[0].path,
                )
                yield with_move(board, device, judged, alone=True)
