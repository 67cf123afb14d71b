"""What a board weighs, and where it balances."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright import limits
from boardwright.board.layout.boxes import Box
from boardwright.board.layout.layout import Layout
from boardwright.physics.balance import centre_of_gravity
from boardwright.spec.figure import Figure, Origin, weakest


@dataclass(frozen=True, slots=True)
class Load:
    """A box that travels with the board, and what it weighs (g)."""

    box: Box
    weight: Figure


@dataclass(frozen=True, slots=True)
class Lean:
    """A case on its long edge: how far its balance point is from the middle of its ``height``, and how high ``above`` the edge."""

    offset: float
    height: float
    above: float


@dataclass(frozen=True, slots=True)
class Balance:
    """The balance point in the plane of the deck (m)."""

    x: float
    y: float
    along: tuple[float, float]
    """Along the side with the handle, and how long that side is."""
    lean: Lean | None
    origin: Origin


def loads_of(layout: Layout) -> list[Load]:
    """Every box that travels with the board. A supply or isolator without a place stands elsewhere."""
    travelling = [box for box in layout.boxes.values() if box.path[0] in ("pedals", "switchers") or box.under or box.corner is not None]
    return [Load(box, box.weight) for box in travelling]


def balance_of(layout: Layout) -> Balance | None:
    """Where the board balances; ``None`` while too little of its weight has a place."""
    loads, deck = loads_of(layout), layout.deck
    area, case = deck.area, deck.case
    placed = [load for load in loads if load.box.footprint is not None]
    whole = sum(load.weight.value for load in loads)
    if area is None or not whole or sum(load.weight.value for load in placed) < limits.BALANCE_KNOWN.value * whole:
        return None
    masses, points = [], []
    inside = case.inside if case and case.inside and all(each.known for each in case.inside) else None
    lid = case.lid_clear if case else None
    floor_to_deck = inside[2].value - lid.value if inside and lid is not None and lid.known else None
    for load in placed:
        x, y = load.box.footprint.middle  # type: ignore[union-attr]
        height = load.box.height / 2
        z = -deck.thickness.value - height if load.box.under else load.box.rise + height
        masses.append(load.weight.value / 1000)
        points.append((x, y, z + (floor_to_deck or 0.0)))
    empty = case.empty_weight if case else None
    if empty is not None and empty.known:
        masses.append(empty.value / 1000)
        points.append((*area.middle, inside[2].value / 2 if inside else 0.0))
    x, y, z = centre_of_gravity(masses, points)
    side = (case.handle if case else None) or ("front" if area.width >= area.depth else "left")
    along = (x, area.width) if side in ("front", "rear", "unknown") else (y, area.depth)
    lean = None
    if inside and floor_to_deck is not None:
        wall = (inside[1].value - area.depth) / 2
        lean = Lean(z - inside[2].value / 2, inside[2].value, y + max(wall, 0.0))
    return Balance(x, y, along, lean, weakest(load.weight.origin for load in placed))
