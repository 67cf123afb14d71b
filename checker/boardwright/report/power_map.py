"""The power map: supplies on the left, what hangs on their outlets on the right, with volts and amps."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.report import svg
from boardwright.report.figures import DeviceFigures, OutletFigures, SupplyFigures
from boardwright.report.report import Report
from boardwright.rules.verdict import Severity
from boardwright.spec.figure import tell

WIDTH = 760
LEFT, OUTLET_WIDTH = 16, 296
DEVICE_X = 430
ROW = 46
HEAD = 44
GAP = 18


def power_map(board: Board, report: Report) -> str:
    """SVG of the power side, with the marks of findings that concern power."""
    (whole,) = power_maps(board, report, math.inf)
    return whole


def power_maps(board: Board, report: Report, tallest: float) -> list[str]:
    """The power map in as many pieces as it takes for none to be taller than ``tallest`` (drawing units).

    A supply stays in one piece unless it is too tall by itself; then it goes on in the next.
    """
    hung, worst = _hung(board), _worst(report)
    devices = {row.name: row for row in report.power.devices}
    pieces = [_Piece()]
    for supply in report.power.supplies:
        for outlets in _chunks([each for each in report.power.outlets if each.supply == supply.name], hung, tallest):
            height = HEAD + sum(_tall(outlet, hung) for outlet in outlets) + 8
            piece = _with_room(pieces, height + GAP, tallest)
            piece.parts += _supply(supply, piece.y, height, worst)
            row = piece.y + HEAD
            for outlet in outlets:
                piece.parts += _outlet(outlet, row, worst)
                for number, (device, line, circuit) in enumerate(hung.get(outlet.name, [])):
                    middle = row + number * ROW
                    piece.parts += _wire(row, middle)
                    piece.parts += _device(devices[device.name], middle, worst, _note(line, circuit))
                row += _tall(outlet, hung)
            piece.outlets += outlets
            piece.y += height + GAP
    for device in on_no_outlet(board):
        piece = _with_room(pieces, ROW, tallest)
        piece.parts += _apart(device, devices, worst, piece.y)
        piece.y += ROW
    return [_picture(report, piece, number, len(pieces)) for number, piece in enumerate(pieces, 1)]


@dataclass
class _Piece:
    """A piece of the map, as far as it is drawn."""

    parts: list[str] = field(default_factory=list)
    outlets: list[OutletFigures] = field(default_factory=list)
    y: float = 12.0


def _tall(outlet: OutletFigures, hung: dict[str, list[tuple[Device, Line, Circuit]]]) -> float:
    return max(1, len(hung.get(outlet.name, ()))) * ROW


def _chunks(outlets: list[OutletFigures], hung: dict[str, list[tuple[Device, Line, Circuit]]], tallest: float) -> list[list[OutletFigures]]:
    """A supply's outlets, in as many parts as a piece has room for."""
    chunks: list[list[OutletFigures]] = [[]]
    for outlet in outlets:
        if chunks[-1] and HEAD + sum(_tall(each, hung) for each in (*chunks[-1], outlet)) + 8 + GAP + 12 > tallest:
            chunks.append([])
        chunks[-1].append(outlet)
    return chunks


def _with_room(pieces: list[_Piece], height: float, tallest: float) -> _Piece:
    """The last piece, or a new one where that has no room left."""
    if pieces[-1].parts and pieces[-1].y + height > tallest:
        pieces.append(_Piece())
    return pieces[-1]


def _picture(report: Report, piece: _Piece, number: int, count: int) -> str:
    title = f"Power map of {report.board.name or 'the board'}" + (f", part {number} of {count}" if count > 1 else "")
    name = "power-map" if number == 1 else f"power-map-{number}"
    return svg.picture(WIDTH, max(piece.y, 60), title, _description(piece.outlets), piece.parts, name)


def _worst(report: Report) -> dict[str, Severity]:
    """The worst finding that is mainly about each thing."""
    found: dict[str, Severity] = {}
    for finding in report.findings:
        subject = finding.things[0].name
        found.setdefault(subject, Severity(finding.severity))
    return found


def _hung(board: Board) -> dict[str, list[tuple[Device, Line, Circuit]]]:
    """What hangs on each outlet; a device on several is drawn at the first."""
    hung: dict[str, list[tuple[Device, Line, Circuit]]] = {}
    for circuit in board.power.circuits:
        for device, line in circuit.hung:
            hung.setdefault(circuit.outlets[0].id, []).append((device, line, circuit))
    return hung


def _note(line: Line, circuit: Circuit) -> str:
    notes = []
    if line.after:
        notes.append(f"behind {line.after}")
    if len(circuit.outlets) > 1:
        others = " and ".join(outlet.id for outlet in circuit.outlets[1:])
        notes.append(f"{circuit.mode or 'together'} with {others}")
    if line.reversals % 2:
        notes.append("reversed")
    return ", ".join(notes)


