"""What everything with a mains cord may say about itself: keys that several sections share."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import NOTHING, ApparentPower, Current, Flag, Read, Text, Voltage
from boardwright.spec.mains_phrase import MainsInput, read_mains_input


def _input(text: str) -> MainsInput | str:
    return NOTHING if text.strip().lower() == NOTHING else read_mains_input(text)


Input = Annotated[
    Annotated[MainsInput | str, Read(_input, {"type": "string", "examples": ["100-240V ac 50/60Hz", NOTHING]})] | None,
    Field(description="The input as its label gives it, such as `100-240V ac 50/60Hz`; `none` if it has no mains cord."),
]
SetTo = Annotated[Voltage | None, Field(description="With a voltage selector on the outside: what it is set to.")]
Mark = Annotated[Flag | None, Field(description="Whether it carries a safety mark.")]
Circuit = Annotated[Text | None, Field(description="The wall circuit it is plugged into, by its name in `place.circuits`.")]
MainsLoad = Annotated[ApparentPower | None, Field(description="What it takes from the wall at most, as rated.")]
Leakage = Annotated[Current | None, Field(description="Its leakage current to earth, where it was measured.")]
