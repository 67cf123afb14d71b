"""Every rule against its case file, and every rule against what all rules must have."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from boardwright.board.assemble import assemble
from boardwright.rules.registry import HEADINGS, LESSONS, RULES, BadRule, rule
from boardwright.rules.run import run
from boardwright.rules.verdict import Severity, Verdict
from boardwright.spec.read import read
from parity import cases_in

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
FILES = sorted(HERE.glob("*/*.yaml"))
WORST_FIRST = [Verdict.TRIPS, Verdict.ACCEPTED, Verdict.CANNOT_TELL, Verdict.CLEAR]


def _cases():
    """One parameter for each case of each file."""
    for file in FILES:
        for name, case in cases_in(file).items():
            yield pytest.param(file.stem, case, id=f"{file.stem}: {name}")


def _told(judged):
    """All that a judgement says and counts with."""
    numbers = (f" | {each.name}: {each.text}{' (assumed)' if each.origin == 'assumed' else ''}" for each in judged.numbers)
    return f"{judged.sentence} {judged.remedy} {judged.question}" + "".join(numbers)


@pytest.mark.parametrize(("name", "case"), list(_cases()))
def test_case(name, case):
    spec = read(case["board"], fragment=True)
    board = assemble(spec)
    outcome = run(board, [name])
    assert not spec.problems, spec.problems
    said = {judged.verdict for _, judged in outcome.judgements}
    worst = next((verdict.value for verdict in WORST_FIRST if verdict in said), "not applicable")
    assert worst == case["expect"], [judged for _, judged in outcome.judgements]
    told = "\n".join(_told(judged) for _, judged in outcome.judgements)
    says = case.get("says", [])
    for words in [says] if isinstance(says, str) else says:
        assert words in told, told
    assert any(judged.before_power for _, judged in outcome.judgements) is case.get("before_power", False)
    tripped = [judged for _, judged in outcome.judgements if judged.verdict is Verdict.TRIPS]
    if "severity" in case:
        assert max((judged.severity for judged in tripped), key=lambda s: -s.rank) == case["severity"]
    if "about" in case:
        assert {thing.name for judged in tripped for thing in judged.things} >= set(case["about"])
    if "things" in case:
        assert [[thing.name for thing in judged.things] for judged in tripped] == [case["things"]]
    if "line" in case:
        telling = tripped or [judged for _, judged in outcome.judgements if judged.verdict is Verdict.CANNOT_TELL]
        assert [board.locate(judged.at).line for judged in telling] == [case["line"]]
    if "state" in case:
        assert [judged.witness for judged in tripped] == [case["state"]]
    if "findings" in case:
        assert len(tripped) == case["findings"]
    if "clear" in case:
        assert sum(judged.verdict is Verdict.CLEAR for _, judged in outcome.judgements) == case["clear"]
    if "offers" in case:
        assert [edit.title for judged in tripped for edit in judged.edits] == case["offers"]
    for judged in tripped:
        assert judged.severity in RULES[name].severities
        assert judged.sentence.endswith((".", "?")) and judged.remedy.endswith(".")
        assert board.locate(judged.at) is not None, "a finding must point at a line"


def test_every_rule_has_cases_and_every_case_file_a_rule():
    cases = {file.stem for file in FILES}
    assert not set(RULES) - cases, f"rules without a case file under tests/rules: {sorted(set(RULES) - cases)}"
    assert not cases - set(RULES), f"case files without a rule: {sorted(cases - set(RULES))}"
    assert all(file.parent.name == RULES[file.stem].family for file in FILES)


@pytest.mark.parametrize("name", RULES)
def test_every_rule_trips_nearly_trips_and_lacks_data(name):
    file = HERE / RULES[name].family / f"{name}.yaml"
    assert file.is_file(), f"write {file.relative_to(ROOT)} with the cases trips, near-miss and missing-data"
    cases = cases_in(file)
    expected = {case["expect"] for case in cases.values()}
    assert {"trips", "near-miss", "missing-data"} <= set(cases)
    assert cases["trips"]["expect"] == "trips" and cases["near-miss"]["expect"] == "clear"
    assert expected & {"cannot tell", "not applicable"}


@pytest.mark.parametrize("name", RULES)
def test_every_rule_is_named_by_its_fault_and_lives_in_its_file(name):
    found = RULES[name]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", name)
    assert not name.startswith(("no-need", "use-", "prefer-", "avoid-", "check-"))
    file = ROOT / "checker/boardwright/rules" / found.family / f"{name.replace('-', '_')}.py"
    assert file.is_file()
    assert "no published source" in found.page or re.search(r"## Source\n.*\w", found.page)


def test_every_file_of_a_family_is_registered():
    files = {file.stem for file in (ROOT / "checker/boardwright/rules").glob("*/*.py") if not file.stem.startswith("_")}
    unregistered = {name.replace("_", "-") for name in files} - set(RULES)
    assert not unregistered, f"add to the list in the family's __init__.py: {sorted(unregistered)}"


@pytest.mark.parametrize("name", RULES)
def test_every_rule_is_taught(name):
    lesson = ROOT / "docs/lessons" / f"{RULES[name].lesson}.md"
    assert f"{{ #{name} }}" in lesson.read_text("utf-8"), f"no section {{ #{name} }} in {lesson.name}"


@pytest.mark.parametrize("lesson", LESSONS)
def test_every_anchor_of_a_lesson_that_looks_like_a_rule_is_one(lesson):
    text = (ROOT / "docs/lessons" / f"{lesson}.md").read_text("utf-8")
    for anchor in re.findall(r"\{ #([a-z]+(?:-[a-z]+){2,}) \}", text):
        assert anchor in RULES, f"{lesson}.md teaches a rule that does not exist: {anchor}"


def test_a_rule_that_lacks_something_is_refused():
    def nameless(board):
        return iter(())

    nameless.__module__ = "boardwright.rules.power.no_spare_outlet"
    with pytest.raises(BadRule, match="like its file"):
        rule(Severity.FAULT, lesson="labels")(nameless)
    nameless.__name__ = "no_spare_outlet"
    with pytest.raises(BadRule, match="another rule has this name"):
        rule(Severity.FAULT, lesson="labels")(nameless)
    assert len(HEADINGS) == 5
