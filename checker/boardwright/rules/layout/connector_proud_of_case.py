"""Connector proud of the case.

## What it finds
Plugs that meet the wall of the case or a rail of the frame, plugs that stay in and stand out beyond the frame, and a frame
that is larger than its case.

## Why it matters
A plug that sticks out beyond the edge is the first thing to hit the door frame, and the socket behind it takes the blow.

## How it decides
The frame stands in the middle of its case. A plug that stays in for transport needs its whole length to the wall; where
the lead is taken out, {{ limit plug-out }} for the socket's nut is enough. Leads between boxes stay in unless they say
otherwise; leads to a guitar or an amplifier come out. A rail that is as high as the plug stops it. On a board for stage or
tour without a case, a plug that stays in and stands out is a risk, and one that only stands out while you play is advice. Plugs of one
box for which it is equally bad are one finding.

## How to mend it
Move the box in, use an angled plug, or bring the ends to a recessed plate with sockets of its own.

## Source
Geometry; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.deck import CASE, Deck
from boardwright.board.layout.geometry import OUTWARD, Rect
from boardwright.board.layout.plugs import Plug
from boardwright.rules import things
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, limit, over, trips


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="feet-and-lids")
def connector_proud_of_case(board: Board) -> Iterator[Judgement]:
    layout, deck = board.layout, board.layout.deck
    if deck.area is None:
        return
    tight = [side for side in OUTWARD if (wall := deck.wall(side)) is not None and over(-wall, limits.PLACE_SLACK.value)]
    if tight:
        yield _too_large(deck)
        return
    proud: dict[str, Box] = {}
    for box in layout.standing:
        blocked = {id(each.plug) for each in layout.squeezes[box.name]}
        free = [plug for plug in layout.plugs[box.name] if id(plug) not in blocked]
        judged = [found for plug in free if (found := _judge(board, box, plug, deck, deck.area, proud)) is not None]
        yield from _together(judged)
        if free and not judged:
            yield clear(of_box(box))
    if proud:
        names = things.listed(list(proud))
        yield trips(
            Severity.ADVICE,
            [of_box(box) for box in proud.values()],
            f"Plugs in {names} stand out beyond the frame while you play. Nothing is said of a case, or of what protects them.",
            "Bring the ends to a recessed plate, or use angled plugs; describe the case under `board`.",
        )


def _together(judged: list[Judgement]) -> Iterator[Judgement]:
    """What is wrong with the plugs of one box: what is equally bad is said once."""
    for severity in sorted({each.severity for each in judged}, key=lambda each: each.rank):
        first, *rest = (each for each in judged if each.severity is severity)
        same = f"{len(rest)} more of its plugs" if len(rest) > 1 else "one more of its plugs"
        yield first._replace(sentence=f"{first.sentence} The same goes for {same}.") if rest else first


def _judge(board: Board, box: Box, plug: Plug, deck: Deck, area: Rect, proud: dict[str, Box]) -> Judgement | None:
    rect, side = box.footprint, plug.socket.side
    assert rect is not None
    sign = 1 if side in ("right", "rear") else -1
    edge = sign * (area.edge(side) - rect.edge(side))
    stays, _ = plug.lead.stays_in
    if _meets_rail(box, deck.rail(side)) and over(plug.reach - limits.PLACE_SLACK.value, edge):
        return _meets(box, plug, "the frame's rail", edge, plug.reach)
    wall = deck.wall(side)
    if wall is not None:
        needed = plug.reach if stays else limits.PLUG_OUT.value
        if over(needed - limits.PLACE_SLACK.value * stays, edge + wall):
            return _meets(box, plug, "the wall of the case", edge + wall, needed)
        return None
    if not board.is_for_stage or not over(plug.reach, max(edge, 0.0)):
        return None
    if not stays:
        proud[box.name] = box
        return None
    return trips(
        Severity.RISK,
        [of_box(box)],
        f"The plug on the {side} of `{box.name}` stays in and stands {mm(plug.reach - edge)} out beyond the frame, where it is kicked.",
        "Move the box in, use a flat plug, or describe the case that protects it.",
        [size("plug", plug.reach, plug.origin), size("to the edge", edge)],
        at=plug.lead.path,
    )


def _meets(box: Box, plug: Plug, what: str, room: float, needed: float) -> Judgement:
    stays = " stays in for transport and" if plug.lead.stays_in[0] and what != "the frame's rail" else ""
    return trips(
        Severity.FAULT,
        [of_box(box)],
        f"The {plug.end.shape} plug on the {plug.socket.side} of `{box.name}`{stays} needs {mm(needed)} and has {mm(max(room, 0))} to {what}.",
        "Move the box in, use an angled plug, or take the lead out for transport (`stays_in: no`)." if stays else "Move the box in, or use a flat plug.",
        [size("room", max(room, 0)), size("needed", needed, plug.origin)],
        at=plug.lead.path,
    )


def _meets_rail(box: Box, rail: float) -> bool:
    """Whether a rail is as high as the underside of a plug in the middle of the box's height."""
    return rail > box.rise + box.height / 2 - limits.PLUG_WIDTH.value / 2


def _too_large(deck: Deck) -> Judgement:
    assert deck.area is not None and deck.case is not None and deck.case.inside is not None
    width, depth = deck.case.inside[0].value, deck.case.inside[1].value
    return trips(
        Severity.FAULT,
        [Thing("case", CASE)],
        f"The frame is {mm(deck.area.width)} by {mm(deck.area.depth)}, and the case is {mm(width)} by {mm(depth)} inside: it does not go in.",
        "Check both sizes; build a smaller frame or find a larger case.",
        [size("frame", max(deck.area.width, deck.area.depth)), limit("play at least", limits.PLACE_SLACK)],
        at=(*CASE, "inside"),
    )
