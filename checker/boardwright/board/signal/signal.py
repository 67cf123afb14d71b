"""Where the sound goes, in every state of every switch: reach, proofs, witness states, live paths, gain."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from itertools import islice

from boardwright.board.audio import Audio
from boardwright.board.signal.copies import Copies
from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, Diagrams
from boardwright.board.signal.graph import HEARD, Edge, Graph, Node, stated_gain
from boardwright.board.signal.stages import Role, Stage
from boardwright.board.signal.switches import State, Switches
from boardwright.board.signal.wiring import Wiring, assemble_wiring
from boardwright.spec.read import Spec

_CORE_AT_MOST = 64
"""Above this many switches on the way, a contradiction is shown on one way and not reduced to its core."""


_Step = tuple[Node, list[tuple[Node, Diagram, list[Edge]]]]
"""A node, and for each node next to it the states in which sound gets there, with the edges between them."""


class How(StrEnum):
    """What an answer about all states rests on."""

    WIRING = "by wiring"
    CONTRADICTION = "whatever you switch"
    WITNESS = "a witness"
    UNSURE = "cannot tell"


@dataclass(frozen=True, slots=True)
class Proof:
    """An answer that holds for every state, with what it rests on.

    ``WIRING``: no way exists, whatever is switched; ``behind`` lists everything that can be heard at the far end.
    ``CONTRADICTION``: ways exist, and their switches can never stand so at once; ``because`` names them.
    ``WITNESS``: it can happen; ``state`` says when, ``way`` how, ``presets`` in which presets.
    ``UNSURE``: it depends on something that nobody described.
    """

    how: How
    words: str
    behind: tuple[str, ...] = ()
    because: tuple[str, ...] = ()
    """Switches by id."""
    state: State | None = None
    way: tuple[Edge, ...] = ()
    presets: tuple[str, ...] = ()

    @property
    def happens(self) -> bool:
        return self.how is How.WITNESS


@dataclass(frozen=True, slots=True)
class Ring:
    """A way on which sound comes back to where it was."""

    node: Node
    states: Diagram
    state: State
    way: tuple[Edge, ...]


@dataclass(eq=False)
class Signal:
    """The sound of one board, ready for questions."""

    wiring: Wiring
    _reach: dict[tuple[str, ...], dict[Node, Diagram]] = field(default_factory=dict)
    _reach_back: dict[Node, dict[Node, Diagram]] = field(default_factory=dict)
    _guards: dict[int, Diagram] = field(default_factory=dict)

    # --- what there is ----------------------------------------------------------------------------------------------

    @property
    def graph(self) -> Graph:
        return self.wiring.graph

    @property
    def switches(self) -> Switches:
        return self.wiring.switches

    @property
    def diagrams(self) -> Diagrams:
        return self.wiring.switches.diagrams

    @property
    def stages(self) -> dict[str, Stage]:
        """Everything that sound comes from, goes through or ends in, by name."""
        return self.wiring.stages

    @cached_property
    def sources(self) -> list[str]:
        """The guitar and instruments that a lead comes from."""
        return [name for name, stage in self.stages.items() if stage.role is Role.SOURCE and self.starts(name)]

    @cached_property
    def amps(self) -> list[str]:
        """Amplifiers, declared or only mentioned."""
        return [name for name, stage in self.stages.items() if stage.role is Role.AMP]

    def starts(self, name: str) -> list[Node]:
        """The nodes that a source's sound starts from."""
        return [node for node in self._nodes_of.get(name, ()) if not self.graph.arriving[node]]

    def heard(self, amp: str) -> Node:
        """The node at which an amplifier's sound is heard."""
        return Node(amp, HEARD)

    @cached_property
    def _nodes_of(self) -> dict[str, list[Node]]:
        found: dict[str, list[Node]] = {}
        for node in self.graph.nodes:
            found.setdefault(node.thing, []).append(node)
        return found

    @cached_property
    def edges_of(self) -> dict[str, list[Edge]]:
        """The edges through each box, by its name."""
        found: dict[str, list[Edge]] = {}
        for edge in self.graph.edges:
            if edge.stage is not None:
                found.setdefault(edge.stage.name, []).append(edge)
        return found

    def effect_edges(self, thing: str) -> list[Edge]:
        """The edges that carry a box's own sound."""
        return [edge for edge in self.edges_of.get(thing, ()) if edge.engaged]

    # --- sets of states ---------------------------------------------------------------------------------------------

    def guard(self, edge: Edge) -> Diagram:
        """The states in which an edge conducts."""
        found = self._guards.get(id(edge))
        if found is None:
            found = self._guards[id(edge)] = self.switches.cube(edge.guard)
        return found

    @cached_property
    def certain(self) -> Signal:
        """The same board without ways that may not exist, as through an empty loop that nobody described.

        What "never" is asked of is the board as it is; what "always" is asked of is the certain part of it.
        """
        return self if all(edge.sure for edge in self.graph.edges) else _Certain(self.wiring)

    @cached_property
    def passing(self) -> Signal:
        """The certain part of the board without boxes that keep the sound out while they are off, being set to the effect alone.

        What an amplifier "always" hears is asked of this: an echo without its dry sound may well be silent once it is bypassed.
        """
        return self.certain if all(edge.passes for edge in self.graph.edges) else _Passing(self.wiring)

    def reach(self, *sources: str) -> dict[Node, Diagram]:
        """For each node, the states in which the sound of ``sources`` (by default all of them) gets there.

        Nodes that no way leads to are not in the answer.
        """
        names = sources or tuple(self.sources)
        if names not in self._reach:
            self._reach[names] = self.spread({node: ALWAYS for name in names for node in self.starts(name)})
        return self._reach[names]

    def reach_back(self, end: Node) -> dict[Node, Diagram]:
        """For each node, the states in which sound that is there gets to ``end``."""
        if end not in self._reach_back:
            self._reach_back[end] = self.spread({end: ALWAYS}, backwards=True)
        return self._reach_back[end]

    @cached_property
    def heard_from(self) -> dict[Node, Diagram]:
        """For each node, the states in which sound that is there gets to any amplifier."""
        return self.spread({self.heard(amp): ALWAYS for amp in self.amps}, backwards=True)

    def spread(
        self,
        starts: dict[Node, Diagram],
        backwards: bool = False,
        along: Callable[[Edge], bool] | None = None,
    ) -> dict[Node, Diagram]:
        """For each node, the states in which sound gets there along edges, when it is at ``starts`` in the states given.

        A fixed point, worked out in signal order, so that each node is done once where there is no ring.

        Args:
            backwards: against the sound instead: from where it would get to ``starts``.
            along: which edges count.
        """
        both, either = self.diagrams.both, self.diagrams.either
        steps = self._steps_back if backwards else self._steps
        order = self.graph.order
        found = {node: states for node, states in starts.items() if node in order}
        places = [order[node] for node in found]
        first = (len(order) - 1 - max(places) if backwards else min(places)) if places else len(order)
        growing = True
        while growing:
            growing = False
            for node, onward in islice(steps, first, None):
                if node not in found:
                    continue
                here = found[node]
                for there, guard, edges in onward:
                    if along is not None:
                        counted = [edge for edge in edges if along(edge)]
                        guard = guard if len(counted) == len(edges) else self.diagrams.any_of(map(self.guard, counted))
                    if guard == NEVER:
                        continue
                    known = found.get(there, NEVER)
                    passed = here if guard == ALWAYS else both(here, guard)
                    grown = passed if known == NEVER else either(known, passed)
                    if grown != known:
                        found[there] = grown
                        growing = True
            growing, first = growing and bool(self.graph.ring_of), 0  # without rings, one sweep in signal order is all
        return found

    @cached_property
    def _steps(self) -> list[_Step]:
        """Nodes in signal order, each with where its edges lead."""
        return [self._step(node, self.graph.leaving[node], lambda edge: edge.end) for node in self.graph.order]

    @cached_property
    def _steps_back(self) -> list[_Step]:
        """Nodes against the sound, each with where its edges come from."""
        return [self._step(node, self.graph.arriving[node], lambda edge: edge.start) for node in reversed(self.graph.order)]

    def _step(self, node: Node, edges: list[Edge], end: Callable[[Edge], Node]) -> _Step:
        """Edges side by side are one step: of a box that is on or off, in all states."""
        beside: dict[Node, list[Edge]] = {}
        for edge in edges:
            beside.setdefault(end(edge), []).append(edge)
        return node, [(there, self.diagrams.any_of(map(self.guard, these)), these) for there, these in beside.items()]

    def hears(self, amp: str, *sources: str) -> Diagram:
        """The states in which an amplifier hears ``sources`` (by default any)."""
        return self.reach(*sources).get(self.heard(amp), NEVER)

    def arrives(self, thing: str, *sources: str) -> Diagram:
        """The states in which sound gets to any input of a thing."""
        reach = self.reach(*sources)
        entries = [edge.start for edge in self.edges_of.get(thing, ())] or self._nodes_of.get(thing, [])
        return self.diagrams.any_of(reach.get(node, NEVER) for node in dict.fromkeys(entries))

    # --- a box's own sound ------------------------------------------------------------------------------------------

    def sounding(self, thing: str, amp: str) -> Diagram:
        """The states in which what is played now is heard at ``amp`` with the sound of ``thing`` on it.

        Both halves in one state: played into it while it is engaged, and on from it to the amplifier.
        """
        reach, onward = self.reach(), self.reach_back(self.heard(amp))
        both = self.diagrams.both
        return self.diagrams.any_of(
            both(both(reach.get(edge.start, NEVER), self.guard(edge)), onward.get(edge.end, NEVER)) for edge in self.effect_edges(thing)
        )

    def played_into(self, thing: str) -> Diagram:
        """The states in which sound gets into a box while it is engaged."""
        reach, both = self.reach(), self.diagrams.both
        return self.diagrams.any_of(both(reach.get(edge.start, NEVER), self.guard(edge)) for edge in self.effect_edges(thing))

    def rings_out(self, thing: str, amp: str) -> Diagram:
        """The states in which a tail that is still sounding in a box gets to ``amp``."""
        onward, both = self.reach_back(self.heard(amp)), self.diagrams.both
        rings_on = self.stages[thing].rings_on
        return self.diagrams.any_of(both(onward.get(edge.end, NEVER), ALWAYS if rings_on else self.guard(edge)) for edge in self.effect_edges(thing))

    def heard_at(self, thing: str, amp: str) -> Diagram:
        """The states in which the sound of a box is heard at ``amp``, however it came to be in there.

        A box with a tail may be played into in one state and heard in a later one.
        """
        if thing not in self.stages:
            return NEVER
        if self.stages[thing].role is Role.SOURCE:
            return self.hears(amp, thing)
        if self.stages[thing].has_tail and self.switches.can_be(self.played_into(thing)):
            return self.diagrams.either(self.sounding(thing, amp), self.rings_out(thing, amp))
        return self.sounding(thing, amp)

    # --- copies -----------------------------------------------------------------------------------------------------

    @cached_property
    def copies(self) -> Copies:
        """Where copies of one sound part and meet, and what does not fit then."""
        return Copies(self)

    # --- answers ----------------------------------------------------------------------------------------------------

    def never_reaches(self, thing: str, amp: str) -> Proof:
        """Whether the sound of a box (or source) ever gets to an amplifier, and what that rests on."""
        end = self.heard(amp)
        behind = self.graph.behind([end])
        own = self.starts(thing) if self._is_source(thing) else [edge.end for edge in self.effect_edges(thing)]
        if not any(node in behind for node in own):
            return self._by_wiring(thing, amp, behind)
        states = self.heard_at(thing, amp)
        if self.switches.can_be(states):
            return self._witnessed(thing, amp, states)
        if not self._is_source(thing) and not self._fed_at_all(thing):
            return Proof(How.WIRING, f"by wiring: nothing is ever played into `{thing}`", tuple(self._things(behind)))
        return self._contradiction(thing, amp)

    def _is_source(self, thing: str) -> bool:
        return thing in self.stages and self.stages[thing].role is Role.SOURCE

    def _fed_at_all(self, thing: str) -> bool:
        ahead = self.graph.ahead([node for name in self.sources for node in self.starts(name)])
        return any(edge.start in ahead for edge in self.effect_edges(thing))

    def _things(self, nodes: Iterable[Node]) -> list[str]:
        """Things in signal order."""
        return list(dict.fromkeys(node.thing for node in sorted(nodes, key=self.graph.order.__getitem__)))

    def _by_wiring(self, thing: str, amp: str, behind: set[Node]) -> Proof:
        heard = [name for name in self._things(behind) if name != amp and self._can_sound(name, behind)]
        listed = ", ".join(f"`{name}`" for name in heard) or "nothing"
        return Proof(How.WIRING, f"by wiring: whatever is switched, only {listed} can get to `{amp}`", tuple(heard))

    def _can_sound(self, name: str, behind: set[Node]) -> bool:
        """Whether a thing's own sound, or a source, is among what leads to the end."""
        if self._is_source(name):
            return True
        return any(edge.end in behind for edge in self.effect_edges(name))

    def _witnessed(self, thing: str, amp: str, states: Diagram) -> Proof:
        state = self.switches.witness(states)
        assert state is not None
        presets = tuple(self.switches.in_presets(states))
        words = f"not in any preset, but possible by hand {state.words}" if self.switches.presets and not presets else f"heard {state.words}"
        return Proof(How.WITNESS, words, state=state, way=tuple(self.way_of(thing, amp, state)), presets=presets)

    def way_of(self, thing: str, amp: str, state: State) -> list[Edge]:
        """One way that the sound takes to ``thing`` and on to ``amp`` in a state. A tail has only the second half."""
        positions = self.switches.complete(state)
        live = self.conducts(positions)
        end = self.heard(amp)
        if self._is_source(thing):
            return next((way for start in self.starts(thing) if (way := self.graph.shortest(start, end, live)) is not None), [])
        starts = [node for name in self.sources for node in self.starts(name)]
        tails: list[Edge] = []
        for edge in self.effect_edges(thing):
            onward = self.graph.shortest(edge.end, end, live)
            if onward is None:
                continue
            if live(edge):
                for start in starts:
                    first = self.graph.shortest(start, edge.start, live)
                    if first is not None:
                        return [*first, edge, *onward]
            if self.stages[thing].rings_on or live(edge):
                tails = tails or onward
        return tails

    def _contradiction(self, thing: str, amp: str) -> Proof:
        core = self.core_of(lambda without: self.switches.can_be(_Relaxed(self, without).heard_at(thing, amp)), self._on_the_way(thing, amp))
        words = self._cannot_be(core)
        return Proof(How.CONTRADICTION, f"whatever you switch: {words}", because=tuple(core))

    def _on_the_way(self, thing: str, amp: str) -> list[str]:
        """The switches on ways from a source through the thing to the amplifier."""
        ahead = self.graph.ahead([node for name in self.sources for node in self.starts(name)])
        behind = self.graph.behind([self.heard(amp)])
        switches = {id_ for edge in self.graph.edges if edge.start in ahead and edge.end in behind for id_, _ in edge.guard}
        switches |= {id_ for edge in self.effect_edges(thing) for id_, _ in edge.guard}
        return sorted(switches, key=self.switches.level.__getitem__)

    def core_of(self, possible_without: Callable[[frozenset[str]], bool], switches: list[str]) -> list[str]:
        """The switches that a contradiction needs: each of them, taken away from the guards, would let it happen.

        Found by leaving them out one after the other and keeping those out that change nothing.
        """
        if len(switches) > _CORE_AT_MOST:
            return switches
        left_out: frozenset[str] = frozenset()
        for id_ in switches:
            if not possible_without(left_out | {id_}):
                left_out |= {id_}
        return [id_ for id_ in switches if id_ not in left_out]

    def _cannot_be(self, core: list[str]) -> str:
        named = list(dict.fromkeys(_switch_name(self.switches[id_].kind, self.switches[id_].thing, self.switches[id_].name) for id_ in core))
        if len(named) == 1:
            return f"{named[0]} would have to stand in two positions at once"
        if len(named) > 6:
            return "the switches on the way can never all stand so at once"
        listed = ", ".join(named[:-1]) + f" and {named[-1]}"
        return f"{listed} can never stand so at once" if named else "the switches on the way can never stand so at once"

    def silent(self, *amps: str, sources: tuple[str, ...] = ()) -> Diagram:
        """Possible states in which none of ``amps`` hears ``sources``.

        Of the board as it is: silence that is certain. Of ``certain``: silence that may be.
        """
        heard = self.diagrams.any_of(self.hears(amp, *sources) for amp in amps)
        return self.diagrams.without(self.switches.possible, heard)

    # --- rings ------------------------------------------------------------------------------------------------------

    @cached_property
    def rings(self) -> list[Ring]:
        """Ways on which sound comes back to where it was, each in the states in which it can; intended ones left out.

        Every ring goes through one of those given, so that there is none if the list is empty.
        """
        found = []
        kept = {edge for edge in self.graph.edges if not (edge.hop and edge.hop.intended_ring)}
        graph = Graph([edge for edge in self.graph.edges if edge in kept])
        while graph.ring_of:
            through = min(graph.ring_of, key=self.graph.order.__getitem__)
            number = graph.ring_of[through]
            inside = {edge for edge in graph.edges if graph.ring_of.get(edge.start) == number == graph.ring_of.get(edge.end)}
            states = self._returns(through, inside)
            if states != NEVER:
                state = self.switches.witness(states)
                assert state is not None
                found.append(Ring(through, states, state, tuple(self._round(through, inside, state))))
            graph = Graph([edge for edge in graph.edges if through not in (edge.start, edge.end)])
        return found

    def _returns(self, node: Node, inside: set[Edge]) -> Diagram:
        """The possible states in which sound that leaves a node comes back to it."""
        both = self.diagrams.both
        starts: dict[Node, Diagram] = {}
        back = NEVER
        for edge in self.graph.leaving[node]:
            if edge in inside and edge.end == node:
                back = self.diagrams.either(back, self.guard(edge))
            elif edge in inside:
                starts[edge.end] = self.diagrams.either(starts.get(edge.end, NEVER), self.guard(edge))
        reach = self.spread(starts, along=lambda edge: edge in inside and node not in (edge.start, edge.end))
        for edge in self.graph.arriving[node]:
            if edge in inside and edge.start != node:
                back = self.diagrams.either(back, both(reach.get(edge.start, NEVER), self.guard(edge)))
        return both(back, self.switches.possible)

    def _round(self, node: Node, inside: set[Edge], state: State) -> list[Edge]:
        """The shortest way round in a state."""
        conducts = self.conducts(self.switches.complete(state))
        rounds = []
        for edge in self.graph.leaving[node]:
            if edge in inside and conducts(edge):
                onward = self.graph.shortest(edge.end, node, lambda each: each in inside and conducts(each))
                if onward is not None:
                    rounds.append([edge, *onward])
        return min(rounds, key=len, default=[])

    # --- one state --------------------------------------------------------------------------------------------------

    def conducts(self, positions: dict[str, bool]) -> Callable[[Edge], bool]:
        """Whether an edge conducts with every switch in a position (see ``Switches.complete``)."""
        return lambda edge: all(positions[id_] is is_on for id_, is_on in edge.guard)

    def live(self, state: State | None, *sources: str) -> list[Edge]:
        """The edges that carry sound in a state: what leads from a source on to something that hears it.

        For drawings: the live path of a preset is ``live(State({}, "verse", ""))``.
        """
        conducts = self.conducts(self.switches.complete(state))
        ahead = self.graph.ahead([node for name in sources or self.sources for node in self.starts(name)], conducts)
        ends = [node for node in ahead if not any(conducts(edge) for edge in self.graph.leaving[node])]
        behind = self.graph.behind(ends, conducts)
        return [edge for edge in self.graph.edges if conducts(edge) and edge.start in ahead and edge.end in behind]

    # --- gain -------------------------------------------------------------------------------------------------------

    def gain_to_amp(self, name: str) -> float | None:
        """The most gain (dB) from a thing's input to any amplifier's, its own included, whatever is switched on.

        Kinds' gains count, since this serves what is said about noise. ``None`` where its sound reaches no amplifier.
        """
        onward = self._most_gain_onward
        entries = {edge.start for edge in self.edges_of.get(name, ())} or set(self._nodes_of.get(name, ()))
        gains = [onward[node] for node in entries if node in onward]
        return max(gains) if gains else None

    @cached_property
    def _most_gain_onward(self) -> dict[Node, float]:
        ends = [self.heard(amp) for amp in self.amps]
        return {node: high for node, (_, high) in self.gain_range(ends, backwards=True, gain=_loudest_gain).items()}

    def gain_range(
        self,
        starts: Iterable[Node],
        backwards: bool = False,
        gain: Callable[[Edge], tuple[float, float]] | None = None,
        along: Callable[[Edge], bool] | None = None,
    ) -> dict[Node, tuple[float, float]]:
        """The least and the most gain (dB) from ``starts`` to each node, over all states.

        Exact where no switch stands on one way twice; otherwise a bound. Rings are gone through once.

        Args:
            backwards: from each node to ``starts`` instead.
            gain: least and most gain of an edge; by default as stated, unity where nobody says.
            along: which edges count, as for one preset.
        """
        gain = gain or stated_gain
        order = self.graph.order
        found = {node: (0.0, 0.0) for node in starts if node in order}
        edges = self.graph.arriving if backwards else self.graph.leaving
        for node in reversed(order) if backwards else order:
            if node not in found:
                continue
            low, high = found[node]
            for edge in edges[node]:
                far = edge.start if backwards else edge.end
                if (order[far] < order[node]) is not backwards or (along is not None and not along(edge)):
                    continue  # it closes a ring
                least, most = gain(edge)
                known = found.get(far)
                new = (low + least, high + most)
                found[far] = new if known is None else (min(known[0], new[0]), max(known[1], new[1]))
        return found


