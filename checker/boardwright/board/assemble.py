"""``Spec`` to ``Board``: every view of the board that rules and drawings ask for, each worked out when first asked."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from boardwright.board.audio import GUITAR, Audio, assemble_audio
from boardwright.board.bench.bench_names import unknown_at_the_bench
from boardwright.board.bench.expected import Expected, assemble_expected
from boardwright.board.bench.plan import PlanStep, assemble_plan
from boardwright.board.conductors import Conductors, assemble_conductors
from boardwright.board.ground import Ground, OneEarth, assemble_ground, one_earth
from boardwright.board.layout.layout import Layout, assemble_layout, unknown_places
from boardwright.board.mains import OnTheWall, assemble_mains
from boardwright.board.mains_names import unknown_on_the_wall
from boardwright.board.names import unknown_names
from boardwright.board.power import Power, assemble_power
from boardwright.board.signal.promises import Answer, answer_promises
from boardwright.board.signal.signal import Signal, assemble_signal
from boardwright.spec.language import SECTIONS
from boardwright.spec.problem import MOST_SHOWN, Path, Span
from boardwright.spec.read import Spec


@dataclass(eq=False)
class Board:
    """A board as described, and what follows from it."""

    spec: Spec

    @property
    def purpose(self) -> str | None:
        """``home``, ``studio``, ``stage`` or ``tour``, if stated."""
        return self.spec.board.for_ if self.spec.board else None

    @property
    def is_for_stage(self) -> bool:
        """Whether it has to last through a show, so that more is asked of it."""
        client = self.spec.board.client if self.spec.board else None
        return self.purpose in ("stage", "tour") or bool(client)

    @cached_property
    def power(self) -> Power:
        return assemble_power(self.spec)

    @cached_property
    def audio(self) -> Audio:
        return assemble_audio(self.spec)

    @cached_property
    def signal(self) -> Signal:
        """The sound in every state of every switch."""
        return assemble_signal(self.spec, self.audio)

    @cached_property
    def promises(self) -> list[Answer]:
        """What is to be true whatever is switched, answered with proofs and witnesses."""
        return answer_promises(self.spec.promises, self.signal, lambda: self.one_earth)

    @cached_property
    def conductors(self) -> Conductors:
        return assemble_conductors(self.power, ((bond.a, bond.b, bond.says) for bond in self.ground.screens))

    @cached_property
    def wall(self) -> OnTheWall:
        """Everything at mains voltage."""
        return assemble_mains(self.spec, self.power)

    @cached_property
    def ground(self) -> Ground:
        """What joins grounds to each other and to earth."""
        return assemble_ground(self.spec, self.audio, self.power, self.wall, self.names)

    @cached_property
    def one_earth(self) -> OneEarth:
        """Whether exactly one earth remains, whichever amplifiers are carried."""
        return one_earth(self)

    @cached_property
    def layout(self) -> Layout:
        return assemble_layout(self.spec, self.audio, self.power)

    @cached_property
    def expected(self) -> list[Expected]:
        """Every reading that a meter and an ear should find."""
        return assemble_expected(self)

    @cached_property
    def plan(self) -> list[PlanStep]:
        """The order in which to build it, with what to measure at each step."""
        return assemble_plan(self)

    @cached_property
    def names(self) -> dict[str, Path]:
        """Everything that has a name, with the path to it."""
        named = {name: (key, name) for key, kind in SECTIONS.items() if kind.makes_things for name in getattr(self.spec, key)}
        return {GUITAR: ("guitar",), **named}

    def locate(self, path: Path) -> Span | None:
        return self.spec.locate(path)


def assemble(spec: Spec) -> Board:
    """The board, with names that lead nowhere said among ``spec.problems`` (a fragment may use any)."""
    board = Board(spec)
    if not spec.fragment:
        spec.problems += list(islice(unknown_names(board), MOST_SHOWN))
        spec.problems += unknown_places(board.layout)
        spec.problems += unknown_on_the_wall(board)
        spec.problems += unknown_at_the_bench(board)
    return board
