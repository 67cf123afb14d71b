"""``isolators``: transformers, direct boxes and other gaps in the ground."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Flag, choice
from boardwright.spec.sections.boxes import Box, Isolation, Sound


class Isolator(Isolation, Sound, Box):
    """Something that passes the signal on and may keep grounds apart. Only a lifted screen does that."""

    kind: choice("transformer", "di", "optocoupler", "relay", "reamp") | None = Field(None, description="How it isolates.")
    buffered_out: Flag | None = Field(None, description="Whether its output is buffered.")
