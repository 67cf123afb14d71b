"""Phantom power reaches the board.

## What it finds
A microphone input with 48 V phantom power that is led to the output of a box which was not built to meet it.

## Why it matters
Mixing desks can send 48 volts back up the lead to feed microphones. A pedal's output was not built to receive it.

## How it decides
It looks at leads into XLR inputs of desks and interfaces. If phantom power is on, or nobody knows, a box that says neither
`phantom_ok: yes` nor isolates by a transformer trips, or is asked about. A passive direct box has a transformer, and an
active one is made for it.

## How to mend it
A transformer direct box or a blocking box; phantom power off before plugging.

## Source
IEC 61938 (48 V phantom supply).
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.audio import Hop
from boardwright.board.signal import Stage
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.fields import YesNo


@rule(Severity.FAULT, lesson="levels")
def phantom_power_reaches_board(board: Board) -> Iterator[Judgement]:
    for hop in board.audio.hops:
        amp = board.spec.amps.get(hop.end.thing)
        if amp is not None and (amp.kind in ("desk", "interface") or amp.phantom is not None) and _is_xlr(hop):
            yield _input(board, hop, amp.phantom)


def _is_xlr(hop: Hop) -> bool:
    plug = hop.lead.plug if hop.lead else None
    return "xlr" in (hop.end.jack or "").lower() or "mic" in (hop.end.jack or "").lower() or "xlr" in (plug or "")


def _input(board: Board, hop: Hop, phantom: str | None) -> Judgement:
    about = [thing(board, hop.start.thing), thing(board, hop.end.thing)]
    source = board.signal.stages.get(hop.start.thing)
    if phantom == "off" or source is None or _withstands(source):
        return clear(*about)
    if phantom != "on":
        question = f"Is 48 V phantom power on at `{hop.end}`? Ask the desk operator to switch it off on that channel before you plug in."
        return cannot_tell(Severity.FAULT, about, question, at=hop.path, before_power=True)
    stated = getattr(source.section, "phantom_ok", None)
    if stated is None:
        question = f"May the output of `{hop.start.thing}` meet 48 V phantom power? Its manual says."
        return cannot_tell(Severity.FAULT, about, question, at=hop.path, before_power=True)
    return trips(
        Severity.FAULT,
        about,
        f"`{hop.end}` sends 48 V phantom power up the lead, and the output of `{hop.start.thing}` was not built to meet it.",
        "Put a transformer direct box between, or have phantom power switched off on that channel.",
        at=hop.path,
    )


def _withstands(source: Stage) -> bool:
    section = source.section
    if getattr(section, "phantom_ok", None) is YesNo.YES or getattr(section, "isolating", None) is YesNo.YES:
        return True
    return source.kind_name in ("di", "transformer") and getattr(section, "phantom_ok", None) is not YesNo.NO
