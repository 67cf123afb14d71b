"""What a meter shows at plugs and outlets, unloaded and loaded, and what flows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.bench.expected import Expected
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.board.supply import Outlet
from boardwright.spec.figure import Origin, weakest
from boardwright.spec.power_phrase import Flow, Polarity
from boardwright.spec.problem import Path

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

PROBES = "DC volts: red probe inside the plug, black on its barrel. Never let a probe touch both."
AC_PROBES = "AC volts across the plug. Alternating current has no sign. Never let a probe touch both contacts."
LOADED = "The same, by a two-way splitter at the plug, with everything on and at its busiest."
CURRENT = "DC amps, the meter in series with the plug, everything on. Begin at the highest range."


def readings(board: Board) -> Iterator[Expected]:
    labels = power_leads(board)
    for circuit in board.power.circuits:
        for device, line in circuit.hung:
            label = labels.get((device.name, line.path), device.name)
            yield from _at_plug(circuit, device, line, label)
    for outlet in board.power.outlets:
        yield from _at_outlet(board, outlet)
    for circuit in board.power.circuits:
        for device, _ in circuit.hung:
            yield from _drawn(circuit, device)


def power_leads(board: Board) -> dict[tuple[str, Path], str]:
    """Labels of power leads, by the device that each feeds and where that feed stands in the text."""
    return {(lead.end.name, lead.path): lead.label for lead in board.layout.leads if lead.carries in ("dc", "ac-low")}


def sign_at_plug(outlet: Outlet, reversals: int = 0) -> int | None:
    """1 if the inside of a plug on this outlet is positive, −1 if it is negative; ``None`` where nobody says, and for AC."""
    polarity = outlet.gives.polarity
    if polarity is None or outlet.gives.flow is Flow.AC:
        return None
    inside = polarity if reversals % 2 == 0 else polarity.opposite
    return 1 if inside is Polarity.CENTRE_POSITIVE else -1


def volts(where: str, path: Path, size: float, least: float, most: float, sign: int | None, condition: str, how: str, origin: Origin) -> Expected:
    """A voltage of ``size`` (V) in a window, with the sign that the meter shows."""
    low, high = (least, most) if sign != -1 else (-most, -least)
    value = size * (sign or 1)
    return Expected((where,), "volts", path, how, condition=condition, value=value, low=low, high=high, signed=sign is not None, origin=origin)


def _at_plug(circuit: Circuit, device: Device, line: Line, label: str) -> Iterator[Expected]:
    outlet, full = circuit.outlets[0], circuit.no_load_volts
    if full is None or not circuit.volts or device.name in circuit.ringed:
        return
    sign, off = sign_at_plug(outlet, _reversals(circuit, device)), limits.READING_VOLTS.value
    how = AC_PROBES if outlet.gives.flow is Flow.AC else PROBES
    given = weakest(each.gives.volts.origin for each in circuit.outlets)
    # an unregulated adaptor may read anything from its label to the peak of the sine
    yield volts(label, line.path, full, circuit.volts * (1 - off), full * (1 + off), sign, "no-load", how, given)
    arrival = circuit.arrival(device)
    if arrival is None or arrival.volts is None or not _loads_known(circuit):
        return
    size = arrival.volts
    yield volts(label, line.path, size, size * (1 - off), size * (1 + off), sign, "loaded", LOADED, arrival.origin)


def _reversals(circuit: Circuit, device: Device) -> int:
    return sum(line.reversals for line in circuit.way(device))


def _loads_known(circuit: Circuit) -> bool:
    """Whether the network was solved with every load in it, and no wire that is only guessed at."""
    return all(device.takes_nothing or (device.draw(circuit.volts).known and not line.guesses_wire) for device, line in circuit.hung)


def _at_outlet(board: Board, outlet: Outlet) -> Iterator[Expected]:
    full = outlet.no_load_volts
    if full is None or not outlet.volts:
        return
    sign, off = sign_at_plug(outlet), limits.READING_VOLTS.value
    how = AC_PROBES if outlet.gives.flow is Flow.AC else PROBES
    yield volts(outlet.id, outlet.path, full, outlet.volts * (1 - off), full * (1 + off), sign, "no-load", how, outlet.gives.volts.origin)
    circuits = board.power.circuits_of(outlet)
    if not circuits or any(len(each.outlets) > 1 or each.point is None or not _loads_known(each) for each in circuits):
        return
    (circuit,) = circuits
    assert circuit.point is not None
    size = circuit.point.source_voltage
    origin = weakest([outlet.source.origin, circuit.demand[0].origin])
    yield volts(outlet.id, outlet.path, size, size * (1 - off), size * (1 + off), sign, "loaded", LOADED, origin)
    yield _amps(outlet.id, outlet.path, board.power.current(outlet), origin)


def _drawn(circuit: Circuit, device: Device) -> Iterator[Expected]:
    draw, arrival = device.draw(circuit.volts), circuit.arrival(device)
    if len(device.lines) == 1 and draw.known and draw.value and arrival is not None and arrival.volts is not None:
        yield _amps(device.name, device.path, arrival.current, draw.origin)


def _amps(where: str, path: Path, size: float, origin: Origin) -> Expected:
    off = limits.READING_CURRENT.value
    return Expected((where,), "current", path, CURRENT, condition="loaded", value=size, low=size * (1 - off), high=size * (1 + off), origin=origin)
