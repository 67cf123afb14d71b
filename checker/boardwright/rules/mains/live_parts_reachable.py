"""Live parts can be touched.

## What it finds
Mains that a finger or a dropped coin could reach: an open enclosure, one that opens without a tool, a damaged cord, a
lead whose bare pins become live, a valve pedal with its cover off.

## Why it matters
If something can be touched, one day it will be. Pins that stick out must never be the live side.

## How it decides
The enclosure's degree of protection must begin with {{ limit finger-proof }} or more, and it must open only with a tool. A
cord must be sound, with its pins at the end towards the wall. A pedal with valves must have its cover on. Mains parts of
unknown make that do not state how they are closed are asked about before anything is switched on. Nobody writes down damage that
nobody has looked for, so one line asks for a look over all that plugs into the wall, until `looked_over: yes` says that it was done.

## How to mend it
Leave it unplugged, and do not use it again until a qualified person has closed it under the local electrical code.
A damaged cord is thrown away, not taped.

## Source
IEC 60529 (IP2X, the test finger); IEC 61140; IEC 62368-1.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.mains import Link
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, trips
from boardwright.rules.wall import UNSURE, State, ask_look_over, ask_mains, closure, defer, look_over, of_link, of_look_over, of_mains
from boardwright.spec.fields import YesNo
from boardwright.spec.sections.mains import Cord


@rule(Severity.DANGER, lesson="the-wall")
def live_parts_reachable(board: Board) -> Iterator[Judgement]:
    yield from _enclosure(board)
    for link in board.wall.links.values():
        if isinstance(link.section, Cord):
            yield from _cord(link, link.section)
    for name, pedal in board.spec.pedals.items():
        if pedal.cover in ("off", "unknown"):
            yield _pedal(name, pedal.kind, pedal.cover)
    if (looked := look_over(board)) is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_look_over(board)], ask_look_over(board))
    elif looked is State.RIGHT:
        yield clear(of_look_over(board), severity=Severity.DANGER)


def _enclosure(board: Board) -> Iterator[Judgement]:
    state = closure(board)
    box = board.wall.section.enclosure
    if state is State.WRONG and box is not None:
        why = []
        numbers: list[Number] = []
        if box.ip is not None and box.ip.solid is not None and box.ip.solid < limits.FINGER_PROOF.value:
            why.append(f"its openings let a finger in ({box.ip.text})")
            numbers.append(limit("first digit at least", limits.FINGER_PROOF))
        if box.needs_tool is YesNo.NO:
            why.append("it opens without a tool")
        if box.damaged:
            why.append("it is damaged")
        yield trips(
            Severity.DANGER,
            [Thing("enclosure", ("mains", "enclosure"))],
            f"Somebody can touch mains inside this enclosure: {', and '.join(why)}.",
            defer("Leave it unplugged, and have a qualified person close or replace it."),
            numbers,
        )
    elif state is State.UNSHOWN:
        yield cannot_tell(Severity.DANGER, [of_mains(board)], ask_mains(board))
    elif state is State.RIGHT:
        yield clear(of_mains(board), severity=Severity.DANGER)


def _cord(link: Link, cord: Cord) -> Iterator[Judgement]:
    thing = of_link(link)
    if cord.damaged:
        yield trips(
            Severity.DANGER,
            [thing],
            f"The cord `{link.name}` is damaged. What should be inside can be touched, or will be soon.",
            defer("Unplug it at the wall first, then throw it away and buy a factory-made one of the same rating."),
            at=(*link.path, "damaged"),
        )
    elif cord.ends is not None and cord.ends[1] == "plug":
        yield trips(
            Severity.DANGER,
            [thing],
            f"The cord `{link.name}` has pins at the end that is away from the wall. Once it is plugged in, those bare pins are live.",
            defer("Unplug it at the wall end first, cut it up and throw it away. No arrangement of such a lead is sound."),
            at=(*link.path, "ends"),
        )
    elif cord.damaged is YesNo.UNKNOWN:
        yield cannot_tell(Severity.DANGER, [thing], f"Is the cord `{link.name}` sound from end to end: sheath, plug and connector? {UNSURE}")
    elif cord.ends is not None or cord.damaged is YesNo.NO:
        yield clear(thing, severity=Severity.DANGER)


def _pedal(name: str, kind: str | None, cover: str) -> Judgement:
    thing = Thing(name, ("pedals", name))
    if cover == "off" and kind == "valve-preamp":
        return trips(
            Severity.DANGER,
            [thing],
            f"`{name}` has valves and stands open. Hundreds of volts may be inside, and they stay for a while after the plug is out.",
            defer("Unplug it and put its cover on before it is powered again; leave work inside it to a qualified person."),
        )
    if cover == "off" and kind not in (None, "unknown", "other", "preamp"):
        return clear(thing, severity=Severity.DANGER)
    return cannot_tell(Severity.DANGER, [thing], f"Is the cover of `{name}` on, or does it hold no valve and nothing above 60 volts? {UNSURE}")