def _loudest_gain(edge: Edge) -> tuple[float, float]:
    """For noise: the most that an edge may amplify by its kind; a box that is turned down can be turned up."""
    if edge.stage is None:
        return 0.0, 0.0
    if edge.stage.role is Role.AMP:
        return stated_gain(edge)
    return 0.0, max(0.0, edge.stage.gain.value) if edge.engaged else 0.0


def _switch_name(kind: str, thing: str, name: str) -> str:
    return {"loop": f"loop {name} of `{thing}`", "send": f"send {name} of `{thing}`", "select": f"`{thing}`", "mute": f"the mute of `{name}`"}.get(
        kind, f"`{thing}`"
    )


class _Certain(Signal):
    """A board whose doubtful ways never conduct."""

    def guard(self, edge: Edge) -> Diagram:
        return super().guard(edge) if edge.sure else NEVER


class _Passing(_Certain):
    """The same, and what keeps the sound out while it is off does not conduct then."""

    def guard(self, edge: Edge) -> Diagram:
        return super().guard(edge) if edge.passes else NEVER


class _Relaxed(Signal):
    """A board with some switches taken out of every guard, to see which of them a contradiction needs."""

    def __init__(self, signal: Signal, without: frozenset[str]) -> None:
        super().__init__(signal.wiring)
        self._without = without

    def guard(self, edge: Edge) -> Diagram:
        found = self._guards.get(id(edge))
        if found is None:
            found = self._guards[id(edge)] = self.switches.cube(pair for pair in edge.guard if pair[0] not in self._without)
        return found


def assemble_signal(spec: Spec, audio: Audio) -> Signal:
    """The signal graph of a board."""
    return Signal(assemble_wiring(spec, audio))
