"""``promises``: what is to be proved, whatever is switched."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Reference, Section, ThingName, Time, choice, opens_from

Names = Annotated[list[ThingName], ONE_OR_MORE]

ONE_EARTH = "one-earth"


class Never(Section):
    """A sound that must never get somewhere."""

    sound_of: Names | None = Field(None, description="The boxes whose sound is meant.")
    reaches: Names | None = Field(None, description="The amplifiers it must not reach.")


class Always(Section):
    """Something that must hold in every state. ``one-earth`` alone is the promise of exactly one earth."""

    hears: Names | None = Field(None, description="The amplifiers that must hear.")
    from_: Names | None = Field(None, alias="from", description="What they must hear; without it, the guitar.")
    unless: choice("quiet") | None = Field(None, description="`quiet` leaves out quiet presets and closed mutes.")
    holds: choice(ONE_EARTH) | None = Field(None, description="`one-earth`: whichever amplifiers are connected, there is one earth.")


class Promise(Section):
    """One promise: `never`, `always` or `same_time`."""

    never: Never | None = Field(None, description="What must never be heard where.")
    always: Annotated[Always, opens_from("holds")] | None = Field(None, description="What must always be so.")
    same_time: Annotated[list[Reference], ONE_OR_MORE] | None = Field(
        None, description="Amplifiers that every sound must reach at the same time."
    )
    within: Time | None = Field(None, description="How far apart the arrivals may be; without it, 1 ms.")
