"""``computers``: laptops, tablets and telephones that are joined to the board. A computer is no amplifier."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import ONE_OR_MORE, Section, Text, choice
from boardwright.spec.sections.wall import Circuit, Input, Leakage, MainsLoad, Mark, SetTo


class Computer(Section):
    """A computer."""

    kind: choice("laptop", "desktop", "tablet", "telephone") | None = Field(None, description="What it is.")
    power: choice("battery", "charger", "mains") | None = Field(
        None, description="What it runs on during a show: its battery, with the charger unplugged; its charger; or the mains."
    )
    class_: choice("I", "II", "i", "ii") | None = Field(
        None, alias="class", description="Protection class of its charger or of itself: I has an earth pin."
    )
    earth_bond: choice("hard", "soft", "none") | None = Field(
        None, description="How its ground meets protective earth: joined, through a resistance of some ohms, or not."
    )
    joined_to: Annotated[list[Text], ONE_OR_MORE] | None = Field(
        None, description="Other earthed gear that its leads join it to, such as a screen or a projector."
    )
    input: Input = None
    set_to: SetTo = None
    mark: Mark = None
    circuit: Circuit = None
    load: MainsLoad = None
    leakage: Leakage = None
