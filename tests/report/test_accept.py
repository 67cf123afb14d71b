"""`accept`: a finding that is meant is shown as meant; a danger never is, and nothing is silenced unseen."""

from __future__ import annotations

import sys
import types

import pytest

import boardwright
from boardwright.board.assemble import assemble
from boardwright.report.report import build
from boardwright.report.text import to_text
from boardwright.rules.registry import HEADINGS, RULES, rule
from boardwright.rules.run import run
from boardwright.rules.verdict import Severity, Thing, trips
from boardwright.spec.read import read

BOARD = """
supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 10mA, 2: 9V dc centre-negative 10mA, 3: 9V dc centre-negative 99mA}}}
pedals:
  a: {kind: chorus, needs: 9V dc centre-negative 20mA, feed: s.1}
  b: {kind: chorus, needs: 9V dc centre-negative 30mA, feed: s.2}
"""
RULE = "outlet-current-overdrawn"


def checked(accept: str):
    report = boardwright.check(f"{BOARD}accept: {accept}\n")
    found = {finding.things[0].name for finding in report.findings if finding.rule == RULE}
    return report, found, {accepted.things[0].name for accepted in report.accepted}


def test_without_accept_both_are_found():
    report, found, accepted = checked("[]")
    assert found == {"s.1", "s.2"} and not accepted and not report.unused_accepts


@pytest.mark.parametrize(
    ("accept", "left", "accepted"),
    [
        (f"[{{rule: {RULE}, because: bench}}]", set(), {"s.1", "s.2"}),
        (f"[{{rule: {RULE}, for: a, because: bench}}]", {"s.2"}, {"s.1"}),
        (f"[{{rule: {RULE}, for: s.2, because: bench}}]", {"s.1"}, {"s.2"}),
        (f"[{{rule: {RULE}, for: [b, s.2], because: bench}}]", {"s.1"}, {"s.2"}),
        (f"[{{rule: {RULE}, for: [a, b], because: bench}}]", {"s.1", "s.2"}, set()),
        (f"{{rule: {RULE}, for: a, because: bench}}", {"s.2"}, {"s.1"}),
    ],
)
def test_by_rule_and_by_the_things_it_is_about(accept, left, accepted):
    report, found, silenced = checked(accept)
    assert (found, silenced) == (left, accepted)
    assert len(report.unused_accepts) == (not accepted)
    (coverage,) = [each for each in report.coverage if each.rule == RULE]
    assert (coverage.trips, coverage.accepted) == (len(left), len(accepted))


def test_the_reason_is_shown():
    report, *_ = checked(f"[{{rule: {RULE}, for: a, because: it only plays at the bench}}]")
    assert report.accepted[0].because == "it only plays at the bench"
    assert "Accepted: it only plays at the bench." in " ".join(to_text(report).split())


def test_a_missing_reason_is_said():
    assert checked(f"[{{rule: {RULE}, for: a}}]")[0].accepted[0].because == "no reason given"


def test_the_first_of_several_that_fit_is_used():
    report, *_ = checked(f"[{{rule: {RULE}, because: all}}, {{rule: {RULE}, for: a, because: one}}]")
    assert {accepted.because for accepted in report.accepted} == {"all"}
    assert [unused.why for unused in report.unused_accepts] == ["There is no such finding to accept."]


def test_an_accept_that_meets_nothing_is_said():
    report, *_ = checked("[{rule: ac-dc-mismatch, because: no ac here}]")
    (unused,) = report.unused_accepts
    assert (unused.rule, unused.at.line) == ("ac-dc-mismatch", 6)
    assert "`ac-dc-mismatch` is accepted for nothing. There is no such finding to accept." in " ".join(to_text(report).split())


def test_an_unknown_rule_is_an_error_with_a_guess():
    report, *_ = checked("[{rule: outlet-curent-overdrawn, because: typo}]")
    (problem,) = report.problems
    assert problem.kind == "name" and problem.message == f"There is no rule `outlet-curent-overdrawn`. Did you mean `{RULE}`?"


