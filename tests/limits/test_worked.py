"""Limits that only show in a number of a finding or of a list, on boards small enough to work it out by hand."""

from __future__ import annotations

import pytest

from boardwright.board.assemble import assemble
from boardwright.report.cut_list import cut_list
from boardwright.rules.run import run
from boardwright.spec.read import read


def board_of(text):
    spec = read(text, fragment=True)
    assert not spec.problems, spec.problems
    return assemble(spec)


def test_what_nearly_anyone_lifts():
    """23 kg × 25/30 × (1 − 0.003 × 70) × (0.82 + 4.5/70): NIOSH 94-110, for a handle 30 cm ahead, 5 cm up, lifted by 70 cm."""
    board = board_of("board: {case: {empty_weight: 30 kg}, frame: {size: [900, 400]}}\npedals: {a: {size: [70, 120, 55]}}\n")
    (judged, *_) = [each for _, each in run(board, ["weight-and-balance"]).judgements if each.numbers]
    assert {number.name: number.value for number in judged.numbers}["nearly anyone lifts"] == pytest.approx(13389.56, abs=0.01)


def test_plugs_beyond_the_ends():
    """Ten leads have twenty plugs, and a tenth more are two; one lead has two, and one more is the least."""
    pedals = ", ".join(f"p{n:02}: {{kind: boost}}" for n in range(11))
    leads = " > ".join(f"p{n:02}" for n in range(11))
    (group,) = cut_list(board_of(f"pedals: {{{pedals}}}\naudio: [{{path: {leads}, lead: 300 mm}}]\n")).groups
    assert len(group.rows) == 10 and sum(group.plugs.values()) == 22
    (group,) = cut_list(board_of("pedals: {a: {kind: boost}, b: {kind: boost}}\naudio: [{path: a > b, lead: 300 mm}]\n")).groups
    assert sum(group.plugs.values()) == 3


def test_leads_are_sold_in_steps():
    """A way of 501 mm wants 606.05 mm, and one of 505 mm 610.25 mm: leads of 610 and of 620 mm."""
    for way, sold in ((501, 0.610), (505, 0.620)):
        (bought,) = cut_list(board_of(f"runs: [{{id: m1, carries: audio, made: moulded, joins: a > b, path: [[0, 0], [{way}, 0]]}}]\n")).bought
        assert bought.wanted == pytest.approx(sold)


def test_a_bond_of_ten_ohms_is_soft():
    text = 'pedals: {a: {kind: boost}}\namps: {combo: {kind: valve}}\naudio: [guitar > a > combo]\ngrounds: [{between: [a, frame], by: bracket, resistance: OHMS}]\n'
    for ohms, soft in (("9.9 ohm", False), ("10 ohm", True)):
        (bond,) = [each for each in board_of(text.replace("OHMS", ohms)).ground.bonds if each.path == ("grounds", 0)]
        assert bond.soft is soft
