"""A small fixed part of the gauntlet, and that the gauntlet itself can fail. `make gauntlet` goes through the whole of it."""

import ast
import datetime
import runpy
import shutil
from pathlib import Path
from random import Random

import pytest

import gauntlet
from boardwright import check
from boardwright.rules.registry import RULES
from gauntlet.faults import FAULTS, NOT_INJECTED
from gauntlet.good_boards import SHAPES, good_board
from gauntlet.judges import JUDGES, circuits, earths, fields, plane, states
from gauntlet.result import summary, without_fault
from gauntlet.run import Answer, Tally, carry_out
from gauntlet.trial import alarms, is_found, misses, put_in

HERE = Path(gauntlet.__file__).parent
BOARDS = [*range(6), 19, 31]


@pytest.mark.parametrize("path", [HERE / "rig.py", HERE / "good_boards.py", *sorted((HERE / "faults").glob("*.py"))], ids=lambda path: path.stem)
def test_what_builds_and_breaks_boards_knows_nothing_of_the_checker(path):
    imported = [name for node in ast.walk(ast.parse(path.read_text("utf-8"))) for name in _imported(node)]
    assert imported and not [name for name in imported if name.split(".")[0] not in {"__future__", "collections", "dataclasses", "gauntlet", "itertools", "json", "math", "random", "re", "typing"}]


def _imported(node):
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    return [node.module] if isinstance(node, ast.ImportFrom) else []


def test_a_seed_is_one_board():
    assert good_board(3).text() == good_board(3).text() != good_board(4).text()


def test_one_board_can_be_printed_again(capsys, monkeypatch):
    monkeypatch.setattr("sys.argv", ["board_of_chance", "5"])
    runpy.run_module("gauntlet.board_of_chance", run_name="__main__")
    assert capsys.readouterr().out == good_board(5).text()


def test_boards_are_of_every_shape_and_size():
    rigs = [good_board(seed) for seed in range(300)]
    assert {rig.shape for rig in rigs} == set(SHAPES)
    assert {len(rig.amps) for rig in rigs} == {1, 2, 3, 4}
    sizes = [len(rig.pedals) + len(rig.section("switchers")) for rig in rigs]
    assert min(sizes) <= 4 and max(sizes) >= 55
    assert {"case" in rig.sections["board"] for rig in rigs} == {bool(rig.rows) for rig in rigs} == {bool(rig.hub) for rig in rigs} == {True, False}


@pytest.mark.parametrize("seed", BOARDS)
def test_a_good_board_draws_no_alarm(seed):
    assert alarms(seed) == []


@pytest.fixture(scope="module")
def smallest_first():
    """Seeds of boards, so that the tests take little time."""
    return sorted(range(1000, 1400), key=lambda seed: len(good_board(seed).boxes()))


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_each_fault_is_found(fault, smallest_first):
    said = next(said for seed in smallest_first if (said := misses((fault,), seed)) is not None)
    assert said == []


def test_every_rule_has_a_fault_or_a_reason():
    assert set(without_fault()) <= set(NOT_INJECTED)
    assert {fault.rule for fault in FAULTS} <= set(RULES) and set(NOT_INJECTED) <= set(RULES)
    assert all(fault.severity in {severity.value for severity in RULES[fault.rule].severities} for fault in FAULTS)


@pytest.mark.parametrize("number", range(4))
def test_two_faults_of_different_families_are_both_found(number):
    answer = carry_out(("pair", 0, number))
    assert len(answer.faults) == 2 and answer.said == []


# --- it can fail ------------------------------------------------------------------------------------------------------


def test_a_fault_that_is_not_there_is_not_found():
    """The finding must sit on the thing, be of that rule, and be no milder."""
    fault = next(fault for fault in FAULTS if fault.rule == "outlet-current-overdrawn")
    rig, (things,) = next(put for seed in range(50) if (put := put_in((fault,), seed)))
    report = check(rig.text())
    assert is_found(report, fault, things)
    assert not is_found(report, fault, frozenset({"another"}))
    assert not is_found(check(good_board(rig.seed).text()), fault, things)
    harder = type(fault)(fault.rule, "danger", fault.what, fault.breaks)
    assert not is_found(report, harder, things)


def test_a_board_that_cannot_be_read_is_no_success():
    def scribble(rig, random):
        rig.pedals["x"] = {"kind": "no-such-kind"}
        return ["x"]

    fault = type(FAULTS[0])(FAULTS[0].rule, "risk", "scribble", scribble)
    assert "not readable" in misses((fault,), 1)[0]


def test_what_falls_short_is_told_with_its_board():
    tally = Tally()
    tally.add(Answer(("clean", 0, 7), 7, ["plug-has-no-room (fault): no room"]))
    tally.add(Answer(("fault", 0, 0), 123, [FAULTS[0].name]))
    told = summary(tally, "make gauntlet COUNT=1", datetime.date(2030, 1, 1))
    assert any("board 7" in said for said in told["falls_short"]) and any("123" in said for said in told["falls_short"])
    assert [row[3] for row in told["tables"][0]["rows"]].count("missed") >= 2


# --- second opinions --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40, 43))
@pytest.mark.parametrize("judge", JUDGES, ids=lambda judge: judge.name)
def test_second_opinions_agree(judge, seed):
    if judge.name == "ngspice":
        assert shutil.which("ngspice"), "ngspice is not installed, and this test compares with it (Debian: apt-get install ngspice)"
    looked_at, differs = judge.judge(seed)
    assert looked_at and differs == []


def test_second_opinions_can_differ(monkeypatch):
    """Each judge notices when its own view is bent."""
    monkeypatch.setattr(circuits, "_WIRE", 2 * circuits._WIRE)
    monkeypatch.setattr(fields, "mu_0", 1.001 * fields.mu_0)
    monkeypatch.setattr(earths, "_earths", lambda rig, amps: 2)
    monkeypatch.setattr(states, "_reach", lambda live, start, end: False)
    monkeypatch.setattr(plane, "_SLACK", -20.0)
    for name, judge in (("circuits", circuits), ("fields", fields), ("earths", earths), ("states", states), ("plane", plane)):
        assert any(judge.judge(seed)[1] for seed in range(12)), name


def test_an_earth_too_many_is_counted():
    from gauntlet.faults import earth

    rig = next(rig for seed in range(50) if (rig := good_board(seed)).section("isolators"))
    assert all(earths._earths(rig, amps) == 1 for amps in earths._sets(rig))
    earth.loop(rig, Random(1))
    assert max(earths._earths(rig, amps) for amps in earths._sets(rig)) == 2