def test_an_accept_without_a_rule_is_an_error():
    report, found, _ = checked("[{because: everything is fine}]")
    assert found == {"s.1", "s.2"} and "does not say which finding is meant" in report.problems[0].message


@pytest.fixture
def throw_away(monkeypatch):
    """Registers a rule that trips on every amplifier, with a severity to choose."""

    def register(severity, name="amplifier-exists-at-all", **more):
        file = name.replace("-", "_")

        def judge(board):
            for amp in board.spec.amps:
                yield trips(severity, [Thing(amp, ("amps", amp))], f"`{amp}` is there.", "Take it away.")

        module = types.ModuleType(f"boardwright.rules.power.{file}", "An amplifier at all.\n\n" + "\n\n".join(f"## {each}\nNothing." for each in HEADINGS))
        monkeypatch.setitem(sys.modules, module.__name__, module)
        judge.__module__, judge.__name__ = module.__name__, file
        monkeypatch.setitem(RULES, name, None)
        del RULES[name]
        rule(severity, lesson="labels", **more)(judge)
        return RULES[name]

    return register


def outcome(accept=""):
    board = assemble(read(f"amps: {{combo: {{kind: valve}}}}\n{accept}"))
    done = run(board)
    return done, build(board, done)


def test_a_danger_is_never_accepted(throw_away):
    throw_away(Severity.DANGER)
    done, report = outcome("accept: [{rule: amplifier-exists-at-all, for: combo, because: I know what I do}]\n")
    assert not done.accepted and not report.accepted
    assert [finding.severity for finding in report.findings if finding.rule == "amplifier-exists-at-all"] == ["danger"]
    assert [unused.why for unused in report.unused_accepts] == ["A danger can never be accepted."]
    assert "Do not switch this on" in to_text(report)


def test_the_same_as_a_fault_is(throw_away):
    throw_away(Severity.FAULT)
    _, report = outcome("accept: [{rule: amplifier-exists-at-all, for: combo, because: I know what I do}]\n")
    assert [accepted.rule for accepted in report.accepted] == ["amplifier-exists-at-all"] and not report.unused_accepts


# --- folding ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("above", "below", "folded"),
    [
        (Severity.FAULT, Severity.RISK, True), (Severity.RISK, Severity.RISK, True), (Severity.RISK, Severity.FAULT, False),
        (Severity.FAULT, Severity.DANGER, False), (Severity.DANGER, Severity.DANGER, False), (Severity.DANGER, Severity.FAULT, True),
    ],
)  # fmt: skip
def test_a_finding_is_folded_only_under_one_that_is_no_less_severe(throw_away, above, below, folded):
    throw_away(above, "amplifier-exists-at-all")
    throw_away(below, "amplifier-is-there-too", explained_by=("amplifier-exists-at-all",))
    _, report = outcome()
    found = {finding.rule: [each.rule for each in finding.folded] for finding in report.findings}
    assert found["amplifier-exists-at-all"] == (["amplifier-is-there-too"] if folded else [])
    assert ("amplifier-is-there-too" in found) is not folded


def test_a_transformer_that_hears_another_is_told_once():
    text = """
supplies: {s: {kind: linear-laminated, at: [10, 10], size: [120, 90, 60]}}
isolators: {iso: {kind: transformer, at: [140, 10], size: [60, 60, 40]}}
audio: [guitar > iso > combo]
"""
    spec = read(text, fragment=True)
    found = run(assemble(spec), ["transformer-near-coil", "isolation-transformer-misplaced"]).findings
    about = {tuple(thing.name for thing in each.judgement.things): [rule.id for rule, _ in each.folded] for each in found}
    assert about["iso", "s"] == ["transformer-near-coil"]


def test_no_rules_explain_each_other_in_a_circle():
    def above(name, seen=()):
        assert name not in seen, f"{name} explains itself"
        for other in RULES[name].explained_by:
            above(other, (*seen, name))

    for name in RULES:
        above(name)