def _supply(supply: SupplyFigures, y: float, height: float, worst: dict[str, Severity]) -> Iterator[str]:
    yield svg.box(8, y, OUTLET_WIDTH + 16, height, opacity=0.7, radius=8)
    yield svg.label(LEFT + 4, y + 19, svg.fit(supply.name, 190, 15), 15, "bold")
    of = f" of {tell(supply.total_watts, 'W')}" if supply.total_watts is not None else ""
    more = "" if supply.complete else " or more"
    yield svg.label(LEFT + 4, y + 36, f"gives {tell(supply.watts, 'W')}{of}{more}", 12, opacity=0.8)
    if supply.name in worst:
        yield svg.mark(LEFT + 218, y + 16, worst[supply.name])


def _outlet(outlet: OutletFigures, y: float, worst: dict[str, Severity]) -> Iterator[str]:
    short = outlet.name.removeprefix(f"{outlet.supply}.")
    yield svg.box(LEFT, y + 3, OUTLET_WIDTH, ROW - 6, opacity=0.4)
    yield svg.label(LEFT + 8, y + 20, svg.fit(short, 30, 13), 13, "bold")
    yield svg.label(LEFT + 40, y + 20, svg.fit(outlet.label, OUTLET_WIDTH - 44, 12), 12)
    rated = f" of {tell(outlet.rating_amps, 'A')}" if outlet.rating_amps is not None else ""
    use = f"{tell(outlet.amps, 'A')}{rated}" if outlet.devices else "free"
    yield svg.label(LEFT + 40, y + 36, use, 12, opacity=0.8)
    if outlet.share is not None and outlet.devices:
        yield from _bar(LEFT + 166, y + 28, 60, outlet.share)
    if outlet.name in worst:
        yield svg.mark(LEFT + 248, y + 32, worst[outlet.name])


def _bar(x: float, y: float, width: float, share: float) -> Iterator[str]:
    """How much of an outlet is in use; what is over runs past the end."""
    filled = min(share, 1.15) * width
    yield f'<rect x="{x:g}" y="{y:g}" width="{filled:.1f}" height="8" fill="currentColor" opacity="0.35"/>'
    yield svg.box(x, y, width, 8, opacity=0.8, radius=0)


def _wire(outlet_y: float, device_y: float) -> Iterator[str]:
    x0, x1 = LEFT + OUTLET_WIDTH, DEVICE_X
    y0, y1 = outlet_y + ROW / 2, device_y + ROW / 2
    middle = (x0 + x1) / 2 + 14
    yield svg.path(f"M{x0} {y0:g}H{middle:g}V{y1:g}H{x1}")


def _device(row: DeviceFigures, y: float, worst: dict[str, Severity], note: str) -> Iterator[str]:
    width = WIDTH - DEVICE_X - 8
    yield svg.box(DEVICE_X, y + 3, width, ROW - 6, opacity=0.8)
    yield svg.label(DEVICE_X + 8, y + 20, svg.fit(row.name, 200, 13), 13, "bold")
    got = "volts unknown" if row.volts is None and row.source else "" if row.volts is None else f"gets {tell(row.volts, 'V')}"
    drawn = "" if row.amps is None else f"draws {tell(row.amps, 'A')}"
    power = "" if row.watts is None else tell(row.watts, "W")
    words = ", ".join(part for part in (got, drawn, power, note) if part)
    yield svg.label(DEVICE_X + 8, y + 36, svg.fit(words, width - 16, 12), 12, opacity=0.8)
    if row.name in worst:
        yield svg.mark(DEVICE_X + width - 76, y + 16, worst[row.name])


def on_no_outlet(board: Board) -> list[Device]:
    """Devices that draw, and not from an outlet: on a battery, or fed from nowhere."""
    return [device for device in board.power.devices.values() if not device.outlets and not device.takes_nothing]


def _apart(device: Device, devices: dict[str, DeviceFigures], worst: dict[str, Severity], y: float) -> Iterator[str]:
    on_battery = any(line.is_battery for line in device.lines)
    yield svg.label(DEVICE_X - 66, y + ROW / 2 + 4, "its own battery" if on_battery else "fed from nowhere", 12, anchor="end", opacity=0.8)
    yield svg.path(f"M{DEVICE_X - 60} {y + ROW / 2:g}H{DEVICE_X}", dash=not on_battery)
    yield from _device(devices[device.name], y, worst, "")


def _description(outlets: list[OutletFigures]) -> str:
    """The drawing in words."""
    told = []
    for outlet in outlets:
        volts = f"{tell(outlet.volts, 'V')}, " if outlet.volts is not None else ""
        feeds = ", ".join(outlet.devices) or "nothing"
        told.append(f"Outlet {outlet.name} ({volts}{tell(outlet.amps, 'A')}) feeds {feeds}.")
    return " ".join(told) or "No outlets are described."
