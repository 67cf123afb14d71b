"""What must hold for the power side of any board."""

from __future__ import annotations

import copy
import json
import os
import random
import re
import subprocess
import sys
from collections import Counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import boardwright
from board_texts import as_text, power_boards
from boardwright import limits
from boardwright.board.assemble import assemble
from boardwright.report.json import to_plain
from boardwright.rules.registry import RULES
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read
from parity import whole_boards

POWER = [name for name, rule in RULES.items() if rule.family == "power"]
quickly = settings(deadline=None, max_examples=60)


def judgements(data, rules=POWER):
    board = assemble(read(as_text(data)))
    assert not board.spec.problems
    return run(board, rules).judgements


def tripped(data, rule):
    """The first thing of every finding of one rule."""
    return {judged.things[0].name for _, judged in judgements(data, [rule]) if judged.verdict is Verdict.TRIPS}


@given(power_boards(), st.data())
@quickly
def test_more_draw_never_removes_an_overload(board, data):
    labelled = [name for name, pedal in board["pedals"].items() if "needs" in pedal]
    assume(labelled)
    thirsty, pedal = copy.deepcopy(board), data.draw(st.sampled_from(labelled))
    more = data.draw(st.integers(1, 500))
    needs = thirsty["pedals"][pedal]["needs"]
    thirsty["pedals"][pedal]["needs"] = re.sub(r"(\d+)mA", lambda found: f"{int(found[1]) + more}mA", needs)
    full = ("outlet-current-overdrawn", "outlet-headroom-thin", "start-up-surge-exceeds-outlet")
    assert tripped(board, full[0]) <= tripped(thirsty, full[0])
    assert tripped(board, "supply-total-exceeded") <= tripped(thirsty, "supply-total-exceeded")
    # a full outlet may become an overdrawn one, but not a free one; the surge of more is more
    before, after = ({name for rule in full[:2] for name in tripped(each, rule)} for each in (board, thirsty))
    assert before <= after
    assert tripped(board, full[2]) <= tripped(thirsty, full[2])


UNITS = [
    (r"\b(\d+)mA", lambda n: f"{int(n) / 1000:.3f}A"),
    (r"\b(\d+)mA", lambda n: f"{int(n)}.000 mA"),
    (r"\b(\d+) mm", lambda n: f"{int(n) / 1000:.3f} m"),
    (r"\b(\d+) mm", lambda n: f"{int(n) / 10:.1f} cm"),
    (r"\b(\d+) W", lambda n: f"{int(n) * 1000} mW"),
    (r"\b(\d\.?\d*) ohm", lambda n: f"{float(n) * 1000:.0f} mohm"),
]


@given(power_boards(), st.sampled_from(UNITS))
@quickly
def test_other_units_change_nothing_in_any_report(board, unit):
    pattern, other = unit
    text = as_text(board)
    scaled = re.sub(pattern, lambda found: other(found[1]), text)
    assert without_places(boardwright.check(text)) == without_places(boardwright.check(scaled))


def without_places(report):
    """A report without lines and columns."""

    def strip(value):
        if isinstance(value, dict):
            return {key: strip(each) for key, each in value.items() if key != "at"}
        return [strip(each) for each in value] if isinstance(value, list) else value

    return strip(to_plain(report))


@given(power_boards(), st.randoms(use_true_random=False))
@quickly
def test_no_verdict_depends_on_the_order_of_entries(board, chance):
    def shuffled(value):
        if isinstance(value, dict):
            keys = list(value)
            chance.shuffle(keys)
            return {key: shuffled(value[key]) for key in keys}
        return value

    def counted(data):
        return Counter((rule.id, judged.verdict, judged.severity) for rule, judged in judgements(data))

    assert counted(board) == counted(shuffled(board))


@given(power_boards())
@quickly
def test_every_device_and_outlet_has_a_row_of_figures(board):
    power = boardwright.check(as_text(board)).power
    assert {row.name for row in power.devices} == {*board["pedals"], *(name for name, supply in board["supplies"].items() if "needs" in supply)}
    assert {row.name for row in power.outlets} == {f"{name}.{outlet}" for name, supply in board["supplies"].items() for outlet in supply["outlets"]}
    assert {row.name for row in power.supplies} == set(board["supplies"])
    for row in power.devices:
        if row.volts is not None and row.lost_volts is not None:
            assert row.lost_volts >= -1e-9 and row.volts <= 18 * limits.NO_LOAD_FACTOR.value
        if row.volts is not None and row.amps is not None:
            assert row.watts == pytest.approx(row.volts * row.amps)


@given(power_boards())
@quickly
def test_what_flows_out_of_an_outlet_flows_into_its_devices(board):
    """Kirchhoff's current law, outlet by outlet."""
    power = boardwright.check(as_text(board)).power
    for outlet in power.outlets:
        drawn = [row.amps for row in power.devices if row.name in outlet.devices]
        if None not in drawn and all(row.volts is not None for row in power.devices if row.name in outlet.devices):
            assert outlet.amps == pytest.approx(sum(drawn), rel=1e-6, abs=1e-12)


