"""``usb``: computer leads, which bring an earth and chatter of their own."""

from __future__ import annotations

from pydantic import Field

from boardwright.spec.fields import Flag, Reference, Section, choice


class UsbLead(Section):
    """A USB (or network, or display) lead."""

    from_: Reference | None = Field(None, alias="from", description="One end.")
    to: Reference | None = Field(None, description="The other end.")
    when: choice("show", "service") | None = Field(None, description="Plugged in during a show, or for service only.")
    isolated: Flag | None = Field(None, description="Whether an isolator in it keeps the grounds apart.")
