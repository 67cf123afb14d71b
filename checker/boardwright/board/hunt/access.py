"""Where fingers get at the sound without lifting boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.signal import Role, Stage
from boardwright.spec.sections.boxes import ALL_JACKS

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

_SIDES = ("side", "left", "right")


def is_accessible(board: Board, name: str) -> bool:
    """Whether a box's plugs can be got at where it stands.

    Sources, amplifiers and switchers can be; a box with jacks behind or in front can; one with jacks at its sides can if the
    places that are described leave a hand's room there, and is taken to stand crowded while none are.
    """
    stage = board.signal.stages.get(name)
    if stage is None or stage.role in (Role.SOURCE, Role.AMP) or stage.role is Role.SWITCHER:
        return True
    return not _has_side_jacks(stage) or _has_room(board, name)


def _has_side_jacks(stage: Stage) -> bool:
    jacks = stage.jacks
    whole = jacks.get(ALL_JACKS)
    named = [jacks[jack] for jack in jacks if jack != ALL_JACKS and jack.startswith(("in", "out"))]
    return any(jack.side in _SIDES for jack in named or ([whole] if whole else []))


def _has_room(board: Board, name: str) -> bool:
    placed = board.layout.standing
    box = next((each for each in placed if each.name == name), None)
    if box is None or box.footprint is None:
        return False
    here, need = box.footprint, limits.PLUG_REACH.value
    for other in placed:
        there = other.footprint
        if other is box or there is None:
            continue
        beside = there.front < here.back and here.front < there.back
        if beside and there.left < here.right + need and here.left - need < there.right:
            return False
    return True
