"""The outlet table: what each outlet gives, what hangs on it, and by which plug and lead."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.report.book.chapter import Absent, Book
from boardwright.report.book.markup import TICK, Child, Html, table, tag
from boardwright.report.figures import DeviceFigures, OutletFigures
from boardwright.report.power_map import on_no_outlet
from boardwright.rules.power.power_plug_does_not_fit import plug_and_jack
from boardwright.spec.fields import Jack
from boardwright.spec.figure import tell
from boardwright.spec.power_phrase import Flow

HEADS = ("outlet", "gives", "feeds", "polarity at the plug", "plug", "lead", "draws", "gets", "done")
BRACKETS = "A plug in brackets is assumed: the usual one, where neither label nor lead says another."


def pieces(book: Book) -> list[Html] | Absent:
    rows = [*_rows(book), *_batteries(book)]
    if not rows:
        return Absent("no outlet is described.")
    return [tag("p", BRACKETS, class_="lead-in"), table(HEADS, rows, look="figures")]


def _rows(book: Book) -> Iterator[tuple[Child, ...]]:
    power = book.board.power
    outlets = {outlet.id: outlet for outlet in power.outlets}
    devices = {row.name: row for row in book.report.power.devices}
    for row in book.report.power.outlets:
        hung = [(circuit, device, line) for circuit in power.circuits_of(outlets[row.name]) for device, line in circuit.hung]
        if not hung:
            yield row.name, _gives(row), "free", "", "", "", "", "", ""
        for circuit, device, line in hung:
            yield row.name, _gives(row), *_fed(book, circuit, device, line, devices[device.name]), TICK


def _gives(row: OutletFigures) -> str:
    rated = "" if row.rating_amps is None else f", {tell(row.rating_amps, 'A')}"
    return ("?" if row.volts is None else tell(row.volts, "V")) + rated


def _fed(book: Book, circuit: Circuit, device: Device, line: Line, figures: DeviceFigures) -> tuple[str, ...]:
    notes = [f"behind {line.after}"] if line.after else []
    if len(circuit.outlets) > 1:
        notes.append(f"{circuit.mode or 'together'} on {' and '.join(outlet.id for outlet in circuit.outlets)}")
    lead = book.lead(line.path, None, Jack(device.name))
    return (
        ", ".join([device.name, *notes]),
        _polarity(circuit, line),
        _plug(circuit, device, line),
        lead.label if lead else "?",
        "?" if figures.amps is None else tell(figures.amps, "A"),
        "?" if figures.volts is None else tell(figures.volts, "V"),
    )


def _polarity(circuit: Circuit, line: Line) -> str:
    """What is inside the plug, as it arrives."""
    given = circuit.outlets[0].gives
    if given.flow is Flow.AC:
        return "alternating"
    if given.polarity is None:
        return "by its shape" if given.plug else "?"
    return f"{given.polarity.opposite}, lead reverses" if line.reversals % 2 else str(given.polarity)


def _plug(circuit: Circuit, device: Device, line: Line) -> str:
    plug, _ = plug_and_jack(circuit, device, line)
    stated = line.plug or circuit.outlets[0].gives.plug or device.needs.plug
    return "?" if plug is None else plug if stated else f"({plug})"


def _batteries(book: Book) -> Iterator[tuple[Child, ...]]:
    for device in on_no_outlet(book.board):
        on_battery = any(line.is_battery for line in device.lines)
        draw = device.draw(None)
        yield "battery" if on_battery else "nowhere", "", device.name, "", "", "", str(draw) if draw.known else "?", "", TICK
