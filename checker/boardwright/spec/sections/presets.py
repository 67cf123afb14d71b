"""``presets``: sets of switches under one footswitch."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field

from boardwright.spec.fields import ONE_OR_MORE, Flag, Reference, Section, Text, ThingName

Names = Annotated[list[ThingName], ONE_OR_MORE]


class Preset(Section):
    """A preset. Every other key is a switcher or a mixer with the loops or sends that are on (`hub: [3, 6]`; those not
    listed are off), or a pedal with `on` or `off`."""

    model_config = ConfigDict(**{**Section.model_config, "extra": "allow"})
    __pydantic_extra__: dict[str, Names]

    select: dict[str, Text] | None = Field(None, description="The position of each selector, such as `{aby: a}`.")
    mute: Annotated[list[Reference], ONE_OR_MORE] | None = Field(
        None, description="Outputs of a switcher, pedals or amplifiers that it silences."
    )
    free: Names | None = Field(None, description="Pedals in loops whose own footswitch stays live.")
    quiet: Flag | None = Field(None, description="Whether it is meant to be silent.")
    louder: Flag | None = Field(None, description="Whether it is meant to be louder than the others.")

    @property
    def switched(self) -> dict[str, list[str]]:
        """What each switcher, mixer or pedal that it names is set to."""
        return self.__pydantic_extra__ or {}
