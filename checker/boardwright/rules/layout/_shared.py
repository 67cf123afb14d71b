"""What several layout rules say in the same way."""

from __future__ import annotations

from boardwright.board.layout.boxes import Box
from boardwright.rules.verdict import Number, Thing
from boardwright.spec.figure import Origin


def of_box(box: Box) -> Thing:
    return Thing(box.name, box.path)


def mm(metres: float) -> str:
    """A place or size as the board's text writes it: whole millimetres."""
    return f"{metres * 1000:.0f} mm".replace("-", "−")


def size(name: str, metres: float, origin: Origin = Origin.STATED) -> Number:
    """A place or size as a number of a finding."""
    return Number(name, mm(metres), metres, "m", origin.word)


def guessed(*boxes: Box) -> str:
    """A clause for boxes whose size nobody stated; empty otherwise."""
    names = [f"`{box.name}`" for box in boxes if box.size_origin is Origin.ASSUMED]
    return f" The size of {' and '.join(names)} is assumed." if names else ""
