"""What joins the ground of one thing to that of another, or to protective earth: one bond for each piece of metal.

Nodes are tuples: ``("earth",)`` is protective earth, ``("ground", "echo")`` the signal ground of a thing,
``("ground", "iso", "out")`` the far side of something that keeps its two sides apart, ``("pole", "brick.1", "−")`` a pole
of an outlet, ``("metal", "frame")`` a piece of metal. Wall circuits are one earth here: inside the building they are
joined, and the small voltages between them belong to the estimates of hum.

A mains cord's earth is always there. Whatever the text says about a lifted one, it is a danger to be mended and never a
way to open a loop.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum
from itertools import pairwise

from boardwright import limits
from boardwright.board.audio import Audio, Hop
from boardwright.board.conductors import MINUS, Node, ground, pole, power_bonds
from boardwright.board.mains import OnTheWall
from boardwright.board.power import Power
from boardwright.board.signal.jacks import is_link
from boardwright.spec.fields import NOTHING, Jack, YesNo
from boardwright.spec.figure import Origin
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections import grounds
from boardwright.spec.sections.isolators import Isolator

EARTH: Node = ("earth",)


class Via(StrEnum):
    """The sort of metal that a bond is made of."""

    CORD = "mains cord"
    SCREEN = "audio screen"
    RETURN = "power return"
    CONTROL = "control lead"
    MIDI = "MIDI lead"
    USB = "computer lead"
    METAL = "metal"


@dataclass(frozen=True, slots=True)
class Bond:
    """Two nodes that are joined, and by what. ``origin`` UNKNOWN: it may be there or not, and ``question`` would settle it."""

    a: Node
    b: Node
    via: Via
    says: str
    path: Path
    origin: Origin = Origin.STATED
    question: str = ""
    owner: str = ""
    """For a bond to earth: the thing by whose mains cord it goes."""
    soft: bool = False
    """Whether it has a resistance of some ohms, so that it lets little loop current through."""
    hop: Hop | None = field(default=None, compare=False)
    """The lead that it is the screen of."""

    @property
    def to_earth(self) -> bool:
        return EARTH in (self.a, self.b)

    @property
    def sure(self) -> bool:
        return self.origin > Origin.UNKNOWN

    def other(self, node: Node) -> Node:
        return self.b if node == self.a else self.a


def name_of(node: Node) -> str:
    """A node as a person says it."""
    return node[1] if len(node) > 1 else "earth"


def is_far_side(node: Node) -> bool:
    """Whether it is the far side of something that keeps its two sides apart, or may."""
    return node[0] == "ground" and len(node) > 2


# --- audio leads --------------------------------------------------------------------------------------------------


def screen_bonds(spec: Spec, audio: Audio) -> Iterator[Bond]:
    """The screens of all audio leads, and what passes them on inside isolators."""
    apart: dict[Node, Node] = {}
    for hop in audio.hops:
        if hop.is_air or hop.start.thing == hop.end.thing:
            continue
        start, end = output_side(spec, hop.start), ground(hop.end.thing)
        if start != ground(hop.start.thing):
            apart[start] = ground(hop.start.thing)
        joined = _joins(hop)
        if joined is not None:
            yield Bond(start, end, Via.SCREEN, f"the screen of the lead {hop.start.thing} > {hop.end.thing}", hop.path, *joined, hop=hop)
    for far, near in apart.items():
        inside = _passes(spec, far)
        if inside is not None:
            yield replace(inside, a=near, b=far)


def output_side(spec: Spec, jack: Jack) -> Node:
    """The node that a lead from ``jack`` starts at: a side of its own, where the thing may keep its sides apart."""
    near = ground(jack.thing)
    if screen_of(spec, jack.thing, jack.jack) is None or (jack.thing not in spec.switchers and is_link(jack.jack)):
        return near
    return (*near, jack.jack or "out")


def screen_of(spec: Spec, name: str, jack: str | None = None) -> str | None:
    """``lifted``, ``through`` or ``unknown`` at an output that may be kept apart from its box; ``None`` for any other."""
    switcher = spec.switchers.get(name)
    if switcher is not None:
        out = (switcher.outs or {}).get(jack or "")
        stated = out.screen if out else None
        return stated or ("unknown" if switcher.isolating is YesNo.YES else None)  # which of its outputs, it does not say
    box = spec.isolators.get(name) or spec.pedals.get(name)
    if box is None:
        return None
    if box.screen is not None:
        return box.screen
    if box.isolating is YesNo.YES:
        return "unknown" if box.kind == "splitter" else "lifted"
    is_isolator = isinstance(box, Isolator) or box.kind in ("di", "reamp")
    return "unknown" if is_isolator else None


def _passes(spec: Spec, far: Node) -> Bond | None:
    """What joins the two sides of an isolator inside it; nothing where its screen is lifted."""
    name, jack = far[1], far[2]
    how = screen_of(spec, name, jack)
    if how == "lifted":
        return None
    section = next((key for key in ("isolators", "pedals", "switchers") if name in getattr(spec, key)), "isolators")
    named = f"output `{jack}` of `{name}`" if section == "switchers" or jack != "out" else f"`{name}`"
    question = f"Is the screen of {named} lifted, or does it pass through? Only a lifted one keeps grounds apart."
    origin = Origin.STATED if how == "through" else Origin.UNKNOWN
    return Bond((), (), Via.SCREEN, f"the screen that passes through {name}", (section, name), origin, question)


def _joins(hop: Hop) -> tuple[Origin, str] | None:
    """Whether a lead joins the grounds at its ends: how surely, and the question that would settle it."""
    lead = hop.lead
    screen = lead.screen if lead else None
    balanced = bool(lead and lead.balanced)
    two_cores = bool(lead and lead.cores == 2)
    if screen is None or screen == "both":
        return Origin.STATED, ""
    if screen == "unknown":
        return Origin.UNKNOWN, f"Is the screen of the lead {hop.start} > {hop.end} connected at both ends?"
    if not balanced and (two_cores or (screen == "none" and lead is not None and lead.cable == "loudspeaker")):
        return Origin.STATED, ""  # the second conductor is the return
    return None


# --- everything else that joins grounds ---------------------------------------------------------------------------


def return_bonds(power: Power) -> Iterator[Bond]:
    """Power returns: the pole of its outlet that each device's ground is on, and outlets that share one inside."""
    for a, b, by, path in power_bonds(power):
        yield Bond(a, b, Via.RETURN, by, path)


