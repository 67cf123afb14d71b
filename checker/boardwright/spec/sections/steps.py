"""``steps``: what was done at the bench, in the order in which it was done."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Section, Text, choice
from boardwright.spec.sections.boxes import whole

ROW_WORK = ("place", "power", "meter", "audio", "listen")
"""What is done to each row, in this order: put boxes down, lay power leads, measure, lay audio leads, listen."""
WORK = ("dry-fit", "frame", *ROW_WORK, "loop", "preset", "amp", "shake", "label", "papers")
"""Everything that is done at the bench, in the usual order: `dry-fit` is the board laid out on paper, `frame` its feet and supplies."""


class Step(Section):
    """A step that was done. The build plan is made without them; they are compared with it."""

    do: choice(*WORK) | None = Field(None, description="What was done.")
    row: whole(1, 20, "row") = Field(None, description="The row that it was done to, counted from the front; the first, where there is one row only.")
    of: Text | None = Field(None, description="The loop (`hub.3`), preset or amplifier that it was about.")
