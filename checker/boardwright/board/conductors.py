"""What is joined to what by metal: supply poles, signal grounds and the screens of the audio leads."""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, field

from boardwright.board.feeding import Device, Line
from boardwright.board.power import Power
from boardwright.board.supply import Outlet
from boardwright.spec.power_phrase import Flow
from boardwright.spec.problem import Path

PLUS, MINUS = "+", "−"
Node = tuple[str, ...]


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


def pole(outlet: Outlet, sign: str) -> Node:
    return ("pole", outlet.id, sign)


def ground(name: str) -> Node:
    return ("ground", name)


def assemble_conductors(power: Power, screens: Iterable[tuple[Hashable, Hashable, str]]) -> Conductors:
    """Join everything that metal joins, whatever is switched: screens and returns have no switches."""
    metal = Conductors()
    for a, b, by, _ in power_bonds(power):
        metal.join(a, b, by)
    for a, b, by in screens:
        metal.join(a, b, by)
    return metal


def power_bonds(power: Power) -> Iterator[tuple[Node, Node, str, Path]]:
    """What power leads and supplies join: two nodes, by what, and where that stands in the text."""
    pools: dict[str, Outlet] = {}
    for outlet in power.outlets:
        if outlet.gives.flow is Flow.AC:
            continue
        first = pools.setdefault(power.pool(outlet), outlet)
        if first is not outlet:
            yield pole(first, MINUS), pole(outlet, MINUS), f"the return that {first.id} and {outlet.id} share inside", outlet.path
    for circuit in power.circuits:
        first, path = circuit.outlets[0], circuit.outlets[0].path
        if circuit.mode == "series":
            if len({power.pool(outlet) for outlet in circuit.outlets}) < len(circuit.outlets):
                continue  # that lead is a short by itself, and a rule of its own says so
            for above, below in zip(circuit.outlets, circuit.outlets[1:], strict=False):
                yield pole(above, PLUS), pole(below, MINUS), f"the lead that stacks {above.id} and {below.id}", path
        elif circuit.mode == "parallel":
            for other in circuit.outlets[1:]:
                for sign in (PLUS, MINUS):
                    yield pole(first, sign), pole(other, sign), f"the lead that joins {first.id} and {other.id}", path
        for device, line in circuit.hung:
            if (end := _ground_pole(device, line)) is not None:
                yield ground(device.name), end, f"the power lead of {device.name}", line.path


def _ground_pole(device: Device, line: Line) -> Node | None:
    """The pole of the supply that a device's signal ground ends on."""
    how = device.box.ground if device.box else None
    if how in ("isolated", "unknown") or not line.outlets or device.supply is not None:
        return None
    if any(outlet.gives.flow is Flow.AC for outlet in line.outlets):
        return None
    sign = grounded_on(device, line)
    return pole(line.outlets[-1] if sign == PLUS and line.feed.mode == "series" else line.outlets[0], sign)


def grounded_on(device: Device, line: Line) -> str:
    """The pole of its supply that a device's signal ground is joined to."""
    wants = PLUS if device.box and device.box.ground == "positive" else MINUS
    if arrives_swapped(device, line):
        return MINUS if wants == PLUS else PLUS
    return wants


def arrives_swapped(device: Device, line: Line) -> bool:
    """Whether plus arrives where the device wants minus."""
    given, wanted = line.outlets[0].gives.polarity, device.needs.polarity
    if given is None or wanted is None:
        return False
    return (given if line.reversals % 2 == 0 else given.opposite) is not wanted
