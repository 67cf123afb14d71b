"""Two ways to read one text must give one tree: quick or by the YAML library, and part by part or as a whole."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board_texts import TREES, written
from boardwright.spec.parse import parse
from boardwright.spec.quick import quick
from boardwright.spec.text import read_text
from boardwright.spec.tree import Lines, Node, Tree
from parity import pieces, whole_boards

BOARDS = [pytest.param(text, id=name) for name, text in [*whole_boards(), *list(pieces())[::7]]]

# Everything that means something to YAML, so that short texts made of it go to every corner.
TOKENS = [
    "a", "key", "9V dc", "-3", "- ", "-", "--", "---", "...", ".", ": ", ":", " :", "{", "}", "[", "]", ", ", ",", '"', "'", '"x"', "'y'",
    '"a\\n"', '"\\u00e9"', '"\\ud83d\\ude00"', '"\\ud83d"', " ", "  ", "\n", "\n  ", "\n    ", "\n- ", "\n  - ", "# c", " # c", "#", "?",
    "? ", "|", ">", "&a ", "*a", "!t ", "%", "@", "`", "~", "null", "<<", "<<: ", "é", "😀", "\u00a0", "\t", '"": ', "''", "k: v", "k: v\n",
    "x: {a: b}\n", "- x\n", "a:\n  b: c\n", "l: [1, 2]\n", '"a":1', "=", "\\", "\x85", "0",
]  # fmt: skip


def same(one: Node, other: Node) -> bool:
    """Whether two trees agree in every value and every place."""
    if (one.text, one.is_list, one.start, one.end) != (other.text, other.is_list, other.start, other.end):
        return False
    mine, theirs = one.items or {}, other.items or {}
    return list(mine) == list(theirs) and all(
        (a.start, a.end) == (b.start, b.end) and same(a.node, b.node) for a, b in zip(mine.values(), theirs.values(), strict=True)
    )


def assert_quick_agrees(text: str) -> bool:
    """If the quick way reads a text at all, it must read what the YAML library reads. Says whether it did."""
    short = quick(text)
    if short is None:
        return False
    long = parse(text, keep=2)
    assert not long.broken and not long.slips and long.node is not None, (text, long)
    assert same(short, long.node), text
    return True


@given(TREES.flatmap(written))
@settings(deadline=None)
def test_quick_reads_what_the_library_reads(text):
    assert_quick_agrees(text)


def test_quick_never_differs_on_texts_made_of_yaml_alone():
    chance = random.Random(7)
    texts = ("".join(chance.choices(TOKENS, k=chance.randint(1, 9))) for _ in range(20_000))
    read = sum(map(assert_quick_agrees, texts))
    assert read > 300, "too few texts were simple enough for this to say anything"


@pytest.mark.parametrize("text", BOARDS)
def test_quick_agrees_on_every_board_of_the_project(text):
    assert_quick_agrees(text)


def paths(node: Node, above: tuple = ()) -> list[tuple]:
    """Every path of a tree."""
    found = [above]
    for key, child in (node.items or {}).items():
        found += paths(child.node, (*above, key))
    return found


def assert_parts_agree(text: str) -> None:
    whole = parse(text, keep=2)
    if whole.broken or whole.slips or whole.node is None or whole.node.items is None or whole.node.is_list:
        return
    in_parts, at_once = read_text(text), Tree(whole.node, [], Lines(text))
    assert not in_parts.problems
    assert in_parts.root.plain() == at_once.root.plain()
    for path in paths(whole.node):
        assert in_parts.locate(path) == at_once.locate(path), path
        assert in_parts.locate(path, by_name=True) == at_once.locate(path, by_name=True), path


@given(TREES.flatmap(written))
@settings(deadline=None)
def test_parts_read_what_the_whole_reads(text):
    assert_parts_agree(text)


@pytest.mark.parametrize("text", BOARDS)
def test_parts_agree_on_every_board_of_the_project(text):
    assert_parts_agree(text)


@given(TREES.flatmap(lambda data: st.tuples(st.just(data), written(data))))
@settings(deadline=None)
def test_what_was_written_is_what_is_read(pair):
    data, text = pair
    assert read_text(text).root.plain() == data