def control_bonds(spec: Spec) -> Iterator[Bond]:
    """Control, MIDI and computer leads that join grounds."""
    for number, lead in spec.control.items():
        if lead.from_ and lead.to and lead.from_.thing != lead.to.thing and (joined := _control(spec, lead.from_, lead.isolated)):
            says = f"the sleeve of the control lead {lead.from_} > {lead.to}"
            yield Bond(ground(lead.from_.thing), ground(lead.to.thing), Via.CONTROL, says, ("control", number), *joined)
    for number, entry in spec.midi.items():
        for chain in (entry.path or ()) if entry.screen in ("both", "unknown") else ():
            for start, end in pairwise(chain):
                origin = Origin.STATED if entry.screen == "both" else Origin.UNKNOWN
                question = f"Does the MIDI input of `{end.thing}` join the lead's screen? By the standard it does not."
                yield Bond(
                    ground(start.thing),
                    ground(end.thing),
                    Via.MIDI,
                    f"the screen of the MIDI lead {start} > {end}",
                    ("midi", number),
                    origin,
                    question,
                )
    for number, lead in spec.usb.items():
        if not lead.from_ or not lead.to or lead.when == "service" or lead.isolated:
            continue
        unsure = lead.when in (None, "unknown") or lead.isolated is YesNo.UNKNOWN
        question = f"Is the lead {lead.from_} > {lead.to} plugged in during a show, or for service only? Write `when`."
        says = f"the computer lead {lead.from_} > {lead.to}"
        origin = Origin.UNKNOWN if unsure else Origin.STATED
        yield Bond(ground(lead.from_.thing), ground(lead.to.thing), Via.USB, says, ("usb", number), origin, question)


def _control(spec: Spec, start: Jack, isolated: YesNo | None) -> tuple[Origin, str] | None:
    if isolated is YesNo.YES:
        return None
    if isolated is YesNo.NO:
        return Origin.STATED, ""
    switcher = spec.switchers.get(start.thing)
    relay = (switcher.relays or {}).get(start.jack or "") if switcher else None
    if relay is not None and relay.floating in (YesNo.YES, YesNo.NO):
        return None if relay.floating else (Origin.STATED, "")
    pedal = spec.pedals.get(start.thing)
    if relay is None and pedal is not None and pedal.kind in ("expression-pedal", "footswitch") and pedal.needs in (None, NOTHING):
        return Origin.STATED, ""  # nothing in it but the lead's own contacts
    return Origin.UNKNOWN, f"Is the contact in `{start}` floating, joined to nothing else in `{start.thing}`? Write `isolated` on its control lead."


