"""Every board of this project, for tests that hold two things to one another over all of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

import boardwright
from boardwright.report.report import Report
from boardwright.site.boards import Boards

ROOT = Path(__file__).parents[1]


Named = tuple[str, str]
"""Name and text of a board."""


@cache
def whole_boards() -> tuple[Named, ...]:
    """The worked examples and the lessons' boards."""
    files = sorted([*ROOT.glob("demo_boards/*.yaml"), *ROOT.glob("docs/lessons/boards/*.yaml")])
    return tuple((file.stem, file.read_text("utf-8")) for file in files)


@cache
def cases_in(file: Path) -> dict[str, Any]:
    """The cases of a rule by their names. Not to be changed."""
    return YAML(typ="safe", pure=True).load(file.read_text("utf-8"))


@cache
def pieces() -> tuple[Named, ...]:
    """The small pieces of boards that the rules' cases use."""
    files = sorted(ROOT.glob("tests/rules/*/*.yaml"))
    return tuple((f"{file.stem}: {name}", case["board"]) for file in files for name, case in cases_in(file).items())


def boards() -> tuple[Named, ...]:
    return whole_boards() + pieces()


@cache
def report_on(text: str) -> Report:
    """What the checker says of a board, worked out once. Not to be changed."""
    return boardwright.check(text)


@cache
def shown_boards() -> Boards:
    """All boards as the site shows them. Not to be changed."""
    return Boards(ROOT)
