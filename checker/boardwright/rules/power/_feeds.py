"""What several power rules walk over."""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Circuit
from boardwright.rules import things
from boardwright.rules.verdict import Thing


def feeds(board: Board) -> Iterator[tuple[Circuit, Device, Line]]:
    """Every device on every circuit that it hangs on, in the order of the board."""
    for circuit in board.power.circuits:
        for device, line in circuit.hung:
            if not device.takes_nothing:
                yield circuit, device, line


def about(circuit: Circuit, device: Device) -> list[Thing]:
    return [things.of_device(device), *(things.of_outlet(outlet) for outlet in circuit.outlets)]


def polarity_question(circuit: Circuit, device: Device) -> str | None:
    """What to ask where nobody said which way round a plug arrives; ``None`` where it is known or the plug has no centre."""
    given, needs = circuit.outlets[0].gives, device.needs
    if needs.polarity is None and ((given.plug is not None and given.polarity is None) or needs.plug in ("usb-a", "usb-c")):
        return None
    if given.polarity is not None and needs.polarity is not None:
        return None
    where = f"`{device.name}`" if needs.polarity is None else named(circuit)
    return f"Which way round is the plug of {where}? Look for the little drawing beside the jack, a C round a dot. Do not guess."


def named(circuit: Circuit) -> str:
    """The outlets of a circuit in a sentence: ``Outlet `s.1```."""
    names = things.listed([outlet.id for outlet in circuit.outlets])
    if len(circuit.outlets) == 1:
        return f"outlet {names}"
    return f"outlets {names} in {circuit.mode or 'one lead'}"