def metal_bonds(spec: Spec, things: Iterable[str]) -> Iterator[Bond]:
    """Brackets, screws and strips, as ``grounds`` lists them."""
    known = set(things)

    def node(jack: Jack) -> Node:
        if jack.thing in known:
            return ground(jack.thing)
        return EARTH if jack.thing == grounds.EARTH else ("metal", jack.thing)

    for number, entry in spec.grounds.items():
        if not entry.between or len(entry.between) < 2:
            continue
        one, other = entry.between
        soft = bool(entry.resistance and entry.resistance.known and entry.resistance.value >= limits.SOFT_BOND.value)
        says = f"the {entry.by or 'metal'} between {one.thing} and {other.thing}"
        owner = f"the {entry.by or 'metal'} at {one.thing}"
        yield Bond(node(one), node(other), Via.METAL, says, ("grounds", number), owner=owner, soft=soft)


# --- bonds to earth -----------------------------------------------------------------------------------------------


def earth_bonds(spec: Spec, wall: OnTheWall, power: Power, ends: Iterable[str]) -> Iterator[Bond]:
    """The protective earth of every mains cord that reaches a signal ground. ``ends``: amplifiers that are only mentioned."""
    for name, amp in spec.amps.items():
        item = wall.items.get(name)
        kind, origin = item.protection if item else ("II", Origin.ASSUMED)
        yield from _earthed(name, ("amps", name), amp.earth_bond, kind, origin)
    for name in ends:
        yield from _earthed(name, ("audio",), None, None, Origin.UNKNOWN)
    for name, computer in spec.computers.items():
        item = wall.items.get(name)
        kind, origin = item.protection if item else ("II", Origin.STATED)
        stated = "hard" if computer.joined_to and computer.earth_bond is None else computer.earth_bond
        yield from _earthed(name, ("computers", name), stated, kind, origin)
    for name, supply in spec.supplies.items():
        if supply.earthed_output in (YesNo.YES, YesNo.UNKNOWN) and name in power.supplies:
            yield from _earthed_outlets(name, bool(supply.earthed_output), power)
    section = wall.section
    enclosure = section.enclosure
    if enclosure is not None and enclosure.earthed:
        yield Bond(("metal", grounds.ENCLOSURE), EARTH, Via.CORD, "the mains cord of the enclosure", ("mains", "enclosure", "earthed"), owner="mains")
    if section.frame_earthed:
        yield Bond(("metal", grounds.FRAME), EARTH, Via.CORD, "the mains cord of the frame", ("mains", "frame_earthed"), owner="mains")


def _earthed(name: str, path: Path, stated: str | None, kind: str | None, known: Origin) -> Iterator[Bond]:
    if stated == "none":
        return
    says = f"the mains cord of {name}"
    if stated in ("hard", "soft"):
        yield Bond(ground(name), EARTH, Via.CORD, says, (*path, "earth_bond"), owner=name, soft=stated == "soft")
    elif kind == "I":
        yield Bond(ground(name), EARTH, Via.CORD, says, path, Origin.ASSUMED, owner=name)
    elif kind is None:
        question = (
            f"Is the ground of `{name}` joined to earth inside? Its label tells most of it: class I has an earth pin, "
            "class II (a square in a square) has none."
        )
        yield Bond(ground(name), EARTH, Via.CORD, says, path, Origin.UNKNOWN, question, owner=name)


def _earthed_outlets(name: str, sure: bool, power: Power) -> Iterator[Bond]:
    """The returns of a supply that joins them to earth, each once."""
    pools = {power.pool(outlet): outlet for outlet in reversed(power.supplies[name].outlets.values())}
    question = f"Is the return of the outlets of `{name}` joined to earth inside? With nothing plugged in, a qualified person can measure it."
    for outlet in pools.values():
        origin = Origin.STATED if sure else Origin.UNKNOWN
        path: Path = ("supplies", name, "earthed_output")
        yield Bond(pole(outlet, MINUS), EARTH, Via.CORD, f"the mains cord of {name}", path, origin, question, owner=name)
