"""``papers``: what is handed over with the board."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Section, choice

PAPERS = (
    "signal-drawing", "power-map", "earth-map", "layout", "midi-map", "preset-list", "lead-list", "settings-photo",
    "serial-list", "spares-list", "quiet-card", "readings", "date-and-maker",
)  # fmt: skip
"""Papers that a board can have. ``quiet-card`` says what to do when it goes quiet."""


class Paper(Section):
    """A paper."""

    paper: choice(*PAPERS) | None = Field(None, description="What it is.")
