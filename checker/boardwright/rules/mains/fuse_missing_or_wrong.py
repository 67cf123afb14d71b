"""The fuse is missing, bridged or of the wrong value.

## What it finds
Mains on the board without a fuse, or behind something that stands in for one; a fuse that lets more through than the
thinnest conductor behind it carries; a fuse that will blow for nothing.

## Why it matters
A fuse protects the wire. Bigger is not better: it must give up before the thinnest wire does.

## How it decides
For each inlet, and each block that states a fuse, it looks for the smallest rating among the inlet itself and every cord and
block behind it. A greater fuse is a danger; so is one that is bridged, and none at all in mains parts that somebody made
at home. A fuse that is less than {{ limit fuse-margin }} times the steady current, or a fast one ahead of
supplies and transformers, is a risk of dark stages. Conductors whose rating nobody states are asked about where the fuse is
greater than {{ limit any-rating }}.

## How to mend it
The value and the letter that are printed on the unit, and no other. If they are not known, or something was standing
in for the fuse, leave it unplugged and ask a qualified person, who works to the local electrical code.

## Source
IEC 60127 (miniature fuses); IEC 60364-4-43 (protection of conductors). The margin is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules.mains._currents import Guard, ask_about, branches, fuse_unshown, guards
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.rules.wall import defer, of_link
from boardwright.spec.figure import figure, tell


@rule(Severity.DANGER, Severity.RISK, lesson="the-wall")
def fuse_missing_or_wrong(board: Board) -> Iterator[Judgement]:
    for guard in guards(board):
        yield _judged(board, guard)


def _judged(board: Board, guard: Guard) -> Judgement:
    thing, fuse = of_link(guard.link), guard.fuse
    if fuse_unshown(board, guard):
        return cannot_tell(Severity.DANGER, [thing], ask_about(board, guard.link.name))
    if fuse is None:
        return clear(thing, severity=Severity.DANGER)  # bought as it is, and its maker answers for it
    at = (*guard.link.path, "fuse")
    if not fuse.fitted:
        why = "Something stands in for the fuse of" if fuse.text == "bridged" else "There is no fuse ahead of"
        return trips(
            Severity.DANGER,
            [thing],
            f"{why} `{guard.link.name}`. With a fault behind it the cord is what burns.",
            defer("Leave it unplugged, and have a qualified person fit the fuse that it is made for."),
            at=at,
        )
    if guard.weakest.known and over(fuse.rating.value, guard.weakest.value):
        return trips(
            Severity.DANGER,
            [thing],
            f"The fuse of `{guard.link.name}` lets {fuse.rating} through, and `{guard.weakest_name}` carries {guard.weakest} at most. The cord "
            "gives up before the fuse does.",
            defer("Leave it unplugged, and ask a qualified person which fuse belongs there."),
            [number("fuse", fuse.rating), number("smallest rating behind it", guard.weakest)],
            at,
        )
    return _dark_stage(board, guard) or clear(thing, severity=Severity.DANGER)


def _dark_stage(board: Board, guard: Guard) -> Judgement | None:
    """A fuse that blows for nothing."""
    fuse = guard.fuse
    branch = next((each for each in branches(board) if each.name == guard.link.name), None)
    items = board.wall.behind(guard.link.name)
    assert fuse is not None
    at = (*guard.link.path, "fuse")
    if branch is not None and branch.complete and over(branch.most * limits.FUSE_MARGIN.value, fuse.rating.value):
        return trips(
            Severity.RISK,
            [of_link(guard.link)],
            f"`{guard.link.name}` carries {tell(branch.most, 'A')} steadily behind a fuse of {fuse.rating}. It will blow some night for nothing.",
            defer("Spread the load; do not fit a bigger fuse than the unit names."),
            [
                number("flows", figure(branch.most, "A", branch.origin)),
                number("fuse", fuse.rating),
                limit("fuse against flow at least", limits.FUSE_MARGIN),
            ],
            at,
        )
    if fuse.speed in ("F", "FF") and items:
        return trips(
            Severity.RISK,
            [of_link(guard.link)],
            f"`{guard.link.name}` has a fast fuse ({fuse.text}), and supplies take a gulp of current at switch-on. It will blow "
            "some night for nothing.",
            defer("If the unit itself names a slow one (T) of the same value, that is the one to have; otherwise ask a qualified person."),
            [number("fuse", fuse.rating)],
            at,
        )
    return None
