"""Where and in which state a symptom is heard: the ways of the sound that can have to do with it, and no others."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from boardwright.board.audio import GUITAR
from boardwright.board.signal import NEVER, Edge, Node, Role, State, SwitchKind
from boardwright.spec.sections.symptom import Symptom

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

ALWAYS = "always"
Place = tuple[Node, bool]
"""A node, and whether the sound has been through the box that is missed (always true where none is)."""


class NoHunt(Exception):
    """Nothing can be hunted: in words for the reader, why."""


@dataclass(eq=False)
class Situation:
    """A symptom on a board: the switches as they stand, whose sound is played, where it is heard wrong."""

    board: Board
    kind: str
    positions: dict[str, bool]
    words: str
    """The state, as a player says it."""
    source: str
    ends: list[str]
    """Amplifiers at which it is heard wrong."""
    fine: list[str]
    """Amplifiers that sound right meanwhile."""
    via: str | None = None
    """The box whose sound is missed."""
    elsewhere: list[dict[str, bool]] = field(default_factory=list)
    """Other states, in which all is well."""

    @property
    def goes_silent(self) -> bool:
        """Whether the sound is missing, so that only what all of it must pass through can be to blame."""
        return self.kind == "silent"

    @cached_property
    def edges(self) -> list[Edge]:
        """The ways that conduct."""
        conducts = self.board.signal.conducts(self.positions)
        return [edge for edge in self.board.signal.graph.edges if conducts(edge)]

    @cached_property
    def _via_edges(self) -> set[Edge]:
        return set(self.board.signal.effect_edges(self.via)) if self.via else set()

    @cached_property
    def leaving(self) -> dict[Node, list[Edge]]:
        return _by(self.edges, "start")

    @cached_property
    def arriving(self) -> dict[Node, list[Edge]]:
        return _by(self.edges, "end")

    def starts(self) -> list[Node]:
        return self.board.signal.starts(self.source)

    def forward(self, starts: Iterable[Place], without: Collection[Edge] = ()) -> set[Place]:
        """Where sound gets to."""
        seen = set(starts)
        stack = list(seen)
        while stack:
            node, passed = stack.pop()
            for edge in self.leaving.get(node, ()):
                there = (edge.end, passed or edge in self._via_edges)
                if edge not in without and there not in seen:
                    seen.add(there)
                    stack.append(there)
        return seen

    def backward(self, ends: Iterable[Place], without: Collection[Edge] = ()) -> set[Place]:
        """Where sound must be to get to ``ends``."""
        seen = set(ends)
        stack = list(seen)
        while stack:
            node, passed = stack.pop()
            for edge in self.arriving.get(node, ()):
                if edge in without:
                    continue
                is_via = edge in self._via_edges
                for before in {passed, False} if passed and is_via else {passed} if not is_via else set():
                    if (edge.start, before) not in seen:
                        seen.add((edge.start, before))
                        stack.append((edge.start, before))
        return seen

    @property
    def begins(self) -> list[Place]:
        return [(node, self.via is None) for node in self.starts()]

    def end(self, amp: str) -> Place:
        return self.board.signal.heard(amp), True

    @cached_property
    def ahead(self) -> set[Place]:
        return self.forward(self.begins)

    @cached_property
    def live(self) -> list[Edge]:
        """The ways that lead from the source (by way of the box that is missed) to an amplifier that sounds wrong, in signal order."""
        behind = self.backward([self.end(amp) for amp in self.ends])
        order = self.board.signal.graph.order
        found = [
            edge
            for edge in self.edges
            if any((edge.start, passed) in self.ahead and (edge.end, passed or edge in self._via_edges) in behind for passed in (True, False))
        ]
        return sorted(found, key=lambda edge: (order[edge.start], order[edge.end]))

    def listened(self, node: Node) -> Place:
        """What should be heard at a jack: the sound with the missed box's on it, if that has been passed there."""
        return (node, True) if (node, True) in self.ahead else (node, False)

    def heard_in(self, positions: dict[str, bool], amp: str, without: Collection[Edge]) -> bool:
        """Whether an amplifier hears the source in some state, with some ways gone."""
        conducts = self.board.signal.conducts(positions)
        return self.board.signal.heard(amp) in self.board.signal.graph.ahead(self.starts(), lambda edge: edge not in without and conducts(edge))


def _by(edges: Iterable[Edge], end: str) -> dict[Node, list[Edge]]:
    found: dict[Node, list[Edge]] = {}
    for edge in edges:
        found.setdefault(getattr(edge, end), []).append(edge)
    return found


