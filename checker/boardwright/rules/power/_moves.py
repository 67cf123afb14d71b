"""Edits that power rules can offer: a device moved to an outlet that is free and fits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.board.supply import Outlet
from boardwright.rules.verdict import Judgement, Verdict, over
from boardwright.spec.figure import Origin
from boardwright.spec.power_phrase import Flow
from boardwright.spec.problem import Edit


def with_move(board: Board, device: Device, judged: Judgement, alone: bool = False) -> Judgement:
    """A judgement that trips, with the offer to move ``device``; ``alone``: to an outlet whose return it shares with nothing."""
    return judged._replace(edits=tuple(_moves(board, device, alone))) if judged.verdict is Verdict.TRIPS else judged


def with_relief(board: Board, circuit: Circuit, excess: float, judged: Judgement) -> Judgement:
    """A judgement that trips, with the offer to move one device that frees ``excess`` (A): the smallest one that will do."""
    draws = [(device.draw(circuit.volts).value_or(0.0), device) for device in circuit.devices]
    heavy = sorted((pair for pair in draws if not over(excess, pair[0])), key=lambda pair: pair[0])
    offered = (edits for _, device in heavy if (edits := tuple(_moves(board, device, alone=False))))
    return judged._replace(edits=next(offered, ()))


def renamed(board: Board, line: Line, wrong: str, right: str | None) -> tuple[Edit, ...]:
    """The offer to write the outlet that a feed most likely meant."""
    return board.spec.edits(line.path, wrong, right) or board.spec.edits((*line.path, "from"), wrong, right)


def _moves(board: Board, device: Device, alone: bool) -> Iterator[Edit]:
    if len(device.lines) != 1 or device.supply is not None:
        return
    (line,) = device.lines
    hangs = [each for circuit in board.power.circuits for _, each in circuit.hung]
    if len(line.outlets) != 1 or line.after or line.reversals or line.lost or any(each.after == device.name for each in hangs):
        return
    (here,) = line.outlets
    fit = [outlet for outlet in board.power.outlets if _fits(board, device, here, outlet, alone)]
    for outlet in sorted(fit, key=lambda each: (each.supply is not here.supply, each.rating.value))[:1]:
        for edit in renamed(board, line, here.id, outlet.id):
            yield replace(edit, title=f"Feed `{device.name}` from `{outlet.id}`, which is free")


def _fits(board: Board, device: Device, here: Outlet, outlet: Outlet, alone: bool) -> bool:
    """Whether a free outlet gives what the label asks for, with as much to spare as every outlet should keep."""
    power, gives, needs, window = board.power, outlet.gives, device.needs, device.window
    draw = device.draw(outlet.volts)
    if power.circuits_of(outlet) or window is None or outlet.volts is None or outlet.no_load_volts is None or gives.plug != here.gives.plug:
        return False
    if not window[0] <= outlet.volts <= outlet.no_load_volts <= window[1]:
        return False
    if needs.flow is None or (needs.flow is not Flow.EITHER and gives.flow is not needs.flow):
        return False
    if Flow.AC not in (gives.flow, needs.flow) and (needs.polarity is None or gives.polarity is not needs.polarity):
        return False
    if not draw.known or not outlet.rating.known or over(draw.value, outlet.rating.value * limits.OUTLET_HEADROOM.value):
        return False
    given, total = power.output(outlet.supply)[0], outlet.supply.total
    if total.known and over(given.value + draw.value * outlet.volts, total.value * limits.SUPPLY_HEADROOM.value):
        return False
    same_load = outlet.supply is here.supply and outlet.volts == here.volts
    if outlet.supply.name in power.devices and not same_load:
        return False  # a converter hands on what is asked of it, and what feeds it may not have that to give
    pool = power.pool(outlet)
    shares = [other for other in power.pools().get(pool, ()) if other is not device]
    if alone and (shares or outlet.pool_origin is Origin.ASSUMED):
        return False
    # Right way round among others, a ground on plus would be joined to their plus.
    upside_down = device.box is not None and device.box.ground == "positive"
    return not shares or (pool == power.pool(here) and not upside_down)
