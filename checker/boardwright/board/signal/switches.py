"""The switches that a player or a preset can move, presets as sets of states, and states in a player's words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, Diagrams
from boardwright.spec.problem import Path

_MANY_OFF = 3
"""From more switches than this that must be off, they are said as one."""


class SwitchKind(StrEnum):
    """What a switch is to the player."""

    FOOTSWITCH = "footswitch"
    LOOP = "loop"
    SEND = "send"
    SELECT = "select"
    MUTE = "mute"


@dataclass(frozen=True, slots=True)
class Switch:
    """One thing that can be on or off. A selector is one switch for each position, of which exactly one is on."""

    id: str
    kind: SwitchKind
    thing: str
    name: str
    """The loop, send, position or output that it stands for."""
    path: Path
    silences: bool = False
    """Whether being on means silence on purpose: a mute, a tuner in line."""

    def words(self, is_on: bool, alone: bool) -> str:
        """``loop 3 in``. ``alone``: whether its switcher is the only one, and need not be named."""
        of = "" if alone else f" of `{self.thing}`"
        match self.kind:
            case SwitchKind.LOOP:
                return f"loop {self.name}{of} {'in' if is_on else 'out'}"
            case SwitchKind.SEND:
                return f"send {self.name} of `{self.thing}` {'on' if is_on else 'off'}"
            case SwitchKind.SELECT:
                return f"`{self.thing}` {'at' if is_on else 'not at'} {self.name}"
            case SwitchKind.MUTE:
                return f"`{self.name}` {'muted' if is_on else 'not muted'}"
        return f"`{self.thing}` {'on' if is_on else 'off'}"


@dataclass(frozen=True, slots=True)
class State:
    """Positions of switches in which something can be seen. What is not in it may stand anywhere."""

    positions: dict[str, bool]
    """By switch id; of a preset, only what it leaves free."""
    preset: str | None
    words: str
    """In a player's words, as in ``with loop 3 in and loop 5 out`` or ``in preset `verse```."""


@dataclass(frozen=True, slots=True)
class PresetStates:
    """A preset: the positions that it fixes, and the set of states that are left."""

    name: str
    path: Path
    positions: dict[str, bool]
    states: Diagram
    quiet: bool
    louder: bool


