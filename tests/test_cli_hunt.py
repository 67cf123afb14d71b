"""Hunting at the command line: scripted, by hand, and as a printed plan."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from boardwright import check, cli
from boardwright.board.assemble import assemble
from boardwright.report.hunt import STOP, begin, hunt_state, plan_in_words
from boardwright.rules.run import run
from boardwright.spec.read import read
from boardwright.spec.sections.symptom import HEARD, Symptom

QUIET = """
pedals: {tuner: {kind: tuner, needs: none}, softdrive: {kind: overdrive, needs: none}}
amps: {combo: {kind: valve}}
audio: [guitar > tuner > softdrive > combo]
"""
ROOT = Path(__file__).parents[1]


@pytest.fixture
def hunted(tmp_path):
    def call(*arguments, text=QUIET, given=None):
        path = tmp_path / "board.yaml"
        path.write_text(text)
        done = CliRunner().invoke(cli.main, ["hunt", str(path), *arguments], input=given)
        return done.exit_code, done.output

    return call


def outcome(text):
    board = assemble(read(text))
    return board, run(board)


def test_the_plan_is_printed_whole(hunted):
    code, said = hunted("--heard", "silent", "--plan")
    assert code == 0
    assert said == "\n".join(plan_in_words(begin(*outcome(QUIET), Symptom(kind="silent")))) + "\n"
    assert "1. Look at" in said and "On average" in said and "judgement, with no published source" in said


def test_answers_in_advance_lead_to_what_is_to_blame(hunted):
    code, said = hunted("--heard", "silent", "--answers", "ggggggg")
    assert code == 0 and said.rstrip().splitlines()[-1].startswith("It ")


def test_of_several_that_are_left_none_is_said_to_be_it(hunted):
    fed = QUIET.replace("softdrive: {kind: overdrive, needs: none}", "softdrive: {kind: overdrive, bypass: buffered, needs: 9V dc centre-negative 5mA, feed: s.1}")
    said = hunted("--heard", "silent", "--answers", "c" * 60, text=fed + "supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA}}}\n")[1]
    assert "It may be `s` altogether" in said and "It may be `softdrive`" in said and "It is " not in said
    assert said.rstrip().endswith(STOP)


def test_by_hand_with_undo_and_quit(hunted):
    code, said = hunted("--heard", "silent", given="good\nbad\nu\nnonsense\nc\nq\n")
    assert code == 0
    record = said.split("Heard:")[1]
    assert "good" in record and "cannot" in record and " bad\n" not in record


def test_the_symptom_may_stand_in_the_board(hunted):
    said = hunted("--plan", text="symptom: {kind: hum}\n" + QUIET)[1]
    assert said.startswith("Heard: hum")
    assert hunted("--plan", "--heard", "buzz", text="symptom: {kind: hum}\n" + QUIET)[1].startswith("Heard: buzz")


@pytest.mark.parametrize(
    ("arguments", "text", "said"),
    [
        ((), QUIET, "Say what is heard"),
        (("--heard", "silent", "--when", "chorus"), QUIET, "no preset, loop, pedal or amplifier"),
        (("--heard", "silent"), "place: {country: IE}\n", "no way of the sound"),
        (("--heard", "silent", "--answers", "x"), QUIET, "is no answer"),
        (("--heard", "loud"), QUIET, "Invalid value"),
    ],
)
def test_a_wrong_call_is_said_in_plain_words(hunted, arguments, text, said):
    code, out = hunted(*arguments, text=text)
    assert code == 2 and said in out and "Traceback" not in out


def test_a_danger_stops_before_any_test(hunted):
    lifted = (ROOT / "docs/lessons/boards/earth-exercise.yaml").read_text()
    dangers = [each for each in outcome(lifted)[1].findings if each.judgement.severity == "danger"]
    assert dangers, "this board was made to hold one"
    said = hunted("--heard", "hum", "--plan", text=lifted)[1]
    assert "ask a qualified person" in said and "1. " not in said


def test_report_text_and_plan_say_the_same_tests():
    report = check("symptom: {kind: silent}\n" + QUIET)
    hunt = begin(*outcome("symptom: {kind: silent}\n" + QUIET), Symptom(kind="silent"))
    assert report.hunt.tests[0].do == hunt.next_test.do
    assert report.hunt.tests_expected == hunt.expected()[0]
    assert sum(each.share for each in report.hunt.suspects) == pytest.approx(1)


def test_the_page_gets_the_same_state_however_often_it_asks():
    asked = {"heard": "silent", "answers": ["good", "bad"]}
    board, found = outcome(QUIET)
    first = hunt_state(board, found, asked)
    assert json.loads(json.dumps(first)) == hunt_state(board, found, asked)
    assert [each["answer"] for each in first["record"]] == ["good", "bad"]
    assert hunt_state(board, found, {})["choices"]["boxes"] == ["softdrive"]


@pytest.mark.parametrize("heard", HEARD)
def test_what_the_check_found_reads_on_in_a_sentence(heard):
    board, found = outcome((ROOT / "demo_boards/function-twelve-before.yaml").read_text("utf-8"))
    for answers in (["bad"], ["good", "bad", "bad", "bad", "bad"]):
        state = hunt_state(board, found, {"heard": heard, "answers": answers})
        said = [*state.get("said", ()), *(each["name"] for each in state.get("suspects", ()))]
        assert said and not [words for words in said if ".." in words or re.match("It (is|may be) [A-Z]", words)]