DAMAGING = ("supply-voltage-outside-range", "ac-dc-mismatch", "plug-polarity-reversed", "positive-ground-shorts-shared-supply", "outlets-combined-without-permission")
PARTS_OF_A_LABEL = [r"\b[\d-]+V ", r"\b(dc|ac) ", r"\bcentre-\w+ ", r" \d+m?A\b"]


@given(power_boards(), st.data())
@settings(deadline=None, max_examples=120)
def test_a_value_taken_away_never_clears_a_fault_that_breaks_things(board, data):
    """Not to know is not to be safe: what tripped goes on tripping, or cannot be told any more."""
    poorer = copy.deepcopy(board)
    name = data.draw(st.sampled_from(list(poorer["pedals"])))
    pedal = poorer["pedals"][name]
    what = data.draw(st.sampled_from(["label", "part of the label", "isolated", "fuzz"]))
    if what == "label" and "needs" in pedal:
        pedal["needs"] = "unknown"
    elif what == "part of the label" and "needs" in pedal:
        pedal["needs"] = re.sub(data.draw(st.sampled_from(PARTS_OF_A_LABEL)), " ", pedal["needs"]).strip()
        assume(re.search(r"V|dc|ac|centre", pedal["needs"]))
    elif what == "isolated":
        for supply in poorer["supplies"].values():
            if supply["isolated"] == "no":
                del supply["isolated"]
    elif what == "fuzz" and pedal["kind"] == "fuzz":
        pedal.pop("ground", None)
    before, after = judgements(board, DAMAGING), judgements(poorer, DAMAGING)
    broken = {(rule.id, judged.things[0].name) for rule, judged in before if judged.verdict is Verdict.TRIPS}
    cleared = {(rule.id, judged.things[0].name) for rule, judged in after if judged.verdict is Verdict.CLEAR}
    doubted = {(rule.id, judged.things[0].name) for rule, judged in after if judged.verdict is not Verdict.CLEAR}
    assert not broken & (cleared - doubted)


@given(power_boards())
@quickly
def test_checking_twice_gives_the_same_report(board):
    text = as_text(board)
    assert to_plain(boardwright.check(text)) == to_plain(boardwright.check(text))


def test_no_report_depends_on_the_order_in_which_python_keeps_sets():
    """Two fresh processes with different hash seeds, over some whole boards and some made up."""
    texts = [text for _, text in whole_boards()][:6]
    chance = random.Random(3)
    texts += [_made_up(chance) for _ in range(20)]
    answers = {_fresh(json.dumps(texts), seed) for seed in ("1", "2")}
    assert len(answers) == 1


def _made_up(chance: random.Random) -> str:
    outlets = {str(n): f"{chance.choice(['9V', '12V', '18V'])} dc centre-negative {chance.choice([100, 500])}mA" for n in range(1, 5)}
    pedals = {
        f"p{n}": {"kind": chance.choice(["delay", "fuzz", "chorus"]), "needs": f"9V dc centre-negative {chance.randint(1, 300)}mA", "feed": f"s.{chance.randint(1, 4)}"}
        for n in range(8)
    }
    audio = [" > ".join(["guitar", *pedals, "combo"])]
    return as_text({"supplies": {"s": {"isolated": chance.choice(["yes", "no"]), "outlets": outlets}}, "pedals": pedals, "amps": {"combo": {}}, "audio": audio})


def _fresh(texts: str, seed: str) -> str:
    code = "import json, sys\nfrom boardwright.browser import answer\nprint([answer(text) for text in json.load(sys.stdin)])"
    place = os.pathsep.join(path for path in sys.path if path)
    ran = subprocess.run([sys.executable, "-c", code], input=texts, capture_output=True, text=True, env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": place}, timeout=120)
    assert not ran.returncode, ran.stderr
    return ran.stdout


def test_a_plug_that_may_be_turned_does_not_clear_the_short_that_it_would_make():
    """Found by the property above: a plug the wrong way round puts the pedal's ground on plus, which shorts a shared outlet."""
    board = {
        "supplies": {"s": {"isolated": "yes", "outlets": {"1": "9V dc centre-negative 100mA"}}},
        "pedals": {"a": {"needs": "9V dc centre-positive 1mA", "feed": "s.1"}, "b": {"needs": "9V dc centre-negative 1mA", "feed": "s.1"}},
        "amps": {"combo": {"kind": "valve"}},
        "audio": ["guitar > a > b > combo"],
    }
    assert tripped(board, "positive-ground-shorts-shared-supply") == {"a"}
    board["pedals"]["a"]["needs"] = "unknown"
    (judged,) = [judged for _, judged in judgements(board, ["positive-ground-shorts-shared-supply"])]
    assert judged.verdict is Verdict.CANNOT_TELL and judged.before_power and "Which way round is the plug of `a`?" in judged.question
