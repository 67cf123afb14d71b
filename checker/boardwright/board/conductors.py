"""What is joined to what by metal: supply poles, signal grounds and the screens of the audio leads."""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable
from dataclasses import dataclass, field

from boardwright.board.audio import Audio
from boardwright.board.feeding import Device, Line
from boardwright.board.power import Power
from boardwright.board.supply import Outlet
from boardwright.spec.power_phrase import Flow

PLUS, MINUS = "+", "−"


@dataclass(slots=True)
class Conductors:
    """A graph of joined metal. Each bond says what makes it."""

    bonds: dict[Hashable, list[tuple[Hashable, str]]] = field(default_factory=dict)
    _parent: dict[Hashable, Hashable] = field(default_factory=dict)

    def join(self, a: Hashable, b: Hashable, by: str) -> None:
        self.bonds.setdefault(a, []).append((b, by))
        self.bonds.setdefault(b, []).append((a, by))
        self._parent[self._root(a)] = self._root(b)

    def _root(self, node: Hashable) -> Hashable:
        parent = self._parent
        while (above := parent.get(node, node)) != node:
            parent[node] = parent.get(above, above)
            node = parent[node]
        return node

    def joined(self, a: Hashable, b: Hashable) -> bool:
        return self._root(a) == self._root(b)

    def way(self, a: Hashable, b: Hashable) -> list[str]:
        """What joins ``a`` to ``b``, bond by bond, by the shortest way."""
        came: dict[Hashable, tuple[Hashable, str] | None] = {a: None}
        work = deque([a])
        while work:
            here = work.popleft()
            if here == b:
                break
            for there, by in self.bonds.get(here, []):
                if there not in came:
                    came[there] = (here, by)
                    work.append(there)
        steps: list[str] = []
        node: Hashable = b
        while (back := came.get(node)) is not None:
            node, by = back
            steps.append(by)
        return list(dict.fromkeys(reversed(steps)))


def pole(outlet: Outlet, sign: str) -> Hashable:
    return ("pole", outlet.id, sign)


def ground(name: str) -> Hashable:
    return ("ground", name)


def assemble_conductors(power: Power, audio: Audio) -> Conductors:
    """Join everything that metal joins, whatever is switched: screens and returns have no switches."""
    metal = Conductors()
    pools: dict[str, Outlet] = {}
    for outlet in power.outlets:
        if outlet.gives.flow is Flow.AC:
            continue
        first = pools.setdefault(power.pool(outlet), outlet)
        if first is not outlet:
            metal.join(pole(first, MINUS), pole(outlet, MINUS), f"the return that {first.id} and {outlet.id} share inside")
    for circuit in power.circuits:
        if circuit.mode == "series":
            if len({power.pool(outlet) for outlet in circuit.outlets}) < len(circuit.outlets):
                continue  # that lead is a short by itself, and a rule of its own says so
            for above, below in zip(circuit.outlets, circuit.outlets[1:], strict=False):
                metal.join(pole(above, PLUS), pole(below, MINUS), f"the lead that stacks {above.id} and {below.id}")
        elif circuit.mode == "parallel":
            for other in circuit.outlets[1:]:
                for sign in (PLUS, MINUS):
                    metal.join(pole(circuit.outlets[0], sign), pole(other, sign), f"the lead that joins {circuit.outlets[0].id} and {other.id}")
        for device, line in circuit.hung:
            _join_device(metal, device, line)
    for hop in audio.hops:
        if hop.start.thing != hop.end.thing:
            metal.join(ground(hop.start.thing), ground(hop.end.thing), f"the screen of the lead {hop.start.thing} > {hop.end.thing}")
    return metal


def _join_device(metal: Conductors, device: Device, line: Line) -> None:
    """The pole of the supply that a device's signal ground ends on."""
    how = device.pedal.ground if device.pedal else None
    if how in ("isolated", "unknown") or not line.outlets or device.supply is not None:
        return
    if any(outlet.gives.flow is Flow.AC for outlet in line.outlets):
        return
    sign = grounded_on(device, line)
    outlet = line.outlets[-1] if sign == PLUS and line.feed.mode == "series" else line.outlets[0]
    metal.join(ground(device.name), pole(outlet, sign), f"the power lead of {device.name}")


def grounded_on(device: Device, line: Line) -> str:
    """The pole of its supply that a device's signal ground is joined to."""
    wants = PLUS if device.pedal and device.pedal.ground == "positive" else MINUS
    if arrives_swapped(device, line):
        return MINUS if wants == PLUS else PLUS
    return wants


def arrives_swapped(device: Device, line: Line) -> bool:
    """Whether plus arrives where the device wants minus."""
    given, wanted = line.outlets[0].gives.polarity, device.needs.polarity
    if given is None or wanted is None:
        return False
    return (given if line.reversals % 2 == 0 else given.opposite) is not wanted
