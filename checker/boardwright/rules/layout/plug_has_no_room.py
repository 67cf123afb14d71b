"""Plug has no room.

## What it finds
Boxes that stand so close that the plugs between them do not fit; rows that fit only without plugs; and plugs in
screwed-down boxes that cannot be drawn out.

## Why it matters
Boxes fit edge to edge; plugs do not. Leave room for both plugs, and for fingers.

## How it decides
A flat plug stands out {{ limit plug-flat }}, an angled one {{ limit plug-angled }}, a straight one
{{ limit plug-straight }} and {{ limit plug-bend }} times the cable's diameter; power plugs {{ limit dc-plug-angled }}
angled, {{ limit dc-plug-straight }} straight. Where two plugs meet on one line (their bodies are {{ limit plug-width }}
broad) the gap must hold both, elsewhere the longer one. Without offsets, sockets are taken to line up; without a word about
plugs they are flat; without `jacks` the sound goes in on the right and out on the left. Where both boxes are screwed down,
a plug that cannot be drawn back by {{ limit plug-travel }} is a risk. The lead to a guitar or an amplifier has straight
plugs unless it says otherwise; where only an angled one fits, that is advice.

## How to mend it
Flat plugs, boxes shifted so that their sockets miss each other, or boxes with sockets at the rear.

## Source
Geometry; the plugs are common ones, measured on a bench. Measure yours.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.plugs import Squeeze
from boardwright.rules import things
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.figure import Origin


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="feet-and-lids", explained_by=("boxes-overlap",), whole_matter=True)
def plug_has_no_room(board: Board) -> Iterator[Judgement]:
    layout = board.layout
    for row in layout.overfull:
        if not over(row.bare, row.width):
            names = things.listed([box.name for box in row.boxes])
            yield trips(
                Severity.FAULT,
                [of_box(box) for box in row.boxes],
                f"Row {row.row.number} holds {names} only without plugs: with room for plugs and feet they need {mm(row.needed)}, and it has {mm(row.width)}.",
                "Use flat plugs or boxes with sockets at the rear, or move a box to another row.",
                [size("needed", row.needed, Origin.ASSUMED), size("row", row.width)],
            )
    for box in layout.standing:
        judged = [found for each in _worst(layout.squeezes[box.name]) if (found := _judge(board, box, each)) is not None]
        yield from judged
        if not judged and layout.plugs.get(box.name):
            yield clear(of_box(box))


def _worst(met: list[Squeeze]) -> list[Squeeze]:
    """The worst towards each neighbour. Of two plugs that meet, the one on the right or rear side tells it for both."""
    worst: dict[tuple[str, str], Squeeze] = {}
    for each in met:
        if each.facing is None or each.plug.socket.side in ("right", "rear"):
            key = (each.other.name, each.plug.socket.side)
            if key not in worst or each.gap - each.needed < worst[key].gap - worst[key].needed:
                worst[key] = each
    return list(worst.values())


def _judge(board: Board, box: Box, squeeze: Squeeze) -> Judgement | None:
    plug, other = squeeze.plug, squeeze.other
    numbers: list[Number] = [size("gap", squeeze.gap), size("needed", squeeze.needed, squeeze.origin)]
    about = [of_box(box), of_box(other)]
    if over(squeeze.needed - limits.PLACE_SLACK.value, squeeze.gap):
        if (angled := _would_fit_angled(squeeze)) is not None:
            return trips(
                Severity.ADVICE,
                about,
                f"Between `{box.name}` and `{other.name}` there are {mm(squeeze.gap)}: the lead `{plug.lead.joins}` wants an angled plug there, "
                f"since a straight one needs {mm(squeeze.needed)}.",
                f"Use a lead with an angled plug at that end, which needs {mm(angled)}, and write its `ends`.",
                numbers,
            )
        return trips(Severity.FAULT, about, _sentence(box, squeeze), _remedy(squeeze), numbers)
    if _is_screwed(board, box) and _is_screwed(board, other) and plug.lead.carries == "audio":
        out = squeeze.needed + limits.PLUG_TRAVEL.value
        if over(out - limits.PLACE_SLACK.value, squeeze.gap):
            return trips(
                Severity.RISK,
                about,
                f"The plug on the {plug.socket.side} of `{box.name}` goes in, and does not come out while both boxes are screwed down: "
                f"it needs {mm(out)} towards `{other.name}` and has {mm(squeeze.gap)}.",
                "Leave more room there, or hold one of the two so that it can be lifted off.",
                [*numbers, limit("to draw it out", limits.PLUG_TRAVEL)],
            )
    return None


def _would_fit_angled(squeeze: Squeeze) -> float | None:
    """What would be needed (m) with angled plugs on leads that leave the board and state none, if that fits."""
    needed = 0.0
    for plug in (squeeze.plug, squeeze.facing):
        if plug is not None:
            free = plug.lead.leaves_board and plug.end.shape_origin is Origin.ASSUMED
            needed += min(plug.reach, limits.PLUG_ANGLED.value) if free else plug.reach
    fits = not over(needed - limits.PLACE_SLACK.value, squeeze.gap)
    return needed if fits else None


def _sentence(box: Box, squeeze: Squeeze) -> str:
    plug, facing = squeeze.plug, squeeze.facing
    gap = f"Between `{box.name}` and `{squeeze.other.name}` there are {mm(squeeze.gap)}"
    lined_up = squeeze.plug.socket.offset is None or (facing is not None and facing.socket.offset is None)
    if facing is not None:
        assuming = ", taking their sockets to be in line" if lined_up else ""
        return f"{gap}; the {plug.end.shape} and the {facing.end.shape} plug that meet there need {mm(squeeze.needed)}{assuming}."
    return f"{gap}; the {plug.end.shape} plug there needs {mm(squeeze.needed)}."


def _remedy(squeeze: Squeeze) -> str:
    short = squeeze.needed - squeeze.gap
    shapes = {squeeze.plug.end.shape, squeeze.facing.end.shape if squeeze.facing else "flat"}
    flatter = ", use flat plugs" if shapes != {"flat"} and squeeze.plug.lead.carries == "audio" else ""
    return f"Move them {mm(short)} further apart{flatter}, or shift one so that the sockets miss each other."


def _is_screwed(board: Board, box: Box) -> bool:
    fixing = board.spec.board.fixing if board.spec.board else None
    return (box.section.held_by or fixing) in ("screws", "brackets")
