"""``symptom``: what is wrong with a board that was built, so that the fault can be hunted."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Flag, Section, Text, choice

HEARD = ("silent", "hum", "buzz", "whine", "hiss", "crackle", "dull", "weak", "oscillation", "reboot")
CHANGES = ("touching-strings", "stepping", "turning-the-guitar", "after-warm-up", "moving-a-pedal", "wiggling", "lamps", "one-amp-alone")


class Symptom(Section):
    """What is heard, when, and what changes it."""

    kind: choice(*HEARD) | None = Field(None, description="What is heard.")
    when: Annotated[list[Text], ONE_OR_MORE] | None = Field(
        None, description="`always`, or the preset, pedal, loop or amplifier with which it comes."
    )
    changes_with: Annotated[list[choice(*CHANGES)], ONE_OR_MORE] | None = Field(None, description="What makes it come, go or change.")
    comes_and_goes: Flag | None = Field(None, description="Whether it comes and goes by itself.")
    at: Annotated[list[Text], ONE_OR_MORE] | None = Field(None, description="The amplifiers at which it is heard; all of them unless stated.")
    good: Annotated[list[Text], ONE_OR_MORE] | None = Field(None, description="What is known to be good already: a source, a box, an amplifier.")
    another_amp: Flag | None = Field(None, description="Whether there is another amplifier at hand to listen with.")
