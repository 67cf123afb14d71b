"""Switch out of reach.

## What it finds
Footswitches too far back, footswitches behind something taller, and often-used boxes behind rarely used ones.

## Why it matters
If your heel has to leave the floor, you will hit the wrong switch. Back rows need to be lifted above what stands in front.

## How it decides
A risk if a footswitch that a foot uses is further from the front edge than {{ limit reach-standing }} (sitting:
{{ limit reach-sitting }}) on a row that is raised less than {{ limit reach-rise }}; and if something within
{{ limit toe-room }} in front of it, in the breadth of a shoe ({{ limit shoe-breadth }}), stands more than
{{ limit taller-by }} above it. Knobs count there only where `knob_height` is stated. Advice if a box with `use: often` is in
the middle third of a row behind one with `use: rare`.

## How to mend it
Raise the row, put a remote switcher in front, bring what is used most to the front and outside.

## Source
Common practice; no published source. The shoe's breadth is from foot breadth, 50th percentile of men (ANSUR II).
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box, Foot
from boardwright.board.layout.layout import NEAR
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, clear, limit, over, trips


@rule(Severity.RISK, Severity.ADVICE, lesson="feet-and-lids", explained_by=("boxes-overlap",), whole_matter=True)
def switch_out_of_reach(board: Board) -> Iterator[Judgement]:
    standing = board.layout.standing
    for box in standing:
        if not box.stepped[0]:
            continue
        judged = [found for foot in box.feet if (found := _far(board, box, foot) or _hidden(box, foot, board.layout.near(box, NEAR))) is not None]
        hidden_by_use = _behind_rare(board, box, standing)
        if judged:
            yield judged[0]
        elif hidden_by_use is not None:
            yield hidden_by_use
        else:
            yield clear(of_box(box))


def _far(board: Board, box: Box, foot: Foot) -> Judgement | None:
    sitting = board.spec.board is not None and board.spec.board.player == "sitting"
    reach = limits.REACH_SITTING if sitting else limits.REACH_STANDING
    if not over(foot.point[1], reach.value) or not over(limits.REACH_RISE.value, box.rise):
        return None
    return trips(
        Severity.RISK,
        [of_box(box)],
        f"The footswitch of `{box.name}` is {mm(foot.point[1])} from the front edge and raised only {mm(box.rise)}: the heel has to leave the floor.",
        f"Raise its row by {mm(limits.REACH_RISE.value)} or more, or bring it nearer.",
        [size("from the front", foot.point[1], foot.origin), limit("reach", reach), size("rise", box.rise)],
    )


def _hidden(box: Box, foot: Foot, neighbours: list[Box]) -> Judgement | None:
    x, y = foot.point
    half = limits.SHOE_BREADTH.value / 2
    for other in neighbours:
        rect = other.footprint
        if rect is None or rect.left >= x + half or rect.right <= x - half:
            continue
        before = y - rect.back
        top = other.rise + other.knobs_stated
        if before >= -1e-9 and over(limits.TOE_ROOM.value, before) and over(top, box.top + limits.TALLER_BY.value):
            return trips(
                Severity.RISK,
                [of_box(box), of_box(other)],
                f"`{other.name}` stands {mm(before)} in front of the footswitch of `{box.name}` and {mm(top - box.top)} higher: the toe meets its knobs first.",
                f"Raise the row of `{box.name}` by {mm(top - box.top)} or more, or let them change places.",
                [size("in front of it", before, foot.origin), size("higher by", top - box.top), limit("toe room", limits.TOE_ROOM)],
            )
    return None


def _behind_rare(board: Board, box: Box, standing: list[Box]) -> Judgement | None:
    width = board.layout.deck.width
    if getattr(box.section, "use", None) != "often" or box.row is None or width is None or box.footprint is None:
        return None
    if not width / 3 <= box.footprint.middle[0] <= 2 * width / 3:
        return None
    for other in standing:
        if getattr(other.section, "use", None) == "rare" and other.row is not None and other.row.number < box.row.number:
            return trips(
                Severity.ADVICE,
                [of_box(box), of_box(other)],
                f"`{box.name}` is used often and stands in the middle of a row behind `{other.name}`, which is used rarely.",
                "Let them change places: what is used most belongs to the front and outside.",
            )
    return None
