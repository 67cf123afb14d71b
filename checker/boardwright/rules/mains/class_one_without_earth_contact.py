"""A class I unit does not get its earth.

## What it finds
An amplifier or supply with an earth pin whose earth ends somewhere on the way to the wall: in a two-core cord, a travel
adaptor, a block or an outlet without earth contacts.

## Why it matters
Three-pin gear needs three pins all the way to the wall. The earth pin is there for the day on which a live wire comes
loose inside. A holiday adaptor often has only two.

## How it decides
It follows the way of each unit of class I through its cord, adaptors, blocks and inlets, and trips where one of them has no
earth contact. A valve amplifier that states no class counts as class I. The way is clear if its cord is stated to have three
cores and no lifted earth, and nothing else on it drops the earth. An amplifier implies its cord; if nothing is said of that, it is asked about
once, before anything is switched on. Class II needs no earth.

## How to mend it
Leave it unplugged until the way is whole: a factory-made three-core cord, an earthed block, an adaptor with earth contacts.
An outlet that may have no earth is for a licensed electrician, under the local electrical code.

## Source
IEC 61140 (class I); IEC 60884 family for plugs and outlets; IEC 60320: couplers C7/C8, C17/C18 have no earth.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.mains import Item, Link
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.rules.wall import UNSURE, ask_item, defer, earth_shown, of_item, of_link
from boardwright.spec.figure import Origin
from boardwright.spec.sections.mains import Adaptor, Block, Cord, Inlet


@rule(Severity.DANGER, lesson="the-wall")
def class_one_without_earth_contact(board: Board) -> Iterator[Judgement]:
    for item in board.wall.items.values():
        if item.says_mains:
            yield from _judged(board, item)
    for link in board.wall.links.values():
        if isinstance(link.section, Adaptor) and not board.wall.behind(link.name):
            yield _loose(link)


def _judged(board: Board, item: Item) -> Iterator[Judgement]:
    protection, origin = item.protection
    shown = earth_shown(board, item)
    broken = next((link for link in board.wall.way(item.name) if link.lacks_earth_contact), None)
    if protection in ("II", "III"):
        yield clear(of_item(item), severity=Severity.DANGER)
    elif shown is False and broken is None and any(link.lifted for link in board.wall.way(item.name)):
        return  # `mains-earth-lifted` says it
    elif shown is False and protection == "I":
        yield _missing(item, broken, origin)
    elif shown is True:
        yield clear(of_item(item), severity=Severity.DANGER)
    elif item.says_mains:
        yield cannot_tell(Severity.DANGER, [of_item(item)], ask_item(board, item))


def _missing(item: Item, broken: Link | None, origin: Origin) -> Judgement:
    assuming = " (assumed: it is a valve amplifier)" if origin is Origin.ASSUMED else ""
    things = [of_item(item), of_link(broken)] if broken else [of_item(item), Thing("place", ("place", "circuits"))]
    where = f"its earth ends at {_named(broken)}" if broken else "the outlet has no earth"
    return trips(
        Severity.DANGER,
        things,
        f"`{item.name}` is of class I{assuming} and relies on its earth, and {where}. After one fault inside, its metal, the strings "
        "and the microphone can be live.",
        defer("Leave it unplugged until three pins reach the wall: an earthed adaptor or block, a factory-made three-core cord."),
        at=broken.path if broken else (),
    )


def _named(link: Link) -> str:
    if isinstance(link.section, Cord):
        return f"the two-core cord `{link.name}`" if link.section.cores == 2 else f"the cord `{link.name}`"
    sort = {Inlet: "inlet", Block: "block", Adaptor: "adaptor"}[type(link.section)]
    return f"the {sort} `{link.name}`, which has no earth contact"


def _loose(link: Link) -> Judgement:
    """An adaptor with nothing said to be in it."""
    if link.lacks_earth_contact is False:
        return clear(of_link(link), severity=Severity.DANGER)
    question = f"Does the adaptor `{link.name}` carry the earth through, for everything with three pins that is plugged into it? {UNSURE}"
    return cannot_tell(Severity.DANGER, [of_link(link)], question)