def situation(board: Board, symptom: Symptom) -> Situation:
    """The situation that a symptom describes.

    Raises:
        NoHunt: there is no sound that could go wrong, or the symptom names what does not exist.
    """
    signal = board.signal
    if symptom.kind is None or symptom.kind == "unknown":
        raise NoHunt("Say what is heard: `symptom: {kind: silent}`.")
    named = [name for name in symptom.when or () if name != ALWAYS]
    source = next((name for name in named if name in signal.stages and signal.stages[name].role is Role.SOURCE), None)
    source = source or (GUITAR if GUITAR in signal.sources else next(iter(signal.sources), None))
    if source is None or not signal.amps:
        raise NoHunt("There is no way of the sound to hunt along: describe the leads under `audio`, from the guitar to an amplifier.")
    state, via, amps = _when(board, [name for name in named if name != source])
    at = list(symptom.at or amps)
    for name in at:
        if name not in signal.amps:
            raise NoHunt(f"`{name}` is no amplifier of this board.")
    if state is None:
        state = _resting(board, source, at, via)
    positions = signal.switches.complete(state)
    found = Situation(board, symptom.kind, positions, state.words or "with everything off", source, [], [], via)
    hearing = [amp for amp in signal.amps if found.end(amp) in found.ahead]
    found.ends = [amp for amp in hearing if amp in at] if at else hearing
    if not found.ends:
        where = " and ".join(f"`{amp}`" for amp in at) or "any amplifier"
        raise NoHunt(f"As described, {f'the sound of `{via}`' if via else f'`{source}`'} does not get to {where} {state.words or 'with everything off'}: that is the fault to mend first.")
    found.fine = [amp for amp in hearing if amp not in found.ends] if at else []
    found.elsewhere = _elsewhere(board, state, positions) if named and not via else []
    return found


def _when(board: Board, named: list[str]) -> tuple[State | None, str | None, list[str]]:
    """The state that the names call up, the box whose sound is missed, and the amplifiers among them."""
    signal, switches = board.signal, board.signal.switches
    positions: dict[str, bool] = {}
    preset = via = None
    amps = []
    for name in named:
        thing, _, part = name.partition(".")
        part = part.removeprefix("loop ").strip()
        if name in switches.presets:
            preset = name
        elif name in signal.amps:
            amps.append(name)
        elif (loop := f"{thing}.{part}") in switches.level or (loop := f"{thing}={part}") in switches.level or (loop := f"{thing}.send {part}") in switches.level:
            positions[loop] = True
        elif name in signal.stages:
            via = name
        else:
            raise NoHunt(f"`{name}` is no preset, loop, pedal or amplifier of this board.")
    if preset is None and not positions and via is None:
        return None, None, amps
    if via is not None:
        return _sounding(board, via, preset, positions, amps), via, amps
    return State(positions, preset, switches.in_words(positions, preset)), None, amps


def _sounding(board: Board, via: str, preset: str | None, positions: dict[str, bool], amps: list[str]) -> State:
    """A state in which a box is heard."""
    signal, switches = board.signal, board.signal.switches
    states = signal.diagrams.any_of(signal.sounding(via, amp) for amp in amps or signal.amps)
    states = signal.diagrams.without(signal.diagrams.both(states, switches.cube(positions.items())), switches.quiet)
    state = switches.witness(states, preset)
    if state is None:
        raise NoHunt(f"As described, `{via}` is never heard: that is the fault to mend first.")
    return state


def _resting(board: Board, source: str, at: list[str], via: str | None) -> State:
    """For what is heard always: everything off if the sound passes so, else as little as lets it pass."""
    signal, switches = board.signal, board.signal.switches
    amps = at or signal.amps
    off = State({}, None, "")
    conducts = signal.conducts(switches.complete(off))
    ahead = signal.graph.ahead(signal.starts(source), conducts)
    if any(signal.heard(amp) in ahead for amp in amps):
        return off
    everywhere = signal.diagrams.all_of(signal.hears(amp, source) for amp in amps)
    anywhere = signal.diagrams.any_of(signal.hears(amp, source) for amp in amps)
    for states in (everywhere, anywhere):
        state = switches.witness(signal.diagrams.without(states, switches.quiet))
        if states != NEVER and state is not None:
            return state
    raise NoHunt(f"As described, `{source}` never gets to an amplifier: that is the fault to mend first.")


def _elsewhere(board: Board, state: State, positions: dict[str, bool]) -> list[dict[str, bool]]:
    """States without what the symptom comes with: the other presets, and the same state without the loop."""
    switches = board.signal.switches
    if state.preset is not None:
        others = [preset for preset in switches.presets.values() if preset.name != state.preset and not preset.quiet]
        return [switches.complete(State({}, other.name, "")) for other in others]
    if any(switches[id_].kind is SwitchKind.SELECT for id_ in state.positions):
        return []
    return [positions | dict.fromkeys(state.positions, False)]
