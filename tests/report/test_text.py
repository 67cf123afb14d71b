"""The report in words: readable at 80 columns whatever stands in the board."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import boardwright
from board_texts import as_text, power_boards
from boardwright.report.text import CHECK_FIRST, HEADINGS, WIDTH, to_text
from boardwright.rules.verdict import Severity
from parity import pieces, report_on, whole_boards

BOARDS = [*whole_boards(), *list(pieces())[::9]]

_LONG = "a" * 60
HOSTILE = {
    "long names": f"supplies: {{{_LONG}: {{isolated: no, outlets: {{{_LONG}: 9V dc centre-negative 1mA}}}}}}\npedals: {{{'b' * 60}: {{kind: delay, needs: 9V dc centre-negative 9mA, feed: {_LONG}.{_LONG}}}}}\n",
    "a long title": f"board: {{name: {'x' * 290}}}\n",
    "a title over lines": 'board: {name: "one\\ntwo\\n\\n  three"}\n',
    "a title that drives a terminal": 'board: {name: "\\e[2J\\e[31mred\\a\\b\\x9b"}\n',
    "a title that turns the text round": 'board: {name: "\\u202eabc\\u2066 x"}\n',
    "a title of letters that combine": 'board: {name: "' + "e\u0301" * 100 + '"}\n',
    "markup": 'board: {name: "<b>bold</b> & [link](x) `code`"}\npedals: {a: {kind: fuzz, needs: 9V dc centre-negative 1mA, feed: x.1}}\n',
    "many devices": "supplies: {s: {isolated: no, outlets: {1: 9V dc centre-negative 1mA}}}\npedals:\n"
    + "".join(f"  device_{n}: {{kind: delay, needs: 9V dc centre-negative 1mA, feed: s.1}}\n" for n in range(60)),
    "a wide script": "pedals: {遅延器の名前: {kind: delay, needs: 9V dc centre-negative 5mA, feed: 電源.1}}\n",
    "a mistake as long as a page": f"pedals: {{a: {{kind: {'z' * 290}, {'k' * 400}: 1}}}}\n",
}


def columns(line: str) -> int:
    """How many columns a terminal needs, wide characters counted once: they are the reader's own."""
    return sum(not unicodedata.combining(character) for character in line)


def assert_readable(text: str) -> None:
    report = to_text(report_on(text))
    assert report.endswith("\n") and not report.endswith("\n\n")
    for line in report[:-1].split("\n"):
        assert columns(line) <= WIDTH, line
        assert line == line.rstrip(), repr(line)
        assert all(unicodedata.category(character) not in ("Cc", "Cs") for character in line), repr(line)
        assert not set(line) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"), repr(line)


@pytest.mark.parametrize("text", [*(text for _, text in BOARDS), *HOSTILE.values()], ids=[*(name for name, _ in BOARDS), *HOSTILE])
def test_every_report_fits(text):
    assert_readable(text)


@given(power_boards())
@settings(deadline=None, max_examples=30)
def test_so_does_the_report_on_any_board(board):
    assert_readable(as_text(board))


@given(st.text(max_size=120))
@settings(deadline=None, max_examples=60)
def test_and_any_title(name):
    assert_readable(as_text({"board": {"name": name}}))


def test_what_is_found_stands_in_the_order_of_how_bad_it_is():
    order = [HEADINGS[Severity.DANGER], CHECK_FIRST, HEADINGS[Severity.FAULT], HEADINGS[Severity.RISK], HEADINGS[Severity.ADVICE], "What was looked at"]
    most = 0
    for _, board in whole_boards():
        lines = to_text(report_on(board)).split("\n")
        places = [lines.index(heading) for heading in order if heading in lines]
        assert places == sorted(places)
        most = max(most, len(places))
    assert most >= 4


def test_every_finding_is_in_the_text_with_its_line_its_remedy_and_its_lesson():
    for _, board in whole_boards():
        report = report_on(board)
        words = " ".join(to_text(report).split())
        for finding in report.findings:
            assert f"line {finding.at.line}: {finding.sentence[:30]}" in words
            assert f"Mend: {finding.remedy[:30]}" in words and f"[{finding.rule}] {finding.lesson}" in words
        for question in [*report.check_first, *report.undecided]:
            assert question.question[:30] in words
        assert report.headline[1:40] in words


def test_the_coverage_table_names_every_rule():
    report = boardwright.check("board: {name: Empty}\n")
    text = " ".join(to_text(report).split())
    assert all(each.rule in text for each in report.coverage)
    assert "safe" not in text.split()


def test_a_question_that_several_rules_ask_is_asked_once():
    report = boardwright.check(
        "amps: {combo: {kind: valve, class: I, earth_bond: hard}}\npedals: {a: {kind: delay}}\n"
        "computers: {laptop: {kind: laptop, power: charger, class: I}}\naudio: [guitar > a > combo]\n"
        "usb: [{from: laptop, to: a}]\npromises: [{always: one-earth}]\n"
    )
    asked = [question.question for question in report.undecided if "laptop > a" in question.question]
    assert asked == ["Is the lead laptop > a plugged in during a show, or for service only? Write `when`."]
    [question] = [question for question in report.undecided if "laptop > a" in question.question]
    assert question.severity == "fault", "it counts as much as the worst that hangs on it"


def test_a_label_that_cannot_be_read_is_said_once_and_not_asked_about_again():
    board = (
        "supplies:\n  brick: {isolated: yes, class: II, input: 100-240V ac, outlets: {1: 9V dc 100mA, 2: 9V dc centre-negative 300mA}}\n"
        "pedals:\n  a: {kind: overdrive, bypass: buffered, needs: 9V dc centre-negative 5mA, feed: brick.1}\n"
        "  b: {kind: delay, bypass: buffered, needs: 9, feed: brick.2}\n  c: {kind: chorus, bypass: buffered, needs: 9V dc 20mA, feed: brick.2}\n"
        "audio: [guitar > a > b > c]\n"
    )
    report = boardwright.check(board)
    asked = [question for question in report.undecided if question.rule in {"supply-voltage-outside-range", "plug-polarity-reversed", "ac-dc-mismatch"}]
    assert len(report.problems) == 2
    assert [question.things[0].name for question in asked] == ["c"], "what can be read and does not say is still asked about"
    assert not [question for question in report.undecided if question.things[0].name in ("a", "b", "brick.1") and "volts" in question.question]
    covered = {each.rule: each.cannot_tell for each in report.coverage}
    assert covered["plug-polarity-reversed"] > 1, "and the table still counts what was not decided"
