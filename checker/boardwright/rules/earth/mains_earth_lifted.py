"""A mains earth is lifted.

## What it finds
A mains cord whose protective earth is interrupted on purpose: a missing pin, tape, an adaptor that leaves it out.

## Why it matters
The earth pin is the wire that saves a life when something inside an amplifier comes loose. Without it, strings and
microphone can become a circuit through the player. People have died on stages of a cure for hum, and there is always another one.

## How it decides
Any cord that states `earth_lifted: yes` trips, unless it feeds a unit of class II, which has no earth to lift and is then asked
about. It cannot be accepted or silenced. The ground of the rig is judged as if every protective earth were in place, so a
missing one makes no other finding go away. The ground-lift switch of a direct box or isolator is on the
signal side, and not meant here. Where a cord does not
state that nothing is lifted, or an amplifier's cord is not described at all, it is asked about once.

## How to mend it
Leave the unit unplugged until its earth is whole again: a factory-made three-core cord, and if the unit itself was changed, a
qualified person who works to the local electrical code. Then cure the hum where it belongs, in the audio lead, with an
isolating transformer.

## Source
IEC 61140 and national wiring rules; 29 CFR 1910.334(a)(3) (plugs are not altered); NEC 250.6(D): noise alone is no reason.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.mains import Item, Link
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.rules.wall import UNSURE, ask_item, defer, earth_shown, of_item, of_link
from boardwright.spec.sections.mains import Cord


@rule(Severity.DANGER, lesson="one-earth")
def mains_earth_lifted(board: Board) -> Iterator[Judgement]:
    wall = board.wall
    lifted = [link for link in wall.links.values() if isinstance(link.section, Cord) and link.section.earth_lifted]
    for link in lifted:
        yield _lifted(link, wall.behind(link.name))
    told = {item.name for link in lifted for item in wall.behind(link.name)}
    for item in wall.items.values():
        if item.says_mains and item.name not in told and item.protection[0] not in ("II", "III"):
            cords = [link for link in wall.way(item.name) if isinstance(link.section, Cord)]
            if earth_shown(board, item) is False:
                continue  # it has no earth to lift, and `class-one-without-earth-contact` says so
            if not cords or any(cord.lifted is None for cord in cords):
                yield cannot_tell(Severity.DANGER, [of_item(item)], ask_item(board, item))
            else:
                yield clear(of_item(item), severity=Severity.DANGER)
    for link in wall.links.values():
        if isinstance(link.section, Cord) and link.lifted is None and link.section.cores != 2 and not wall.behind(link.name):
            yield cannot_tell(Severity.DANGER, [of_link(link)], f"Is the protective earth of the cord `{link.name}` whole from end to end? {UNSURE}")


def _lifted(link: Link, items: list[Item]) -> Judgement:
    at = (*link.path, "earth_lifted")
    if items and all(item.protection[0] in ("II", "III") for item in items):
        question = (
            f"What is it that is interrupted in the cord `{link.name}`? `{items[0].name}` is stated to be of class II, which has no earth. {UNSURE}"
        )
        return cannot_tell(Severity.DANGER, [of_item(items[0]), of_link(link)], question, at)
    things = [*map(of_item, items), of_link(link)]
    who = f" of `{items[0].name}`" if items else ""
    return trips(
        Severity.DANGER,
        things,
        f"The mains earth{who} is interrupted in the cord `{link.name}`. After one fault inside, its metal, the strings and the microphone "
        "can be live, and nothing switches off.",
        defer("Leave it unplugged until the earth is whole again. Then cure the hum on the signal side: an isolating transformer in the audio lead."),
        at=at,
    )
