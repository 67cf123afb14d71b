"""``readings``: what the meter and the ear said."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Read, Reference, Section, Text, choice
from boardwright.spec.figure import CURRENT, RESISTANCE, TIME, Dimension, Figure, Unreadable, read_figure
from boardwright.spec.wording import shown

METER_VOLTAGE = Dimension("meter's voltage", "V", ("volts", "volt", "V", "v"), "-9.1 V", -1000, 1000)
"""A meter shows a sign: with the red probe in a centre-negative plug, it shows less than nothing."""
OPEN = "open"
WORDS = (OPEN, "same", "inverts", "good", "bad")
"""``open`` is what a meter shows that finds no way through; the others are for what is heard."""
EXAMPLES = ["-9.1 V", "110 mA", "0.4 ohm", OPEN, "good"]


def _read(text: str) -> Figure | str:
    word = text.strip().lower()
    if word in (*WORDS, "unknown"):
        return word
    if re.fullmatch(r"o\.?l\.?|overload|infinite|∞", word):
        return OPEN
    for dimension in (METER_VOLTAGE, CURRENT, RESISTANCE, TIME):
        try:
            return read_figure(text, dimension)
        except Unreadable:
            continue
    raise Unreadable(f"{shown(text)} is no reading.", "a value with its unit, such as `-9.1 V`, `110 mA` or `0.4 ohm`, or one of " + ", ".join(WORDS))


Shown = Annotated[Figure | str, Read(_read, {"type": "string", "examples": EXAMPLES})]


class Reading(Section):
    """One reading."""

    where: Annotated[list[Reference], ONE_OR_MORE] | None = Field(
        None, description="A lead by its label, an outlet, a device, an amplifier, or several that all showed the same. For a resistance between two "
        "grounds, both things; `board` is the sleeve of the jack that the guitar is plugged into.", max_length=60
    )
    what: choice("volts", "current", "ohms", "sound", "polarity", "latency", "hum") | None = Field(None, description="What was looked at.")
    of: choice("tip", "sleeve", "tip-to-sleeve", "all") | None = Field(
        None, description="Of a lead, the contacts: `tip` from end to end, `sleeve` likewise, `tip-to-sleeve` across; or `all` three, `good` or `bad`."
    )
    condition: choice("no-load", "loaded", "flexed", "unplugged") | None = Field(
        None, description="How: with nothing connected, with everything on, while the lead is bent at both plugs, or with every mains plug pulled "
        "and only the meter's own battery in play."
    )
    preset: Text | None = Field(None, description="Of `sound` and `hum`: the preset in which it was listened to; every switch off unless stated.")
    got: Shown | None = Field(None, description="What it showed.")
    expect: Shown | None = Field(None, description="What you expected, used where the checker cannot work it out.")