@dataclass(eq=False)
class Switches:
    """All switches of a board in signal order, their diagrams, and which states there are."""

    ordered: list[Switch]
    """As the sound meets them; a switch's level in ``diagrams`` is its place here."""
    diagrams: Diagrams = field(default_factory=Diagrams)
    presets: dict[str, PresetStates] = field(default_factory=dict)
    possible: Diagram = ALWAYS
    """States that there are: each selector in exactly one position."""
    quiet: Diagram = NEVER
    """States that are silent on purpose: quiet presets, and any mute closed."""
    level: dict[str, int] = field(init=False)

    def __post_init__(self) -> None:
        self.level = {switch.id: place for place, switch in enumerate(self.ordered)}
        self.possible = self.diagrams.all_of(self.diagrams.exactly_one(levels) for levels in self._selectors.values())
        self.quiet = self.diagrams.any_of(self.diagrams.literal(self.level[s.id]) for s in self.ordered if s.silences)

    @cached_property
    def _selectors(self) -> dict[str, list[int]]:
        """Places of the positions of each selector."""
        found: dict[str, list[int]] = {}
        for place, switch in enumerate(self.ordered):
            if switch.kind is SwitchKind.SELECT:
                found.setdefault(switch.thing, []).append(place)
        return found

    def __getitem__(self, id_: str) -> Switch:
        return self.ordered[self.level[id_]]

    def cube(self, positions: Iterable[tuple[str, bool]]) -> Diagram:
        """All states with these switches in these positions."""
        return self.diagrams.cube((self.level[id_], is_on) for id_, is_on in positions)

    def add_preset(self, name: str, path: Path, positions: dict[str, bool], quiet: bool, louder: bool) -> None:
        states = self.diagrams.both(self.possible, self.cube(positions.items()))
        self.presets[name] = PresetStates(name, path, positions, states, quiet, louder)
        if quiet:
            self.quiet = self.diagrams.either(self.quiet, states)

    def can_be(self, states: Diagram) -> bool:
        """Whether any possible state is among ``states``."""
        return self.diagrams.both(states, self.possible) != NEVER

    def in_presets(self, states: Diagram) -> list[str]:
        """The presets in which it can be, in the order of the text."""
        return [name for name, preset in self.presets.items() if self.diagrams.both(states, preset.states) != NEVER]

    def witness(self, states: Diagram, preset: str | None = None) -> State | None:
        """One state among ``states`` that takes little to set up: in ``preset``, else in the first preset that has one,
        else by hand. ``None`` if there is none.
        """
        names = [preset] if preset is not None else self.in_presets(states)
        if names:
            found = self.presets[names[0]]
            states = self.diagrams.both(states, found.states)
            rest = self.diagrams.fix(states, {self.level[id_]: on for id_, on in found.positions.items()})
            return self._state(rest, found.name)
        return self._state(self.diagrams.both(states, self.possible), None)

    def few_on(self, most: int) -> Diagram:
        """States with at most so many switches on; selectors, which have to stand somewhere, apart."""
        return self.diagrams.at_most(most, (place for place, switch in enumerate(self.ordered) if switch.kind is not SwitchKind.SELECT))

    def _state(self, states: Diagram, preset: str | None) -> State | None:
        found = self.diagrams.witness(states, self._effort)
        if found is None:
            return None
        for levels in self._selectors.values():
            without = {level: is_on for level, is_on in found.items() if level not in levels}
            could_be = self.diagrams.both(self.possible, self.diagrams.cube(without.items()))
            if len(without) < len(found) and self.diagrams.without(could_be, states) == NEVER:
                found = without  # it may stand anywhere
        positions = {self.ordered[level].id: is_on for level, is_on in sorted(found.items())}
        return State(positions, preset, self.in_words(positions, preset))

    @cached_property
    def _effort(self) -> dict[int, tuple[int, int]]:
        """A selector's positions are free of charge: it has to stand somewhere."""
        return {place: (0, 0) for place, switch in enumerate(self.ordered) if switch.kind is SwitchKind.SELECT}

    def in_words(self, positions: dict[str, bool], preset: str | None = None) -> str:
        """``with loop 3 in and loop 5 out``, ``in preset `verse` with `echo` off``, ``whatever is switched``.

        Where many switches must be off, ``with loop 40 in and everything else off`` says it shorter.
        """
        selected = {self[id_].thing for id_, is_on in positions.items() if is_on and self[id_].kind is SwitchKind.SELECT}
        off = [id_ for id_, is_on in positions.items() if not is_on and self[id_].kind is not SwitchKind.SELECT]
        said = []
        for id_, is_on in positions.items():
            switch = self[id_]
            if switch.kind is SwitchKind.SELECT and not is_on and switch.thing in selected:
                continue
            if len(off) <= _MANY_OFF or id_ not in off:
                said.append(switch.words(is_on, alone=self._loopers < 2))
        if len(off) > _MANY_OFF:
            said.append("everything else off" if said else "everything off")
        listed = " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)
        if preset is not None:
            return f"in preset `{preset}`" + (f" with {listed}" if listed else "")
        return f"with {listed}" if listed else "whatever is switched"

    @cached_property
    def _loopers(self) -> int:
        return len({switch.thing for switch in self.ordered if switch.kind is SwitchKind.LOOP})

    def complete(self, state: State | None) -> dict[str, bool]:
        """One whole position of the board that fits ``state``: everything else off, each selector at its first place."""
        positions = {switch.id: False for switch in self.ordered}
        if state is not None:
            if state.preset is not None:
                positions |= self.presets[state.preset].positions
            positions |= state.positions
        said = state.positions if state else {}
        for levels in self._selectors.values():
            if not any(positions[self.ordered[level].id] for level in levels):
                free = [level for level in levels if said.get(self.ordered[level].id) is not False]
                positions[self.ordered[(free or levels)[0]].id] = True
        return positions
