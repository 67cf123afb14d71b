"""``steps``: what was done at the bench, in the order in which it was done."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Section, Text, choice
from boardwright.spec.sections.boxes import whole

WORK = ("place", "power", "meter", "audio", "listen", "loop", "preset", "amp", "shake", "label", "papers")
"""What is done at the bench: put boxes down, lay power leads, measure, lay audio leads, listen; then what crosses rows."""


class Step(Section):
    """A step that was done. The build plan is made without them; they are compared with it."""

    do: choice(*WORK) | None = Field(None, description="What was done.")
    row: whole(1, 20, "row") = Field(None, description="The row that it was done to, counted from the front.")
    of: Text | None = Field(None, description="The loop, preset or amplifier that it was about.")
