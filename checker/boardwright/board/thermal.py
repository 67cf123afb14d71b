"""How warm a supply gets where it is mounted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.supply import Supply
from boardwright.physics import heat
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import Figure, assumed, figure, weakest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


@dataclass(frozen=True, slots=True)
class Warmth:
    """``rise`` and ``case`` in °C."""

    loss: Figure
    surface: Figure
    ambient: Figure
    efficiency: Figure
    rise: float
    case: float


def warmth(board: Board, supply: Supply) -> Warmth:
    """What a supply loses and how warm its case gets by it."""
    given, _, _ = board.power.output(supply)
    efficiency = supply.efficiency
    loss = figure(heat.conversion_loss(given.value, efficiency.value), "W", weakest([given.origin, efficiency.origin]))
    surface, ambient = _surface(supply), _ambient(board)
    rise = heat.temperature_rise(loss.value, surface.value, limits.CONVECTION.value, _cooling(supply))
    return Warmth(loss, surface, ambient, efficiency, rise, ambient.value + rise)


def _surface(supply: Supply) -> Figure:
    size = supply.section.size
    if size is None or any(not side.known for side in size):
        return assumed(limits.SMALL_SUPPLY.value, "m²")
    width, depth, height = (side.value for side in size)
    return figure(heat.box_area(width, depth, height), "m²")


def _ambient(board: Board) -> Figure:
    stated = board.spec.place.ambient if board.spec.place else None
    if stated is not None and stated.known:
        return stated
    return assumed((limits.STAGE_AMBIENT if board.is_for_stage else limits.HOME_AMBIENT).value, "°C")


def _cooling(supply: Supply) -> float:
    """Share of the surface that still gives heat off."""
    if supply.section.ventilated is YesNo.NO:
        return limits.SHUT_IN.value
    return limits.UNDER_DECK.value if supply.section.under else 1.0
