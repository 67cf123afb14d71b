"""More than one mains lead feeds the board.

## What it finds
A board that needs two or more mains leads to work; and one enclosure that two inlets feed.

## Why it matters
One lead in, one switch off. With two, one gets left at home, both can bring an earth of their own, and the board can be
half live when everybody believes that it is off. Two into one enclosure is worse: the one that is pulled leaves the other's
parts live inside.

## How it decides
It counts the mains leads that come to the board: inlets, and supplies with a mains cord that stand on or below the deck. What
hangs on one block or one inlet counts once. A supply that stays off the board brings no mains to it. More than one lead
is a risk on a board for stage or tour. Two inlets with one enclosure are a danger anywhere.

## How to mend it
One inlet with factory-made distribution behind it, or one low-voltage lead from a supply that stays off the board. What
happens at mains voltage is for a qualified person, under the local electrical code.

## Source
The principle of isolation in wiring rules (IEC 60364-5-53); for the count, common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, trips
from boardwright.rules.wall import defer, of_item, of_link
from boardwright.spec.sections.mains import Inlet


@rule(Severity.DANGER, Severity.RISK, lesson="the-wall")
def more_than_one_mains_inlet(board: Board) -> Iterator[Judgement]:
    wall = board.wall
    inlets = [link for link in wall.links.values() if isinstance(link.section, Inlet)]
    fed = {item.name for inlet in inlets for item in wall.behind(inlet.name)}
    own = [item for item in wall.supplies_on_board if item.says_mains and item.name not in fed]
    leads: dict[str, Thing] = {}
    for thing in [*map(of_link, inlets), *map(of_item, own)]:
        way = wall.way(thing.name)
        leads.setdefault(way[-1].name if way else thing.name, thing)
    things = list(leads.values())
    names = listed([thing.name for thing in things]) if things else ""
    if len(inlets) > 1 and wall.section.enclosure is not None:
        yield trips(
            Severity.DANGER,
            things,
            f"Mains comes into one enclosure by {len(inlets)} inlets, {listed([link.name for link in inlets])}. With one of them "
            "pulled, parts inside are still live.",
            defer("Leave it unplugged, and have a qualified person bring it down to one inlet."),
        )
    elif len(things) > 1 and board.is_for_stage:
        yield trips(
            Severity.RISK,
            things,
            f"This board needs {len(things)} mains leads: {names}. One of them will be forgotten, and one switch no longer turns it all off.",
            defer("Come down to one: a single inlet with factory-made distribution, or one supply for all."),
        )
    elif things:
        yield clear(*things, severity=Severity.RISK)
