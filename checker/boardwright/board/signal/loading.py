"""What a passive source drives: every way from it to the first box that drives what follows, with cable and load."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from boardwright import limits
from boardwright.board.audio import GUITAR
from boardwright.board.signal.diagrams import NEVER, Diagram
from boardwright.board.signal.graph import Edge, Node, Walk
from boardwright.board.signal.signal import Signal
from boardwright.board.signal.stages import Role, Stage
from boardwright.physics import impedance, pickup
from boardwright.physics.pickup import Pickup
from boardwright.spec.figure import Origin, weakest
from boardwright.spec.sections.guitar import Guitar

PICKUPS = {
    "single-coil": (Pickup(2.5, 6.2e3, 110e-12), 250e3),
    "humbucker": (Pickup(4.5, 8.2e3, 150e-12), 500e3),
    "p-style": (Pickup(6.0, 8.0e3, 120e-12), 500e3),
}
"""Usual coils, and the pots that go with them (ohm); bench values, no published source. Differences between two cases
say more than absolute figures: real coils peak a little less."""


class Segment(NamedTuple):
    """A way from a source to the first input that drives what follows."""

    source: str
    end: Stage
    capacitance: float
    """Cable and inputs on the way, at most (F)."""
    walk: Walk
    origin: Origin

    @property
    def way(self) -> tuple[Edge, ...]:
        return self.walk.way

    @property
    def unsure(self) -> tuple[str, ...]:
        """Boxes on the way whose bypass is not known: with a buffer in one, the way would end there."""
        return tuple(dict.fromkeys(edge.stage.name for edge in self.way if edge.stage is not None and edge.drives is None))


def segments(signal: Signal, source: str, starts: Iterable[Node]) -> list[Segment]:
    """For each box that can be the first to drive what follows, the way to it with the most capacitance.

    Walked in the order of the sound, so that its cost grows with the number of leads and not of switch states. Switches
    that stand on one way twice may make a way that no state has: it is then a little too pessimistic.
    """
    order = signal.graph.order
    best: dict[Node, tuple[float, Walk | None, Origin]] = {node: (0.0, None, Origin.STATED) for node in starts if node in order}
    found: dict[str, Segment] = {}
    for node in order:
        if node not in best:
            continue
        capacitance, walk, origin = best[node]
        for edge in signal.graph.leaving[node]:
            if order[edge.end] <= order[node]:
                continue
            added, known = _adds(signal, edge)
            total, grown, sure = capacitance + added, Walk(edge, walk), weakest([origin, known])
            if edge.stage is not None and _ends(edge):
                _keep(found, Segment(source, edge.stage, total, grown, sure))
            elif edge.end not in best or total > best[edge.end][0]:
                best[edge.end] = (total, grown, sure)
    return list(found.values())


def _keep(found: dict[str, Segment], segment: Segment) -> None:
    known = found.get(segment.end.name)
    if known is None or segment.capacitance > known.capacitance:
        found[segment.end.name] = segment


def _ends(edge: Edge) -> bool:
    assert edge.stage is not None
    return bool(edge.drives) or edge.stage.role is Role.AMP or edge.stage.kind_name in ("transformer", "di", "reamp")


def _adds(signal: Signal, edge: Edge) -> tuple[float, Origin]:
    """Capacitance (F) of one edge."""
    if edge.hop is not None:
        return _lead(signal, edge)
    assert edge.stage is not None
    if edge.stage.role is Role.SWITCHER:
        return 0.0, Origin.STATED
    return (limits.INPUT_CAPACITANCE if _ends(edge) or edge.engaged else limits.BYPASS_CAPACITANCE).value, Origin.ASSUMED


def _lead(signal: Signal, edge: Edge) -> tuple[float, Origin]:
    hop = edge.hop
    assert hop is not None
    if hop.is_air:
        return 0.0, Origin.STATED
    section = signal.stages[hop.start.thing].section if hop.start.thing in signal.stages else None
    own = section.lead if isinstance(section, Guitar) else None
    length = hop.length or (own.length if own else None)
    per_metre = (hop.lead.capacitance if hop.lead else None) or (own.capacitance if own else None)
    to_amp = hop.end.thing in signal.stages and signal.stages[hop.end.thing].role is Role.AMP
    usual = limits.RIG_LEAD if to_amp or hop.start.thing == GUITAR else limits.BOARD_LEAD
    metres = length.value if length and length.known else usual.value
    farads = per_metre.value if per_metre and per_metre.known else limits.CABLE_CAPACITANCE.value
    return metres * farads, length.origin if length and length.known else Origin.ASSUMED


@dataclass(frozen=True, slots=True)
class Coil:
    """A passive magnetic source: its equivalent circuit and the pots across it (ohm)."""

    pickup: Pickup
    pots: float
    origin: Origin

    def treble(self, segment: Segment) -> float:
        """Level (dB) at 5 kHz against 100 Hz at the end of a segment."""
        return pickup.level(5e3, 100.0, self.pickup, segment.capacitance, self.load(segment))

    def resonance(self, segment: Segment) -> float:
        """Where the peak lies (Hz)."""
        return pickup.resonance(self.pickup, segment.capacitance)

    def load(self, segment: Segment) -> float:
        """Pots and input side by side (ohm)."""
        return impedance.parallel(self.pots, segment.end.zin.value)


def coil_of(stage: Stage) -> Coil | None:
    """The pickups of a source; ``None`` for one that has none, or whose pickups cables do not matter to."""
    if not stage.is_passive_pickup:
        return None
    section = stage.section if isinstance(stage.section, Guitar) else None
    kind = section.pickups if section else None
    if kind in ("piezo", "active"):
        return None
    usual, pot = PICKUPS.get(kind or "", PICKUPS["single-coil"])
    stated = [getattr(section, key, None) for key in ("L", "R", "C")]
    values = [figure.value if figure is not None and figure.known else own for figure, own in zip(stated, usual, strict=True)]
    volume, tone = (getattr(section, key, None) for key in ("volume_pot", "tone_pot"))
    pots = impedance.parallel(volume.value if volume and volume.known else pot, tone.value if tone and tone.known else pot)
    return Coil(Pickup(*values), pots, Origin.STATED if all(stated) else Origin.ASSUMED)


def driven(signal: Signal) -> dict[Node, Diagram]:
    """For each node, the states in which what arrives there has passed something that drives it.

    Behind a reamp box nothing does: it stands for a pickup."""
    reach, both, either = signal.reach(), signal.diagrams.both, signal.diagrams.either
    starts: dict[Node, Diagram] = {}
    for edge in signal.graph.edges:
        source = signal.stages.get(edge.start.thing)
        is_firm = source is not None and source.role is Role.SOURCE and not source.is_passive_pickup
        if edge.drives or is_firm or (edge.hop is not None and edge.hop.is_air):
            states = both(reach.get(edge.start, NEVER), signal.guard(edge))
            starts[edge.end] = either(starts.get(edge.end, NEVER), states)
    return signal.spread(starts, along=lambda edge: edge.stage is None or edge.stage.kind_name != "reamp")
