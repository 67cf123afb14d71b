"""Every board of this project, for tests that hold two things to one another over all of them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ruamel.yaml import YAML

ROOT = Path(__file__).parents[1]


def whole_boards() -> Iterator[tuple[str, str]]:
    """The worked examples and the lessons' boards: name and text."""
    for file in sorted([*ROOT.glob("demo_boards/*.yaml"), *ROOT.glob("docs/lessons/boards/*.yaml")]):
        yield file.stem, file.read_text("utf-8")


def pieces() -> Iterator[tuple[str, str]]:
    """The small pieces of boards that the rules' cases use: name and text."""
    for file in sorted(ROOT.glob("tests/rules/*/*.yaml")):
        for name, case in YAML(typ="safe", pure=True).load(file.read_text("utf-8")).items():
            yield f"{file.stem}: {name}", case["board"]


def boards() -> Iterator[tuple[str, str]]:
    yield from whole_boards()
    yield from pieces()
