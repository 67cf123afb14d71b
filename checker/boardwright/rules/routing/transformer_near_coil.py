"""Transformer near a coil.

## What it finds
Supplies with a transformer inside near boxes with a coil inside, such as a wah or an audio transformer.

## Why it matters
A wah contains a coil, and a coil is an ear for magnetism. Put it over a mains transformer and it sings the mains note as
you rock it.

## How it decides
The distance between their nearest faces: at least {{ limit field-laminated }} from a plain iron core,
{{ limit field-toroid }} from a ring core, {{ limit field-switch-mode }} from a switch-mode supply. A supply of unknown kind
that weighs more than {{ limit heavy-supply }} is taken for iron, a lighter one for switch-mode. The field falls with the
cube of distance: twice as far is 18 dB less.

## How to mend it
Move it to the far end, turn it (a quarter turn can gain 20 dB), or use a switch-mode supply.

## Source
Physics: field of a dipole. The distances and fields are orders of magnitude from the bench.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.boxes import Box
from boardwright.limits import Limit
from boardwright.physics.fields import dipole_field
from boardwright.rules.layout._shared import mm, of_box, size
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Origin, tell
from boardwright.spec.sections.supplies import Supply

BOUNDS: dict[str, tuple[Limit, Limit | None, str]] = {
    "linear-laminated": (limits.FIELD_LAMINATED, limits.FIELD_OF_LAMINATED, "a transformer on a plain iron core"),
    "linear-toroid": (limits.FIELD_TOROID, limits.FIELD_OF_TOROID, "a ring-core transformer"),
    "switch-mode": (limits.FIELD_SWITCH_MODE, None, "a switch-mode converter"),
}


@rule(Severity.RISK, lesson="leads-and-routes", explained_by=("isolation-transformer-misplaced",), whole_matter=True)
def transformer_near_coil(board: Board) -> Iterator[Judgement]:
    placed = board.layout.placed
    for coil in placed:
        if not _has_coil(coil):
            continue
        judged = [found for box in placed if box.is_supply and (found := _judge(board, coil, box)) is not None]
        yield from judged
        if not judged and any(box.is_supply for box in placed):
            yield clear(of_box(coil))


def _has_coil(box: Box) -> bool:
    stated = getattr(box.section, "coil", None)
    return bool(stated) if stated in (YesNo.YES, YesNo.NO) else box.kind.coil


def _judge(board: Board, coil: Box, box: Box) -> Judgement | None:
    kind, origin = _kind(box)
    if kind not in BOUNDS:
        return None
    bound, field, what = BOUNDS[kind]
    distance = _distance(board, coil, box)
    if not over(bound.value, distance):
        return None
    numbers = [size("apart", distance, min(coil.size_origin, box.size_origin)), limit("at least", bound)]
    if field is not None:
        at = max(distance, 0.01)
        flux = dipole_field(at, field.value, limits.FIELD_AT.value)
        numbers.append(Number("field about", tell(flux, "T", 2), flux, "T", Origin.ASSUMED.word))
    assumed = " Its kind is assumed." if origin is Origin.ASSUMED else ""
    rocked = ", and sings as it is rocked" if coil.is_treadle else ""
    return trips(
        Severity.RISK,
        [of_box(coil), of_box(box)],
        f"`{coil.name}` has a coil inside and stands {mm(distance)} from `{box.name}`, {what}: it hums{rocked}.{assumed}",
        f"Leave {mm(bound.value)} or more between them: the far end of the board, or a switch-mode supply.",
        numbers,
    )


def _kind(box: Box) -> tuple[str | None, Origin]:
    assert isinstance(box.section, Supply)
    if box.section.kind not in (None, "unknown"):
        return box.section.kind, Origin.STATED
    heavy = box.section.weight is not None and over(box.weight.value, limits.HEAVY_SUPPLY.value)
    return "linear-laminated" if heavy else "switch-mode", Origin.ASSUMED


def _distance(board: Board, coil: Box, supply: Box) -> float:
    """Between their nearest faces (m), in space."""
    assert coil.footprint is not None and supply.footprint is not None
    flat = coil.footprint.distance(supply.footprint)
    top = -board.layout.deck.thickness.value - limits.BRACKET.value if supply.under else supply.top
    return math.hypot(flat, max(0.0, coil.rise - top, supply.rise - coil.top))
