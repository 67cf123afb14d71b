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


def named(circuit: Circuit) -> str:
    """The outlets of a circuit in a sentence: ``Outlet `s.1```."""
    names = things.listed([outlet.id for outlet in circuit.outlets])
    if len(circuit.outlets) == 1:
        return f"outlet {names}"
    return f"outlets {names} in {circuit.mode or 'one lead'}"
