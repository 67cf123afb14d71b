"""Names in ``steps``, ``readings`` and ``spares`` that lead nowhere."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from boardwright.board.bench.ground_readings import BOARD
from boardwright.spec.fields import Jack
from boardwright.spec.problem import Path, Problem
from boardwright.spec.wording import either, nearest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

_FEW = 12
"""Of more names than these, a list of them all would help nobody."""


def unknown_at_the_bench(board: Board) -> list[Problem]:
    """Every such name, once each. A fragment may use any, so do not ask there."""
    found = [*_of_steps(board), *_of_readings(board), *_of_spares(board)]
    return list({(problem.where, problem.message): problem for problem in found}.values())


def loop_names(board: Board) -> list[str]:
    """Every loop, as ``hub.3``."""
    return [f"{name}.{loop}" for name, switcher in board.spec.switchers.items() for loop in switcher.loops or ()]


def _of_steps(board: Board) -> Iterator[Problem]:
    spec = board.spec
    rows = len(board.layout.deck.frame.rows or ()) if spec.steps else 0
    for number, step in spec.steps.items():
        path: Path = ("steps", number)
        if step.row is not None and rows and step.row > rows:
            said = f"A step is about row {step.row}, and the frame has {rows}."
            yield Problem("name", said, (*path, "row"), board.locate((*path, "row")), f"a row from 1 to {rows}")
        if step.of is None or step.do not in ("loop", "preset", "amp"):
            continue
        loops = loop_names(board)
        known = {"loop": [*loops, *(name.partition(".")[2] for name in loops)], "preset": [*spec.presets], "amp": [*spec.amps]}[step.do]
        word = "amplifier" if step.do == "amp" else step.do
        if step.of not in known:
            yield _problem(board, (*path, "of"), step.of, f"There is no {word} `{step.of}`.", known)


def _of_readings(board: Board) -> Iterator[Problem]:
    spec = board.spec
    labels = dict.fromkeys(lead.label for lead in board.layout.leads) if spec.readings else {}
    outlets = dict.fromkeys(outlet.id for outlet in board.power.outlets) if spec.readings else {}
    for number, reading in spec.readings.items():
        path: Path = ("readings", number)
        for jack in reading.where or ():
            if str(jack) in labels or str(jack) in outlets or jack == Jack(BOARD):
                continue
            if jack.jack and jack.thing in spec.supplies:
                yield _problem(board, (*path, "where"), str(jack), f"`{jack.thing}` has no outlet `{jack.jack}`.", outlets)
            elif jack.thing not in board.names and not any(spec.unread((key, jack.thing)) for key in spec.written):
                said = f"`{jack}` is neither a lead's label nor described anywhere."
                yield _problem(board, (*path, "where"), str(jack), said, [*labels, *board.names, BOARD])
        if reading.preset is not None and reading.preset not in spec.presets:
            yield _problem(board, (*path, "preset"), reading.preset, f"There is no preset `{reading.preset}`.", [*spec.presets])


def _of_spares(board: Board) -> Iterator[Problem]:
    spec = board.spec
    labels = dict.fromkeys(lead.label for lead in board.layout.leads) if any(spare.of for spare in spec.spares.values()) else {}
    for number, spare in spec.spares.items():
        for name in spare.of or ():
            if name not in board.names and name not in labels:
                said = f"`{name}` is neither a lead's label nor described anywhere."
                yield _problem(board, ("spares", number, "of"), name, said, [*board.names, *labels])


def _problem(board: Board, path: Path, name: str, said: str, known: Collection[str]) -> Problem:
    guess = nearest(name, known)
    hint = f" Did you mean `{guess}`?" if guess else ""
    expected = either(list(known)) if 0 < len(known) <= _FEW else "a name that the board has"
    return Problem("name", said + hint, path, board.locate(path), expected)
