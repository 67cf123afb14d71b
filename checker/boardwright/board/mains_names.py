"""Names on the way to the wall, and pieces of metal, that lead nowhere: a slip of the pen there could hide a danger."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from boardwright.board.mains import WALL
from boardwright.spec.problem import Path, Problem
from boardwright.spec.sections import grounds
from boardwright.spec.wording import nearest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board


def unknown_on_the_wall(board: Board) -> Iterator[Problem]:
    """Names in ``mains``, ``place`` and ``grounds`` that nothing declares, that mean two things, or that go in a circle."""
    yield from _undeclared(board)
    yield from _twice(board)
    yield from _circuits(board)
    yield from _metal(board)
    for name in board.wall.rings:
        path = board.wall.links[name].path
        yield Problem("name", f"`{name}` is fed by itself in the end: what it is plugged into goes in a circle.", path, board.locate(path))


def _problem(board: Board, path: Path, message: str, name: str, known: Collection[str], expected: str) -> Problem:
    guess = nearest(name, [*known])
    hint = f" Did you mean `{guess}`?" if guess else ""
    return Problem("name", message + hint, path, board.locate(path), expected, board.spec.edits(path, name, guess))


def _undeclared(board: Board) -> Iterator[Problem]:
    wall = board.wall
    links = [name for name, link in wall.links.items() if link.declared]
    known = [*board.names, *links, *(name for name, item in wall.items.items() if item.section is not None), *wall.circuits, WALL]
    for name, item in wall.items.items():
        if item.section is None and name not in board.names and not any(board.spec.unread((key, name)) for key in board.spec.written):
            message = f"`{name}` is not described anywhere."
            yield _problem(board, item.path, message, name, known, "the name of something that is described; other gear goes under `mains.loads`")
    for name, link in wall.links.items():
        if not link.declared:
            message = f"`{name}` is not described anywhere."
            yield _problem(board, link.path, message, name, known, "an inlet, a block, a circuit of `place.circuits`, or `wall`")


def _twice(board: Board) -> Iterator[Problem]:
    section = board.wall.section
    seen: dict[str, str] = dict.fromkeys(board.names, "a thing of the board")
    for key in ("cords", "inlets", "blocks", "adaptors", "loads"):
        for name in getattr(section, key) or {}:
            path: Path = ("mains", key, name)
            if name in seen:
                message = f"`{name}` is the name of {seen[name]} too. Give this one a name of its own."
                yield Problem("name", message, path, board.locate(path))
            seen.setdefault(name, f"something under `mains.{key}`")


def _circuits(board: Board) -> Iterator[Problem]:
    wall, spec = board.wall, board.spec
    if not wall.circuits:
        return  # without a list, circuits are names and no more
    named: list[tuple[str, Path]] = []
    for key in ("supplies", "amps", "computers"):
        named += [(each.circuit, (key, name, "circuit")) for name, each in getattr(spec, key).items() if each.circuit]
    for key in ("inlets", "blocks", "loads"):
        found = getattr(wall.section, key) or {}
        named += [(each.circuit, ("mains", key, name, "circuit")) for name, each in found.items() if each.circuit]
    for name, path in named:
        if name not in wall.circuits and name != "unknown":
            yield _problem(board, path, f"There is no circuit `{name}` in `place.circuits`.", name, wall.circuits, "a name from `place.circuits`")


def _metal(board: Board) -> Iterator[Problem]:
    """A piece of metal that is named once joins nothing: it is a misspelt name, or the other half is missing."""
    ends = [(jack.thing, number) for number, entry in board.spec.grounds.items() for jack in entry.between or ()]
    times = Counter(name for name, _ in ends)
    ours = (grounds.EARTH, grounds.FRAME, grounds.ENCLOSURE)
    for name, number in ends:
        if name not in board.names and name not in ours and times[name] == 1:
            path: Path = ("grounds", number)
            known = [*board.names, *ours, *(each for each in times if times[each] > 1)]
            message = f"`{name}` is not described anywhere, and nothing else is joined to it."
            yield _problem(board, path, message, name, known, "a thing, `frame`, `enclosure`, `earth`, or a piece of metal that two entries name")
