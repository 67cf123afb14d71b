"""The boards that the site shows say what they are shown for."""

from __future__ import annotations

import pytest

from boardwright import check
from boardwright.site.exercise import read_key
from built_site import ROOT
from parity import shown_boards

BOARDS = shown_boards()
TAUGHT = [each for each in BOARDS.everything if each.file.is_relative_to(ROOT / "docs/lessons/boards")]
KEYS = sorted((ROOT / "docs/lessons/keys").glob("*.yaml"))


def named(boards):
    return [pytest.param(each, id=each.name) for each in boards]


def test_there_are_boards():
    assert BOARDS.examples and TAUGHT and KEYS


@pytest.mark.parametrize("file", KEYS, ids=lambda file: file.stem)
def test_an_exercise_holds_the_planted_faults_and_no_other(file):
    """Both ways: each finding is in the key once, and each line of the key is found."""
    report = check((ROOT / "docs/lessons/boards" / file.name).read_text("utf-8"))
    assert not report.problems
    left = list(read_key(file).planted)
    for finding in report.findings:
        names = {thing.name for thing in finding.things}
        meant = [each for each in left if each.rule == finding.rule and each.severity == finding.severity and each.about in names]
        assert len(meant) == 1, f"not in the key, or twice: {finding.rule} about {sorted(names)}"
        left.remove(meant[0])
    assert left == [], "in the key, and not found"


@pytest.mark.parametrize("file", KEYS, ids=lambda file: file.stem)
def test_a_mended_exercise_leaves_nothing_to_find_and_keeps_every_pedal(file):
    mended = check(read_key(file).mended.read_text("utf-8"))
    planted = check((ROOT / "docs/lessons/boards" / file.name).read_text("utf-8"))
    assert not mended.problems and not mended.findings
    kept = {row.name for row in mended.power.devices}
    assert {row.name for row in planted.power.devices} <= kept


def test_every_exercise_has_a_key_and_every_key_an_exercise():
    exercises = {each.name for each in TAUGHT if each.name.endswith("-exercise")}
    assert exercises == {file.stem for file in KEYS}


@pytest.mark.parametrize("shown", named(each for each in [*BOARDS.examples, *TAUGHT] if each.is_before))
def test_a_board_of_before_gives_findings(shown):
    assert not shown.report.problems and shown.report.findings


@pytest.mark.parametrize(
    "shown", named(each for each in [*BOARDS.examples, *TAUGHT, BOARDS.language] if not each.is_before and not each.name.endswith("-exercise"))
)
def test_a_board_that_is_not_of_before_is_clean(shown):
    assert not shown.report.problems and not shown.report.findings


@pytest.mark.parametrize("shown", named(each for each in BOARDS.examples if each.is_before))
def test_a_board_of_before_has_a_mended_twin(shown):
    mended = BOARDS.mended(shown)
    assert mended is not None and shown in BOARDS.befores(mended)


@pytest.mark.parametrize("shown", named(case for cases in BOARDS.cases.values() for name, case in cases.items() if name in ("trips", "near-miss")))
def test_a_case_says_the_same_when_it_is_opened_in_the_checker(shown):
    """There it is read as a whole board; it may lack names, but the rule must find what its page says."""
    whole = check(shown.text)
    trips = sum(row.trips for row in whole.coverage if row.rule == shown.rule)
    assert bool(trips) == (shown.verdict == "trips")
