"""The figures of the power side, for the tables and the map: given also when nothing is wrong."""

from __future__ import annotations

from dataclasses import dataclass

from boardwright.board.assemble import Board
from boardwright.board.thermal import warmth
from boardwright.spec.problem import Span


@dataclass(slots=True)
class SupplyFigures:
    """A supply: power given and allowed in all (W), lost as warmth (W), and about how warm its case gets (°C)."""

    name: str
    at: Span | None
    watts: float
    total_watts: float | None
    lost_watts: float
    case_celsius: float
    complete: bool
    """Whether the draw of every device on it is known."""


@dataclass(slots=True)
class OutletFigures:
    """An outlet: volts, what flows (A), its rating (A), the share of it that is in use by the labels, power (W)."""

    name: str
    supply: str
    at: Span | None
    label: str
    volts: float | None
    amps: float
    rating_amps: float | None
    share: float | None
    watts: float | None
    devices: list[str]
    complete: bool


@dataclass(slots=True)
class DeviceFigures:
    """A device: what arrives (V), what it draws there (A), power (W), what was lost on the way (V), and from where.

    ``volts`` is ``None`` if the outlet's are unknown or the network cannot settle.
    """

    name: str
    at: Span | None
    source: str
    label: str
    volts: float | None
    amps: float | None
    watts: float | None
    lost_volts: float | None
    origin: str


@dataclass(slots=True)
class PowerFigures:
    supplies: list[SupplyFigures]
    outlets: list[OutletFigures]
    devices: list[DeviceFigures]


def power_figures(board: Board) -> PowerFigures:
    """Volts, amps and watts of everything."""
    return PowerFigures(_supplies(board), _outlets(board), _devices(board))


def _supplies(board: Board) -> list[SupplyFigures]:
    rows = []
    for supply in board.power.supplies.values():
        given, missing, unclear = board.power.output(supply)
        found = warmth(board, supply)
        total = supply.total.value if supply.total.known else None
        complete = not missing and not unclear
        rows.append(SupplyFigures(supply.name, board.locate(supply.path), given.value, total, found.loss.value, found.case, complete))
    return rows


def _outlets(board: Board) -> list[OutletFigures]:
    rows = []
    for outlet in board.power.outlets:
        asked, missing = board.power.demand(outlet)
        amps = board.power.current(outlet)
        rating = outlet.rating.value if outlet.rating.known else None
        rows.append(
            OutletFigures(
                name=outlet.id,
                supply=outlet.supply.name,
                at=board.locate(outlet.path),
                label=str(outlet.gives),
                volts=outlet.volts,
                amps=amps,
                rating_amps=rating,
                share=asked.value / rating if rating else None,
                watts=outlet.volts * amps if outlet.volts is not None else None,
                devices=[device.name for circuit in board.power.circuits_of(outlet) for device in circuit.devices],
                complete=not missing,
            )
        )
    return rows


def _devices(board: Board) -> list[DeviceFigures]:
    arrivals = {
        device.name: (circuit, circuit.arrival(device)) for circuit in board.power.circuits for device, _ in circuit.hung
    }
    rows = []
    for device in board.power.devices.values():
        circuit, arrival = arrivals.get(device.name, (None, None))
        draw = device.draw(circuit.volts if circuit else None)
        volts = arrival.volts if arrival else None
        amps = arrival.current if arrival and volts is not None and draw.known else draw.high
        battery = any(line.is_battery for line in device.lines)
        source = " + ".join(outlet.id for outlet in device.outlets) or ("battery" if battery else "")
        rows.append(
            DeviceFigures(
                name=device.name,
                at=board.locate(device.path),
                source=source,
                label="none" if device.takes_nothing else str(device.needs),
                volts=volts,
                amps=0.0 if device.takes_nothing else amps,
                watts=volts * amps if volts is not None and amps is not None else None,
                lost_volts=arrival.drop if arrival else None,
                origin=(arrival.origin if arrival else draw.origin).word,
            )
        )
    return rows
