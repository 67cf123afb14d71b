"""A slip hides nothing but what it broke: everything else is read, and everything that is wrong is said at once."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from board_texts import as_text, power_boards
from boardwright.spec.read import read
from boardwright.spec.text import read_text

GOOD = "board: {name: Good}\nsupplies:\n  s: {outlets: {1: 9V dc centre-negative 1A}}\npedals:\n  first: {kind: boost, feed: s.1}\n"
REST = "  last: {kind: fuzz, feed: s.1}\namps: {combo: {kind: valve}}\naudio:\n  - guitar > first > last > combo\n"

DAMAGE = {
    "a bracket that is not closed": ("  hurt: {kind: delay, feed: s.1\n", 6, 9),
    "a bracket that is closed twice": ("  hurt: {kind: delay}}\n", 6, 22),
    "a quotation mark that is not closed": ('  hurt: {kind: "delay}\n', 6, 16),
    "a missing comma": ("  hurt: {kind: delay feed: s.1}\n", 6, 26),
    "a missing colon": ("  hurt {kind: delay}\n", 6, 3),
    "a name on its way": ("  hurt\n", 6, 3),
    "a name and nothing": ("  hurt:\n", 6, 3),
    "two colons": ("  hurt: kind: delay\n", 6, 13),
    "a tab": ("\thurt: {kind: delay}\n", 6, 1),
    "a line too far left": (" hurt: {kind: delay}\n", 6, 2),
    "a line too far right": ("    hurt: {kind: delay}\n", 6, 5),
    "a dash among names": ("  - hurt\n", 6, 3),
    "a comment in brackets": ("  hurt: {kind: delay, feed: s #1}\n", 6, 9),
    "a character that no text holds": ("  hurt: {kind: del\x01ay}\n", 6, 19),
    "a wrong value": ("  hurt: {kind: daily}\n", 6, 16),
    "a wrong key": ("  hurt: {kand: delay}\n", 6, 10),
}


@pytest.mark.parametrize(("line", "number", "column"), DAMAGE.values(), ids=DAMAGE)
def test_one_damaged_entry_leaves_all_others(line, number, column):
    spec = read(GOOD + line + REST)
    assert spec.pedals["first"].kind == "boost" and spec.pedals["last"].kind == "fuzz"
    assert spec.board.name == "Good" and list(spec.supplies) == ["s"] and list(spec.amps) == ["combo"] and list(spec.audio) == [0]
    first = spec.problems[0]
    assert (first.span.line, first.span.column) == (number, column), first


def test_errors_of_several_parts_are_said_at_once_and_in_order():
    spec = read("board: {name: [x}\npedals:\n  a: {kind: fuzz\n  b: {kind: fuzz}\n  c: {kind: \n  d: {kind: wah, gain: 3}\naudio: [a > ]\nfoo: 1\n")
    assert list(spec.pedals) == ["b", "d"]
    assert [problem.span.line for problem in spec.problems] == sorted(problem.span.line for problem in spec.problems)
    assert {problem.span.line for problem in spec.problems} == {1, 3, 5, 6, 7, 8}


def test_what_is_broken_is_named_so_that_nothing_is_judged_by_it():
    spec = read(GOOD + "  hurt: {kind: delay\n" + REST)
    assert spec.unread(("pedals", "hurt")) and not spec.unread(("pedals", "first")) and not spec.unread(("pedals", "last"))


def test_a_bracket_may_be_closed_parts_later():
    spec = read("pedals: {a: {kind: fuzz,\n  gain: 3 dB},\nb: {kind: boost}\n}\nboard: {name: After}\n")
    assert not spec.problems and list(spec.pedals) == ["a", "b"] and spec.board.name == "After"


def test_unindented_json_is_read_as_one():
    spec = read('{\n"board": {"name": "Flat"},\n"pedals": {\n"a": {"kind": "fuzz"}\n}\n}\n')
    assert not spec.problems and spec.board.name == "Flat" and list(spec.pedals) == ["a"]


def test_of_broken_json_the_part_before_the_damage_is_kept():
    spec = read('{"board": {"name": "Half"}, "pedals": {"a": {"kind": "fuzz"}, "b": {"kind" "boost"}, "c": {"kind": "wah"}}}')
    assert spec.board.name == "Half" and list(spec.pedals) == ["a"] and spec.problems


def test_tabs_are_complained_about_once_and_read_all_the_same():
    spec = read("board:\n\tname: Tabs\npedals:\n\ta: {kind: fuzz}\n\tb:\n\t\tkind: boost\n")
    assert [problem.message for problem in spec.problems] == ["A tab stands here. Indent with spaces only, here and below."]
    assert spec.problems[0].span.line == 2
    assert spec.board.name == "Tabs" and [pedal.kind for pedal in spec.pedals.values()] == ["fuzz", "boost"]


def test_half_of_an_entry_is_not_read_as_if_it_were_all():
    assert "hurt" not in read(GOOD + "  hurt: {kind: delay, needs: 9V dc centre-negative 5mA, fe\n" + REST).pedals


SECTIONS = ("board", "supplies", "pedals", "amps", "audio")


@given(power_boards(), st.data())
@settings(deadline=None, max_examples=150)
def test_no_edit_raises_or_takes_away_what_stands_before_it(board, data):
    """Truncate, delete or insert anywhere: sections that end before the edit are read as ever."""
    text = _blocks(board)
    position = data.draw(st.integers(0, len(text)))
    how = data.draw(st.sampled_from(["cut", "delete", "insert"]))
    if how == "cut":
        edited = text[:position]
    elif how == "delete":
        edited = text[:position] + text[position + data.draw(st.integers(1, 30)) :]
    else:
        edited = text[:position] + data.draw(st.sampled_from(["{", "}", "[", "]", '"', "'", ":", ",", "\t", "\n", "- ", "#", "x", "\0", "🎸", "\n\n", ": {", "'''"])) + text[position:]
    before = read_text(text)
    after = read_text(edited)
    read(edited)
    for name in SECTIONS:
        # the line after a section still belongs to it, if it turns out to be indented
        if before.locate((name,)) and text.index(f"\n{name}:") + len(_block(name, board[name])) < position:
            assert after.root.items[name].node.plain() == before.root.items[name].node.plain(), name


def _blocks(board) -> str:
    return "# a board\n" + "".join(_block(name, board[name]) for name in SECTIONS)


def _block(name, value) -> str:
    if isinstance(value, list):
        return f"{name}:\n" + "".join(f"  - {each}\n" for each in value)
    return f"{name}:\n" + "".join(f"  {key}: {as_text(each).replace(chr(10), '')}\n" for key, each in value.items())
