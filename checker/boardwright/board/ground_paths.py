"""Ways through the ground graph: what hangs together, where two mains cords close a loop, and the shortest way between two."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Collection, Hashable, Iterable
from dataclasses import dataclass

from boardwright.board.ground_bonds import EARTH, Bond, Node, Via


class Join:
    """Union-find. Neither operation calls itself, so that a chain of any length can be joined."""

    def __init__(self) -> None:
        self._parent: dict[Hashable, Hashable] = {}

    def find(self, node: Hashable) -> Hashable:
        """One node that stands for everything that ``node`` is joined to."""
        parent = self._parent
        while (above := parent.get(node, node)) != node:
            parent[node] = node = parent.get(above, above)
        return node

    def join(self, a: Hashable, b: Hashable) -> bool:
        """Join two nodes. ``False`` if they were joined already, so that this closes a ring."""
        a, b = self.find(a), self.find(b)
        if a == b:
            return False
        self._parent[a] = b
        return True


@dataclass(frozen=True, slots=True)
class Loop:
    """A ring through protective earth by two different mains cords.

    ``out`` leaves the earth, ``way`` goes through signal grounds, ``back`` returns to the earth and is the one that closes it.
    """

    out: Bond
    way: tuple[Bond, ...]
    back: Bond

    @property
    def bonds(self) -> tuple[Bond, ...]:
        return (self.out, *self.way, self.back)

    @property
    def soft(self) -> bool:
        return any(bond.soft for bond in self.bonds)

    @property
    def doubts(self) -> list[Bond]:
        """Bonds of it that may not be there."""
        return [bond for bond in self.bonds if not bond.sure]

    @property
    def cords(self) -> tuple[str, str]:
        """The things by whose mains cords it goes."""
        return self.out.owner, self.back.owner

    def goes_by(self, via: Via) -> list[Bond]:
        return [bond for bond in self.way if bond.via is via]


def joined(bonds: Iterable[Bond]) -> Join:
    found = Join()
    for bond in bonds:
        found.join(bond.a, bond.b)
    return found


Bonds = dict[Node, list[Bond]]
"""Bonds by the nodes that they end at."""


def by_node(bonds: Iterable[Bond]) -> Bonds:
    at: Bonds = defaultdict(list)
    for bond in bonds:
        at[bond.a].append(bond)
        at[bond.b].append(bond)
    return at


def shortest_way(at: Bonds, start: Node, ends: Collection[Node]) -> list[Bond] | None:
    """The fewest bonds from ``start`` to any of ``ends``; ``None`` where there is no way."""
    came: dict[Node, Bond | None] = {start: None}
    work = deque([start])
    while work:
        here = work.popleft()
        if here in ends:
            way = []
            while (bond := came[here]) is not None:
                way.append(bond)
                here = bond.other(here)
            return way[::-1]
        for bond in at.get(here, ()):
            there = bond.other(here)
            if there not in came:
                came[there] = bond
                work.append(there)
    return None


def earth_loops(bonds: Iterable[Bond]) -> list[Loop]:
    """Every loop through protective earth by two different mains cords, one for each cord too many.

    What is sure and hard is taken first, so that a doubtful or soft bond is blamed only for what it adds itself.
    """
    bonds = list(bonds)
    signal = [bond for bond in bonds if not bond.to_earth]
    islands, at = joined(signal), by_node(signal)
    earthed: dict[Hashable, list[Bond]] = defaultdict(list)
    loops = []
    for bond in sorted((bond for bond in bonds if bond.to_earth), key=lambda bond: (not bond.sure, bond.soft)):
        node = bond.other(EARTH)
        others = earthed[islands.find(node)]
        if all(other.owner != bond.owner for other in others):
            if others:
                nodes = {other.other(EARTH): other for other in reversed(others)}
                way = shortest_way(at, node, nodes)
                assert way is not None, "what hangs together has a way"
                loops.append(Loop(nodes[_end(node, way)], tuple(reversed(way)), bond))
            others.append(bond)
    return loops


def _end(start: Node, way: Iterable[Bond]) -> Node:
    here = start
    for bond in way:
        here = bond.other(here)
    return here


def rings(bonds: Iterable[Bond]) -> list[list[Bond]]:
    """Independent rings of metal, each with the bond that closes it first and the rest in order from its end to its start.

    Power returns make up the tree as far as they can, so that a ring is closed by an audio lead wherever one is in it.
    """
    bonds = sorted(bonds, key=lambda bond: bond.via is not Via.RETURN)
    joins, tree, closing = Join(), [], []
    for bond in bonds:
        (tree if joins.join(bond.a, bond.b) else closing).append(bond)
    up = _rooted(by_node(tree))
    return [[bond, *_through_tree(up, bond.b, bond.a)] for bond in closing]


def _rooted(at: Bonds) -> dict[Node, tuple[int, Bond | None]]:
    """For each node of a forest its depth, and the bond that leads up from it."""
    up: dict[Node, tuple[int, Bond | None]] = {}
    for root in at:
        if root in up:
            continue
        up[root] = (0, None)
        work = deque([root])
        while work:
            here = work.popleft()
            for bond in at[here]:
                there = bond.other(here)
                if there not in up:
                    up[there] = (up[here][0] + 1, bond)
                    work.append(there)
    return up


def _through_tree(up: dict[Node, tuple[int, Bond | None]], start: Node, end: Node) -> list[Bond]:
    """The bonds of a forest from ``start`` to ``end``, which hang together in it."""
    rising: list[Bond] = []
    falling: list[Bond] = []
    while start != end:
        climbs = up[start][0] >= up[end][0]
        bond = up[start if climbs else end][1]
        assert bond is not None, "both ends hang in one tree"
        if climbs:
            rising.append(bond)
            start = bond.other(start)
        else:
            falling.append(bond)
            end = bond.other(end)
    return rising + falling[::-1]
