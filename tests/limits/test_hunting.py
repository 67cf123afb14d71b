"""The weights of a hunt for a fault, on boards small enough to count through by hand. They are judgement, and have no source."""

from __future__ import annotations

import pytest

from boardwright.board.assemble import assemble
from boardwright.board.hunt import Answer, Ending, Explained, Hunt
from boardwright.spec.read import read
from boardwright.spec.sections.symptom import Symptom

EVERY_SORT = """
guitar: {pickups: humbucker, lead: 3 m}
supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA, 2: 9V dc centre-negative 100mA}}}
pedals:
  fuzz: {kind: fuzz, jacks: side, bypass: buffered, needs: 9V dc centre-negative 5mA, feed: battery}
  drive: {kind: overdrive, jacks: rear, bypass: buffered, needs: 9V dc centre-negative 5mA, feed: s.1}
  vol: {kind: volume-pedal, jacks: side, needs: none}
  echo: {kind: delay, jacks: rear, bypass: buffered, needs: 9V dc centre-negative 50mA, feed: s.2}
amps: {combo: {kind: valve}}
audio: [guitar > fuzz, {path: fuzz > drive, lead: {made: clamped}}, {path: drive > vol, lead: {made: moulded}}, vol > echo > combo]
"""
TWO_AMPLIFIERS = """
pedals: {push: {kind: boost}, split: {kind: splitter}}
amps: {one: {kind: valve}, two: {kind: valve}}
audio: [guitar > push > split, split.a > one, split.b > two]
"""
ONE_LEAD = "amps: {combo: {kind: valve}}\naudio: [guitar > combo]\n"


def hunt(text, explained=(), **symptom):
    return Hunt(assemble(read(text, fragment=True)), Symptom(**symptom), explained)


def test_every_sort_of_suspect():
    weights = {each.id: each.weight for each in hunt(EVERY_SORT, kind="silent").all}
    assert weights == {
        "guitar itself": 1, "setting of guitar": 5, "lead guitar > fuzz": 6,
        "fuzz itself": 1 + 1, "battery of fuzz": 5, "lead fuzz > drive": 6,  # a box with a switch to step on; clamped plugs
        "drive itself": 1 + 1, "power lead of drive": 3, "outlet s.1": 1, "lead drive > vol": 2,  # moulded plugs
        "vol itself": 1, "setting of vol": 5, "lead vol > echo": 4,  # a box without a switch; nobody says how the plugs are fixed
        "echo itself": 1 + 1, "power lead of echo": 3, "outlet s.2": 1, "lead echo > combo": 5,
        "combo itself": 4, "setting of combo": 5, "s itself": 1,
    }  # fmt: skip


def test_how_long_each_sort_of_test_takes():
    minutes = {each.id: each.minutes for each in hunt(EVERY_SORT, kind="silent").probes}
    assert minutes["look"] == minutes["lamps"] == 0.5
    assert minutes["listen at drive"] == minutes["swap lead vol > echo"] == 1
    assert minutes["listen at fuzz"] == minutes["round vol"] == 2, "jacks at the sides, and nobody says that there is room"
    assert minutes["volts at drive"] == minutes["not guitar"] == 2


def test_what_changes_the_sound_points_four_times_at_it():
    plain = {each.id: each.weight for each in hunt(EVERY_SORT, kind="silent").all}
    moved = {each.id: each.weight for each in hunt(EVERY_SORT, kind="silent", changes_with=["wiggling"]).all}
    for name, weight in plain.items():
        assert moved[name] == weight * (4 if name.startswith(("lead", "power lead")) else 1)


def test_what_is_right_elsewhere_is_hardly_to_blame():
    weights = {each.id: each.weight for each in hunt(TWO_AMPLIFIERS, kind="silent", at=["two"]).all}
    assert weights["push itself"] == pytest.approx(0.1 * 2) and weights["lead guitar > push"] == pytest.approx(0.1 * 6)
    assert weights["two itself"] == 4


def test_what_the_check_found_comes_first():
    found = Explained("outlet-current-overdrawn", "Too much.", "Less.", "combo")
    (first, *_) = hunt(ONE_LEAD, [found], kind="silent").all
    assert first.id == "finding 0" and first.weight == 20


def test_a_crackle_is_found_when_nine_tenths_point_at_it():
    """Guitar 1, its volume 2, its lead 6, amplifier 4 and its controls 2. Each time that a good lead helps, half of the rest is left."""
    crackle = hunt(ONE_LEAD, kind="crackle")
    assert crackle.weights == pytest.approx({"guitar itself": 1, "setting of guitar": 2, "lead guitar > combo": 6, "combo itself": 4, "setting of combo": 2})
    swap = next(each for each in crackle.probes if each.id == "swap lead guitar > combo")
    for left in (9 / 2, 9 / 4, 9 / 8):
        crackle.record.append((swap, Answer.GOOD))
        assert crackle.weights["lead guitar > combo"] == 6 and sum(crackle.weights.values()) == pytest.approx(6 + left)
        assert crackle.ending is Ending.OPEN, "the likeliest has 57, 73 and 84 %"
    crackle.record.append((swap, Answer.GOOD))
    assert crackle.ending is Ending.FOUND, "6 of 6.5625 are 91 %"
    assert [each.id for each in crackle.found] == ["lead guitar > combo"]


def test_a_lead_that_is_bent_and_stays_quiet_is_nearly_cleared():
    crackle = hunt(ONE_LEAD, kind="crackle")
    bend = next(each for each in crackle.probes if each.id == "bend lead guitar > combo")
    crackle.record.append((bend, Answer.GOOD))
    assert crackle.weights["lead guitar > combo"] == pytest.approx(0.1 * 6)
