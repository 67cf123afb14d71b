"""``control``: leads that carry no sound, from expression pedals, footswitches and relays."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Flag, Length, Reference, Resistance, Section, choice


class ControlLead(Section):
    """A control lead."""

    from_: Reference | None = Field(None, alias="from", description="The expression pedal, footswitch or relay.")
    to: Reference | None = Field(None, description="The jack that listens.")
    plug: choice("ts", "trs") | None = Field(None, description="Its plug: TS has two contacts, TRS three.")
    wiper: choice("tip", "ring") | None = Field(None, description="The contact that the expression pedal's wiper is on.")
    pot: Resistance | None = Field(None, description="The expression pedal's pot.")
    contact: choice("normally-open", "normally-closed") | None = Field(None, description="Whether the switch rests open or closed.")
    action: choice("momentary", "latching") | None = Field(None, description="Whether the switch springs back or stays.")
    functions: choice("1", "2") | None = Field(None, description="How many things it switches; two want a TRS lead.")
    isolated: Flag | None = Field(None, description="Whether it joins no grounds.")
    length: Length | None = Field(None, description="How long it is.")
