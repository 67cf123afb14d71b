"""No residual-current protection.

## What it finds
Mains used outdoors, in the damp or from a generator without a residual-current device (RCD, GFCI) of
{{ limit rcd-trip }} or less; indoors, the lack of one as an advice; and one that would trip for nothing.

## Why it matters
The device compares what goes out with what comes back, and cuts off in a blink if some of it is returning through you.
Outdoors, with wet ground under your feet, that is the difference.

## How it decides
Outdoors, damp or on a generator: `rcd: none`, or one that trips at more than {{ limit rcd-trip }}, is a danger; not stated is
asked about before anything is switched on. Indoors, `rcd: none` is an advice, and not stated is only counted. If the usual
leakage of everything with a mains cord adds up to more than {{ limit rcd-share }} of the trip current, it may trip for nothing:
{{ limit leakage-switch-mode }} for a switch-mode supply of class II, {{ limit leakage-class-one }} for an audio unit of class I,
{{ limit leakage-class-two }} for one of class II. That is an advice unless it was measured.

## How to mend it
A portable device at the first outlet, of type A or better since electronic supplies draw their current in gulps, and its test
button before every outdoor show. If it trips, find out why; going
without it is no answer. Outdoors, ask a qualified person who works to the local electrical code before you plug in.

## Source
IEC 61008 and 61009 (30 mA); IEC 60364-4-41; UL 943 (about 5 mA). The third of the trip current is that of BS 7671.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.rules.wall import UNSURE, defer
from boardwright.spec.fields import NOTHING, YesNo
from boardwright.spec.figure import Figure, figure, weakest

_INDOORS = ("home", "studio")


@rule(Severity.DANGER, Severity.RISK, Severity.ADVICE, lesson="the-wall")
def no_residual_current_protection(board: Board) -> Iterator[Judgement]:
    place = board.spec.place
    items = [item for item in board.wall.items.values() if item.says_mains]
    if place is None or not (items or board.wall.described or place.rcd is not None or place.outdoor):
        return
    thing = Thing("place", ("place",))
    wet = _wet(board)
    rcd = place.rcd
    protects = isinstance(rcd, Figure) and rcd.known and not over(rcd.value, limits.RCD_TRIP.value)
    lacks = rcd == NOTHING or (isinstance(rcd, Figure) and rcd.known and not protects)
    ask = (
        f"Is there a residual-current device of {limits.RCD_TRIP.value * 1000:g} mA or less ahead of everything, wherever this is played outdoors, "
        f"in the damp or from a generator? {UNSURE}"
    )
    if lacks and wet:
        yield _unprotected(thing, rcd)
    elif lacks and wet is None:
        yield cannot_tell(Severity.DANGER, [thing], ask)
    elif lacks:
        yield trips(
            Severity.ADVICE,
            [thing],
            "There is no residual-current device ahead of this rig. It costs little and cuts off in a blink if current returns through a person.",
            defer("A portable one goes between the outlet and everything else."),
            at=("place", "rcd"),
        )
    elif not protects:
        yield cannot_tell(Severity.DANGER if wet else Severity.ADVICE, [thing], ask)
    else:
        assert isinstance(rcd, Figure)
        yield _leaks(board, thing, rcd) or clear(thing, severity=Severity.DANGER)


def _wet(board: Board) -> bool | None:
    """Whether it is used where a device is needed; ``None`` where that is not said and may be."""
    place = board.spec.place
    assert place is not None
    said = (place.outdoor, place.damp, place.generator)
    if YesNo.YES in said:
        return True
    if YesNo.UNKNOWN in said:
        return None
    return False if place.outdoor is YesNo.NO or board.purpose in _INDOORS else None


def _unprotected(thing: Thing, rcd: Figure | str | None) -> Judgement:
    there = f"The residual-current device trips at {rcd} only" if isinstance(rcd, Figure) else "There is no residual-current device"
    return trips(
        Severity.DANGER,
        [thing],
        f"{there}, and this is used outdoors, in the damp or from a generator. If current returns through a person, nothing cuts it off in time.",
        defer("Do not plug in there without one at the first outlet, and ask a licensed electrician about the supply itself."),
        [limit("trips at no more than", limits.RCD_TRIP)],
        at=("place", "rcd"),
    )


def _leaks(board: Board, thing: Thing, rcd: Figure) -> Judgement | None:
    items = [item for item in board.wall.items.values() if item.says_mains]
    leakage = figure(sum(item.leakage.value for item in items), "A", weakest(item.leakage.origin for item in items))
    if not over(leakage.value, rcd.value * limits.RCD_SHARE.value):
        return None
    measured = all(getattr(item.section, "leakage", None) is not None for item in items)
    return trips(
        Severity.RISK if measured else Severity.ADVICE,
        [thing],
        f"{listed([item.name for item in items])} leak about {leakage} to earth together, in the ordinary course of things. A "
        f"device of {rcd} may trip for nothing.",
        defer("Spread the rig over two devices, with whatever is joined by a lead on the same one. Never go without."),
        [number("leakage", leakage), number("trips at", rcd), limit("share in use at most", limits.RCD_SHARE)],
        at=("place", "rcd"),
    )
