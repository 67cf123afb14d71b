"""``Spec`` to ``Board``: every view of the board that rules and drawings ask for, each worked out when first asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from boardwright.board.audio import GUITAR, Audio, assemble_audio
from boardwright.board.conductors import Conductors, assemble_conductors
from boardwright.board.power import Power, assemble_power
from boardwright.spec.language import SECTIONS
from boardwright.spec.problem import Path, Problem, Span
from boardwright.spec.read import Spec
from boardwright.spec.wording import nearest


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
        return assemble_audio(self.spec, self.power.devices)

    @cached_property
    def conductors(self) -> Conductors:
        return assemble_conductors(self.power, self.audio)

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
        spec.problems += _unknown_names(board)
    return board


def _unknown_names(board: Board) -> Iterator[Problem]:
    spec = board.spec
    said = set()
    for hop in board.audio.hops:
        for jack in (hop.start, hop.end):
            if jack.thing in board.names or (jack.thing, hop.path) in said or spec.unread(("pedals", jack.thing)):
                continue
            said.add((jack.thing, hop.path))
            guess = nearest(jack.thing, [*board.names])
            hint = f" Did you mean `{guess}`?" if guess else ""
            message = f"`{jack.thing}` is not described anywhere.{hint}"
            expected = "a name from `pedals` or `amps`, or `guitar`"
            yield Problem("name", message, hop.path, spec.locate(hop.path), expected)
    for name, device in board.power.devices.items():
        for line in device.lines:
            if line.after and line.after not in board.power.devices:
                guess = nearest(line.after, [*board.power.devices])
                hint = f" Did you mean `{guess}`?" if guess else ""
                message = f"`{name}` is chained behind `{line.after}`, which is not described anywhere.{hint}"
                where = (*line.path, "after")
                yield Problem("name", message, where, spec.locate(where), "the name of a pedal on the same lead")
