"""``supplies``: what gives power."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from boardwright.spec.fields import (
    ONE_OR_MORE,
    Current,
    Flag,
    Gives,
    Length,
    Mass,
    Needs,
    Opens,
    OutletReference,
    Place,
    Power,
    Ratio,
    Resistance,
    Section,
    Size,
    Text,
    ThingName,
    WireGauge,
    choice,
    opens_from,
)
from boardwright.spec.power_phrase import PLUGS
from boardwright.spec.sections.placement import SIDES, Placed
from boardwright.spec.sections.wall import Circuit, Input, Leakage, MainsLoad, Mark, SetTo


class PowerLead(Section):
    """A power lead, or a piece of one. ``600 mm`` by itself is its length."""

    length: Length | None = Field(None, description="How long it is, one way.")
    gauge: WireGauge = Field(None, description="The size of each conductor.")
    plug: choice(*PLUGS) | None = Field(None, description="The plug at the device's end.")
    reverses: Flag | None = Field(None, description="Whether it swaps inside and outside of the plug.")


class Feed(Section):
    """Where a device gets its power. ``brick.3`` by itself is the outlet; ``battery`` is one inside the device."""

    from_: Annotated[list[OutletReference], ONE_OR_MORE] | None = Field(
        None, alias="from", description="The outlet; or a list of outlets, with `mode`.", min_length=1, max_length=20
    )
    mode: choice("series", "parallel") | None = Field(None, description="How several outlets are joined in one lead.")
    after: ThingName | None = Field(None, description="The device that this one is chained behind, on one lead.")
    lead: Annotated[PowerLead, opens_from("length")] | None = Field(None, description="The lead.")
    leads: list[Annotated[PowerLead, opens_from("length")]] | None = Field(
        None, description="A lead made of pieces and adaptors, from the supply on.", max_length=12
    )


Feeds = Annotated[list[Annotated[Feed, opens_from("from")]], ONE_OR_MORE, Field(max_length=20)]
"""One feed, or a list of feeds (which is nearly always a mistake, and a rule's business to say)."""


class Outlet(Section):
    """One outlet. The power phrase by itself is what it gives."""

    gives: Gives | None = Field(None, description="What it gives: volts, kind, polarity, rated current.")
    peak: Current | None = Field(None, description="The current it allows for a moment, at switch-on.")
    source: Resistance | None = Field(None, description="Its own resistance: how far it sags for each ampere.")
    regulated: Flag | None = Field(None, description="`no` for an old adaptor whose volts rise when nothing is connected.")
    loose_lead: choice("capped", "open") | None = Field(None, description="A lead that is plugged in and feeds nothing.")


class Group(Section):
    """Outlets that share one return inside. A list of outlets by itself is enough."""

    outlets: list[Text] = Field(description="The outlets' names.")
    rating: Current | None = Field(None, description="The current they may give together.")


def _group(value: Any) -> Any:
    return {"outlets": value} if isinstance(value, list) else value


class Supply(Placed):
    """A supply: mains unit, converter or battery pack. Read its label, not its advertisement."""

    input: Input = None
    set_to: SetTo = None
    class_: choice("I", "II", "III", "i", "ii", "iii") | None = Field(None, alias="class", description="Protection class on its label.")
    mark: Mark = None
    earthed_output: Flag | None = Field(None, description="Whether the return of its outlets is joined to protective earth inside.")
    circuit: Circuit = None
    load: MainsLoad = None
    leakage: Leakage = None
    kind: choice("switch-mode", "linear-toroid", "linear-laminated", "battery-pack") | None = Field(None, description="How it works inside.")
    isolated: choice("yes", "no", "groups") | None = Field(None, description="Whether each outlet has a return of its own.")
    groups: list[Annotated[Group, Opens(_group)]] | None = Field(None, description="With `isolated: groups`: the outlets that share a return.")
    outlets: dict[str, Annotated[Outlet, opens_from("gives")]] | None = Field(None, description="Each outlet by its name or number.")
    total: Power | None = Field(None, description="The power it gives in all.")
    efficiency: Ratio | None = Field(None, description="The share of its input that comes out again.")
    source: Resistance | None = Field(None, description="The own resistance of each outlet that does not state one.")
    may_series: list[list[Text]] | None = Field(None, description="Sets of outlets whose maker allows joining for more volts.")
    may_parallel: list[list[Text]] | None = Field(None, description="Sets of outlets whose maker allows joining for more current.")
    needs: Needs | None = Field(None, description="For a supply fed by another supply: what it needs.")
    feed: Feeds | None = Field(None, description="For a supply fed by another supply: the outlet.")
    size: list[Size] | None = Field(None, description="Width, depth and height.", min_length=3, max_length=3)
    at: list[Place] | None = Field(None, description="Where its front left corner is.", min_length=2, max_length=2)
    under: Flag | None = Field(None, description="Whether it hangs below the deck.")
    ventilated: Flag | None = Field(None, description="Whether air moves past at least two of its sides.")
    weight: Mass | None = Field(None, description="What it weighs.")
    outlets_on: choice(*SIDES) | None = Field(None, description="The side that its outlets are on.")
    inlet_on: choice(*SIDES) | None = Field(None, description="The side that its mains or feed socket is on.")
