"""``mains``: what touches the wall. Nothing here is designed by the checker: it names hazards and says whom to ask."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from boardwright.spec.fields import (
    ONE_OR_MORE,
    ApparentPower,
    Current,
    Flag,
    Length,
    Mass,
    Place,
    Read,
    Resistance,
    Section,
    Text,
    Voltage,
    choice,
)
from boardwright.spec.mains_phrase import Fuse, Ingress, read_fuse, read_ingress
from boardwright.spec.sections.boxes import whole
from boardwright.spec.sections.wall import Circuit, Input, Leakage, Mark, SetTo

Names = Annotated[list[Text], ONE_OR_MORE]
FuseMark = Annotated[Fuse, Read(read_fuse, {"type": "string", "examples": ["T2A", "none"]})]
IngressCode = Annotated[Ingress, Read(read_ingress, {"type": ["string", "integer"], "examples": ["IP44", "2x", "0"]})]

COUPLERS = ("c2", "c6", "c8", "c14", "c16", "c18", "c20", "locking", "hard")


class Inlet(Section):
    """A mains inlet in the board or its case."""

    type: choice(*COUPLERS) | None = Field(None, description="What it is: `C14` and its family (IEC 60320), a `locking` one, or a cord fixed `hard`.")
    rating: Current | None = Field(None, description="The current on its label.")
    fuse: FuseMark | None = Field(None, description="Its fuse, as printed on it: `T2A`; `none`; or `bridged` if something stands in for it.")
    earth: Flag | None = Field(None, description="Whether it has an earth contact.")
    circuit: Circuit = None


class Cord(Section):
    """A mains cord."""

    from_: Text | None = Field(None, alias="from", description="Where it is plugged in: a block, an inlet, a circuit or `wall`.")
    to: Text | None = Field(None, description="What it feeds.")
    cores: whole(2, 3, "number of conductors") = Field(None, description="How many conductors it has; the third is the protective earth.")
    rating: Current | None = Field(None, description="The current it may carry.")
    length: Length | None = Field(None, description="How long it is.")
    coiled: Flag | None = Field(None, description="Whether it stays wound on a reel or in a coil while in use.")
    coiled_rating: Current | None = Field(None, description="The current it may carry while coiled, as marked on the reel.")
    damaged: Flag | None = Field(None, description="Whether its sheath, plug or connector is cut, cracked, scorched or taped.")
    earth_lifted: Flag | None = Field(None, description="Whether its protective earth is interrupted anywhere.")
    ends: list[choice("plug", "connector")] | None = Field(
        None, description="The end towards the wall, then the end towards the gear: pins that stick out are a `plug`.", min_length=2, max_length=2
    )


class PlugAdaptor(Section):
    """A plug-in adaptor or supply that hangs on a block."""

    width: Place | None = Field(None, description="How wide it is along the row of outlets.")
    weight: Mass | None = Field(None, description="What it weighs.")
    sideways: Flag | None = Field(None, description="Whether it hangs out sideways and levers on its pins.")


class Block(Section):
    """An extension block, a distribution box or a reel."""

    outlets: whole(1, 40, "number of outlets") = Field(None, description="How many outlets it has.")
    pitch: Place | None = Field(None, description="Distance between the middles of two outlets.")
    rating: Current | None = Field(None, description="The current on its label.")
    fed_from: Text | None = Field(None, description="What it is plugged into: another block, an inlet, a circuit or `wall`.")
    feeds: Names | None = Field(None, description="What is plugged into it.")
    adaptors: list[PlugAdaptor] | None = Field(None, description="Plug-in adaptors on it.", max_length=40)
    fuse: FuseMark | None = Field(None, description="The fuse in it or in its plug.")
    coiled: Flag | None = Field(None, description="For a reel: whether its cord stays wound up while in use.")
    coiled_rating: Current | None = Field(None, description="For a reel: the current it may carry while wound up.")
    earthed: Flag | None = Field(None, description="Whether its outlets have earth contacts.")
    earth_checked: Flag | None = Field(None, description="Whether the earth of its outlets was tested.")
    splashed: Flag | None = Field(None, description="Whether it lies where a drink or rain can reach it.")
    circuit: Circuit = None


class Adaptor(Section):
    """A travel adaptor, or anything else between a plug and an outlet."""

    plugs_on: Text | None = Field(None, description="The cord, block or thing whose plug is in it.")
    earth_contact: Flag | None = Field(None, description="Whether it carries the earth through.")


class Enclosure(Section):
    """The box or compartment that mains parts on the board are in."""

    material: choice("wood", "metal", "plastic") | None = Field(None, description="What it is made of.")
    earthed: Flag | None = Field(None, description="Whether a metal one is joined to protective earth.")
    earth_resistance: Resistance | None = Field(None, description="Measured from its metal to the earth pin, without the cord.")
    ip: IngressCode | None = Field(None, description="Degree of protection: `IP44`, `2x`; `0` for an open one.")
    needs_tool: Flag | None = Field(None, description="Whether it opens only with a tool.")
    damaged: Flag | None = Field(None, description="Whether it is cracked, or a part of it is missing.")
    compartment: choice("own", "shared") | None = Field(
        None, description="Whether mains has a closed compartment to itself, or shares one with leads of the board."
    )
    sheathed: Flag | None = Field(None, description="Whether every mains conductor lies in a cable with an outer sheath.")
    same_connectors: Flag | None = Field(None, description="Whether a mains connector on it fits an audio or control one.")


class MainsTests(Section):
    """What a qualified person measured and wrote down."""

    earth_resistance: Resistance | None = Field(None, description="From the earth pin to the metal of the board, without the cord.")
    insulation: Resistance | None = Field(None, description="Insulation between mains and earth, at 500 V dc.")
    polarity: Flag | None = Field(None, description="Whether live and neutral are the right way round.")
    rcd: Flag | None = Field(None, description="Whether the residual-current device tripped when its test button was pressed.")
    touch: Voltage | None = Field(
        None, description="Between two things that a player touches at once, such as microphone and strings, measured by a qualified person."
    )


class Load(Section):
    """Something else on the same mains: a lamp, a fan, a radio."""

    class_: choice("I", "II", "i", "ii") | None = Field(None, alias="class", description="Protection class on its label.")
    input: Input = None
    set_to: SetTo = None
    mark: Mark = None
    circuit: Circuit = None
    load: ApparentPower | None = Field(None, description="What it takes from the wall at most, as rated.")
    leakage: Leakage = None


SIGNS = ("tingle", "burning-smell", "trips-again", "scorched", "crackles", "hot-plug", "wet")
WORK = ("wire", "open", "re-tap", "alter", "repair")


class Mains(Section):
    """Everything at mains voltage, on the board and on the way to it."""

    on_board: Flag | None = Field(None, description="Whether anything at mains voltage is mounted on the board.")
    made_by: choice("factory", "electrician", "self") | None = Field(
        None, description="Who made the mains parts on the board: bought as they are, an `electrician` (or another qualified person), or `self`."
    )
    loose_wiring: Flag | None = Field(None, description="Whether there is mains wiring outside of factory-made units and their cords.")
    frame_earthed: Flag | None = Field(None, description="Whether a metal frame of the board is joined to protective earth.")
    inlets: dict[str, Inlet] | None = Field(None, description="Mains inlets by a name of your own.")
    feeds: dict[str, Names] | None = Field(None, description="What each inlet feeds: `{main: [psu_a, fan]}`.")
    cords: dict[str, Cord] | None = Field(None, description="Mains cords by a name of your own.")
    blocks: dict[str, Block] | None = Field(None, description="Extension blocks, distribution boxes and reels.")
    adaptors: dict[str, Adaptor] | None = Field(None, description="Travel adaptors and the like, by a name of your own.")
    loads: dict[str, Load] | None = Field(None, description="Other things on the same mains, by name.")
    enclosure: Enclosure | None = Field(None, description="The box or compartment that mains parts on the board are in.")
    tests: MainsTests | None = Field(None, description="What a qualified person measured.")
    planned_work: Annotated[list[choice(*WORK)], ONE_OR_MORE] | None = Field(
        None, description="Work at mains voltage that somebody has in mind. The checker only says whose work it is."
    )
    looked_over: Flag | None = Field(
        None,
        description="Whether somebody looked over all that plugs into the wall, with the plugs out, and found nothing amiss: cords, plugs and "
        "cases whole, dry and closed, with their safety marks, no bare pins, no warning sign, nothing to repair. One `yes` answers for the board.",
    )
    signs: Annotated[list[choice(*SIGNS)], ONE_OR_MORE] | None = Field(
        None, description="Warning signs that somebody has noticed: a tingle, a burning smell, something that trips again and again."
    )
