"""The ground of a rig: everything that joins its grounds, and whether exactly one earth remains whoever is carried tonight."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from boardwright.board.audio import GUITAR, Audio, Hop
from boardwright.board.conductors import ground
from boardwright.board.ground_bonds import (
    EARTH,
    Bond,
    Node,
    Via,
    control_bonds,
    earth_bonds,
    is_far_side,
    metal_bonds,
    return_bonds,
    screen_bonds,
)
from boardwright.board.ground_paths import Bonds, Join, Loop, by_node, earth_loops, joined, shortest_way
from boardwright.board.mains import OnTheWall
from boardwright.board.power import Power
from boardwright.spec.fields import YesNo
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.wording import series

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


@dataclass(frozen=True, slots=True)
class Rig:
    """Sources and amplifiers that leads or metal join: one rig, that needs one earth. Two players who share nothing are two."""

    sources: tuple[str, ...]
    amps: tuple[str, ...]
    required: tuple[str, ...]
    """Those of its amplifiers that are always there."""


@dataclass(eq=False)
class Ground:
    """The ground graph of a board."""

    spec: Spec
    screens: list[Bond]
    bonds: list[Bond]
    """All of them, the screens too."""
    amps: list[str]
    """Amplifiers that a lead reaches, in the order of the text."""
    required: list[str]
    """Those of them that are always in the rig."""
    sources: list[str]
    """Where sound begins: guitars and instruments, each of which needs an earth."""
    names: dict[str, Path]
    leads: list[Hop]
    """Every audio lead."""

    @cached_property
    def rigs(self) -> list[Rig]:
        """The rigs of the board. An isolator parts grounds and no rig; a source that leads to no amplifier is judged with all."""
        joins = joined(bond for bond in self.signal_bonds if bond.sure)
        for hop in self.leads:
            joins.join(ground(hop.start.thing), ground(hop.end.thing))
        for name, far in self.isolated:
            joins.join(ground(name), far)
        groups: dict[Hashable, list[str]] = {}
        for source in self.sources:
            groups.setdefault(joins.find(ground(source)), []).append(source)
        rigs = []
        for root, sources in groups.items():
            amps = [name for name in self.amps if joins.find(ground(name)) == root] or self.amps
            rigs.append(Rig(tuple(sources), tuple(amps), tuple(name for name in amps if name in self.required)))
        return rigs

    @cached_property
    def loops(self) -> list[Loop]:
        """Loops through protective earth that are there for sure, the hard ones first."""
        return earth_loops(bond for bond in self.bonds if bond.sure)

    @cached_property
    def possible_loops(self) -> list[Loop]:
        """Loops that are there only if something is joined that may or may not be."""
        sure = {loop.back.owner for loop in self.loops}
        return [loop for loop in earth_loops(self.bonds) if loop.back.owner not in sure]

    @cached_property
    def signal_bonds(self) -> list[Bond]:
        return [bond for bond in self.bonds if not bond.to_earth]

    @cached_property
    def isolated(self) -> list[tuple[str, Node]]:
        """Things that keep two sides apart (or may), each with the node of its far side."""
        far = {end: None for bond in self.screens for end in (bond.a, bond.b) if is_far_side(end)}
        return [(node[1], node) for node in far]

    @cached_property
    def _around(self) -> tuple[Join, Bonds]:
        """Signal grounds as they hang together where whatever may keep two sides apart does."""
        kept = [bond for bond in self.signal_bonds if bond.sure or bond.hop is not None or bond.via is not Via.SCREEN]
        return joined(kept), by_node(kept)

    @cached_property
    def unplugged(self) -> tuple[Join, Join]:
        """What hangs together with every mains plug pulled: for sure, and at most."""
        bonds = [bond for bond in self.bonds if bond.via is not Via.CORD]
        return joined(bond for bond in bonds if bond.sure), joined(bonds)

    @cached_property
    def unplugged_bonds(self) -> tuple[Bonds, Bonds]:
        """The same bonds by node: the sure ones, and the hard ones among them."""
        sure = [bond for bond in self.bonds if bond.sure and bond.via is not Via.CORD]
        return by_node(sure), by_node(bond for bond in sure if not bond.soft)

    def side_path(self, far: Node) -> list[Bond] | None:
        """The way round something that should keep its sides apart, without any earth; ``None`` where there is none."""
        joins, at = self._around
        near = ground(far[1])
        return shortest_way(at, near, [far]) if joins.find(near) == joins.find(far) else None

    def reaches_earth_by_metal(self, name: str) -> bool:
        """Whether a piece of metal (``frame``, ``enclosure``) is joined to earth by metal and mains cords alone, no audio screen."""
        kept = joined(bond for bond in self.bonds if bond.sure and bond.via in (Via.METAL, Via.CORD))
        return kept.find(("metal", name)) == kept.find(EARTH)

    def path_of(self, name: str) -> Path:
        return self.names.get(name, ("mains",) if self.spec.mains else ("audio",))


def assemble_ground(spec: Spec, audio: Audio, power: Power, wall: OnTheWall, names: dict[str, Path]) -> Ground:
    """The ground graph. In a fragment, an unknown last name is an amplifier of which nothing is known."""
    screens = list(screen_bonds(spec, audio))
    leads = [hop for hop in audio.hops if not hop.is_air]
    starts, ends = {hop.start.thing for hop in leads}, {hop.end.thing for hop in leads}
    unknown_ends = [hop.end.thing for hop in leads if hop.end.thing not in names and hop.end.thing not in starts]
    unknown_ends = list(dict.fromkeys(unknown_ends)) if spec.fragment else []
    bonds = [
        *screens,
        *return_bonds(power),
        *control_bonds(spec),
        *metal_bonds(spec, [*names, *starts, *ends]),
        *earth_bonds(spec, wall, power, unknown_ends),
    ]
    amps = [name for name in spec.amps if name in ends or name in starts] + unknown_ends
    required = [name for name in amps if name in spec.amps and spec.amps[name].required is YesNo.YES]
    playing = [name for name in (GUITAR, *spec.instruments) if name in starts]
    sources = playing or [hop.start.thing for hop in leads if hop.start.thing not in ends][:1] or [hop.start.thing for hop in leads][:1]
    return Ground(spec, screens, bonds, amps, required, sources, names, leads)


# --- one earth ----------------------------------------------------------------------------------------------------


@dataclass(slots=True)
class OneEarth:
    """Whether exactly one earth remains for every set of amplifiers that may be carried, and the proof of it."""

    holds: bool | None
    """``None`` where it cannot be told."""
    loops: list[Loop] = field(default_factory=list)
    """With every amplifier connected: earths too many. Sure ones."""
    floating: list[tuple[str, ...]] = field(default_factory=list)
    """Smallest sets of amplifiers with which nothing earths the board, for sure."""
    possible_loops: list[Loop] = field(default_factory=list)
    possibly_floating: list[tuple[str, ...]] = field(default_factory=list)
    soft_loops: list[Loop] = field(default_factory=list)
    """Loops through a soft bond. They let little current through and are not counted as a second earth."""
    ways: dict[tuple[str, ...], list[Bond]] = field(default_factory=dict)
    """For each smallest set: how the board reaches earth with it."""
    questions: list[str] = field(default_factory=list)
    """What would decide it, where it cannot be told."""
    proof: list[str] = field(default_factory=list)
    """Why it holds, or what breaks it, in sentences."""
    witness: str | None = None
    """A set of amplifiers with which it is broken."""


def one_earth(board: Board) -> OneEarth:
    """Whether exactly one earth remains, whichever amplifiers are carried.

    Two observations make this as many checks as there are amplifiers and one more, instead of one for each set of them.
    Taking an amplifier away takes bonds away, which cannot close a loop: if the largest set has none, no set has. Adding an
    amplifier adds bonds, which cannot cut a way to earth: if each smallest set has one, every set has. The smallest sets are
    the required amplifiers, or each amplifier by itself where none is required. Rigs that share nothing each need their own.
    """
    here = board.ground
    answer = judge_one_earth(here.bonds, here.amps, here.rigs)
    answer.proof = list(_proof(here, answer))
    if answer.holds and any(link.lifted or link.lacks_earth_contact for link in board.wall.links.values()):
        answer.proof.append("This counts as if every mains earth were in place. What is described says that one is not: see to that first.")
    return answer


def smallest_sets(amps: Sequence[str], required: Collection[str]) -> list[tuple[str, ...]]:
    """The smallest sets of amplifiers that may be carried."""
    if required:
        return [tuple(name for name in amps if name in required)]
    return [(name,) for name in amps]


def floats(here: Ground, bonds: Iterable[Bond]) -> bool:
    """Whether bonds leave a rig without any earth even with every amplifier connected."""
    reach = _Reach(bonds, here.amps)
    return any(rig.amps and not reach.earthed(map(ground, rig.sources), rig.amps) for rig in here.rigs)


def judge_one_earth(bonds: Sequence[Bond], amps: Sequence[str], rigs: Iterable[Rig]) -> OneEarth:
    """The same on bare bonds: what ``one_earth`` decides by, without the words."""
    if not amps:
        return OneEarth(None, questions=["Which amplifiers are in the rig? Write `amps`, and lead the sound to them in `audio`."])
    answer = OneEarth(None)
    sure = [bond for bond in bonds if bond.sure]
    found = earth_loops(sure)
    answer.loops = [loop for loop in found if not loop.soft]
    answer.soft_loops = [loop for loop in found if loop.soft]
    closed = {loop.back.owner for loop in found}
    answer.possible_loops = [loop for loop in earth_loops(bonds) if loop.back.owner not in closed and not loop.soft]
    at_least, at_most = _Reach(sure, amps), _Reach(bonds, amps)
    rigs = list(rigs)
    for rig in rigs:
        nodes = [ground(name) for name in rig.sources]
        for carried in smallest_sets(rig.amps, rig.required):
            if not at_most.earthed(nodes, carried):
                answer.floating.append(carried)
            elif not at_least.earthed(nodes, carried):
                answer.possibly_floating.append(carried)
    if answer.loops or answer.floating:
        answer.holds = False
    elif not answer.possible_loops and not answer.possibly_floating:
        answer.holds = True
        for rig in rigs:
            answer.ways |= _ways(sure, amps, rig)
    answer.questions = list(_questions(bonds, answer, amps))
    answer.witness = _witness(answer, amps)
    return answer


class _Reach:
    """Whether sources reach earth with a set of amplifiers. What touches no amplifier is joined once, for all sets."""

    def __init__(self, bonds: Iterable[Bond], amps: Iterable[str]) -> None:
        self._nodes = {ground(name): name for name in amps}
        self._base = Join()
        self._brought: dict[str, list[Bond]] = {name: [] for name in self._nodes.values()}
        for bond in bonds:
            touched = {self._nodes[end] for end in (bond.a, bond.b) if end in self._nodes}
            if not touched:
                self._base.join(bond.a, bond.b)
            for name in touched:
                self._brought[name].append(bond)

    def earthed(self, sources: Iterable[Node], carried: Collection[str]) -> bool:
        find, more = self._base.find, Join()
        for name in carried:
            for bond in self._brought[name]:
                if all(self._nodes.get(end, name) in carried for end in (bond.a, bond.b)):
                    more.join(find(bond.a), find(bond.b))
        return all(more.find(find(source)) == more.find(find(EARTH)) for source in sources)


def _ways(bonds: Sequence[Bond], amps: Sequence[str], rig: Rig) -> dict[tuple[str, ...], list[Bond]]:
    """How a rig reaches earth with each smallest set; a way that needs no amplifier stands for all of them."""
    ways: dict[tuple[str, ...], list[Bond]] = {}
    for carried in smallest_sets(rig.amps, rig.required):
        way = shortest_way(by_node(_without(bonds, amps, carried)), ground(rig.sources[0]), [EARTH]) or []
        ways[carried] = way
        if not any(ground(name) in (bond.a, bond.b) for bond in way for name in amps):
            return {carried: way}
    return ways


def _without(bonds: Iterable[Bond], amps: Sequence[str], carried: Collection[str]) -> list[Bond]:
    """The bonds that are there while only ``carried`` are in the rig."""
    absent = {ground(name) for name in amps if name not in carried}
    return [bond for bond in bonds if bond.a not in absent and bond.b not in absent]


def _questions(bonds: Sequence[Bond], answer: OneEarth, amps: Sequence[str]) -> Iterable[str]:
    """What would decide it: the doubtful bonds of possible loops; with possibly no earth, all that may bring one."""
    if answer.holds is not None:
        return
    asked = [bond.question for loop in answer.possible_loops for bond in loop.doubts]
    for carried in answer.possibly_floating:
        asked += [bond.question for bond in _without(bonds, amps, carried) if not bond.sure]
    yield from dict.fromkeys(question for question in asked if question)


def _witness(answer: OneEarth, amps: Sequence[str]) -> str | None:
    if answer.floating:
        return f"with {_listed(answer.floating[0])} and no other amplifier connected"
    if answer.loops:
        carried = [name for name in amps if name in answer.loops[0].cords]
        return f"with {_listed(carried)} connected" if carried else "as soon as everything is connected"
    return None


def _proof(here: Ground, answer: OneEarth) -> Iterable[str]:
    if not here.amps:
        return
    for loop in answer.loops:
        yield f"Two earths: {loop_in_words(loop)}."
    for carried in answer.floating:
        yield f"No earth: with {_listed(carried)} and no other amplifier connected, nothing joins the board's ground to earth."
    if answer.holds:
        yield (
            "Never two: with every amplifier connected, no two mains earths meet in the signal grounds. "
            "Taking an amplifier away only takes metal away, so no smaller set closes a loop either."
        )
        for carried, way in answer.ways.items():
            needs_amps = any(ground(name) in (bond.a, bond.b) for bond in way for name in here.amps)
            when = f"with {_listed(carried)} alone" if needs_amps else "whatever is carried"
            yield f"Never none: {when}, the board reaches earth by {', '.join(bond.says for bond in way)}."
        yield "Adding an amplifier only adds metal, so no bigger set loses that earth."
    for loop in answer.soft_loops:
        yield f"Not counted: {loop_in_words(loop)}. A soft bond in it lets little current through."


def loop_in_words(loop: Loop) -> str:
    """The loop, bond by bond, from the wall and back to it."""
    ways = ", ".join(dict.fromkeys(bond.says for bond in loop.way))
    middle = f" and back by {loop.back.says}" if not ways else f", then {ways}, and back by {loop.back.says}"
    return f"from the wall by {loop.out.says}{middle}"


def _listed(names: Sequence[str]) -> str:
    return series(f"`{name}`" for name in names)
