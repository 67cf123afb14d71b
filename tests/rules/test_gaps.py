"""Boards with a gap: whatever is left out, or said to be unknown, a rule still gives an answer.

What is left out is one value, or one whole piece, of the boards of a rule's cases, each in turn. Texts that are then not right are
judged as well, since a text with errors still gets what can be checked.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from boardwright.board.assemble import assemble
from boardwright.rules.registry import RULES
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read
from parity import cases_in

CASES = ("trips", "near-miss", "missing-data")
HERE = Path(__file__).parent


def places(node: Any, path: tuple = ()) -> Iterator[tuple]:
    """The way to everything that a tree holds."""
    for key, value in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        yield (*path, key)
        yield from places(value, (*path, key))


def with_gaps(tree: Any) -> Iterator[tuple[tuple, str]]:
    """The tree as text, with each thing left out in turn, and with each said to be unknown."""
    for path in places(tree):
        for gap in (None, "unknown"):
            changed = at = deepcopy(tree)
            for key in path[:-1]:
                at = at[key]
            if gap is None:
                del at[path[-1]]
            else:
                at[path[-1]] = gap
            yield path, json.dumps(changed, default=str)


@pytest.mark.parametrize("name", [pytest.param(name, id=f"{name}: ") for name in RULES])
def test_a_gap_breaks_no_rule(name):
    yaml = YAML(typ="safe", pure=True)
    cases = cases_in(HERE / RULES[name].family / f"{name}.yaml")
    for case in CASES:
        for path, text in with_gaps(yaml.load(cases[case]["board"])):
            board = assemble(read(text, fragment=True))
            for _, judged in run(board, [name]).judgements:
                said = judged.question if judged.verdict is Verdict.CANNOT_TELL else judged.sentence
                assert judged.verdict is Verdict.CLEAR or (judged.things and said), f"{case} with a gap at {path}"


@pytest.mark.parametrize("power", ["needs: 9 bananas", "needs: 9V dc centre-negative 60mA, feed: {bananas: 3}"])
def test_power_that_could_not_be_read_is_asked_for(power):
    spec = read(f"pedals: {{echo: {{kind: delay, {power}}}}}", fragment=True)
    (judged,) = [each for _, each in run(assemble(spec), ["device-not-fed-exactly-once"]).judgements]
    assert spec.problems and judged.verdict is Verdict.CANNOT_TELL and "How is `echo` powered?" in judged.question
