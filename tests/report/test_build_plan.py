"""The plan as text, as data and as a sheet says the same as the board's own plan."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from boardwright import judge
from boardwright.report.build_plan import NOTHING, build_plan, to_sheet, to_text

FOLDER = Path(__file__).parents[2] / "demo_boards"
NAMES = sorted(file.stem for file in FOLDER.glob("*.yaml"))


def board(name: str):
    return judge((FOLDER / f"{name}.yaml").read_text("utf-8"))[0]


@pytest.mark.parametrize("name", NAMES)
def test_the_text_holds_every_step_and_reading_in_80_columns(name):
    found = board(name)
    text = to_text(found)
    assert all(len(line) <= 80 for line in text.splitlines())
    flat = re.sub(r"\s+", " ", text)
    for step in build_plan(found):
        assert f"{step.number}. {step.title}" in flat
        for row in step.readings:
            assert re.sub(r"\s+", " ", f"{row.what}: {row.due}") in flat


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_has_a_place_to_write_for_each_reading(name):
    found = board(name)
    sheet = to_sheet(found)
    rows = [row for step in build_plan(found) for row in step.readings]
    assert sheet.count("<td class='read'>") == len(rows) and rows
    assert unescape(sheet).count("☐") + sheet.count("☒") == len(found.plan)
    assert "qualified person" in sheet and "http" not in sheet


def test_what_was_read_stands_in_the_sheet():
    found = board("builders-bench-before")
    rows = {(row.where, row.what): row for step in build_plan(found) for row in step.readings}
    wrong = rows["p12", "volts, nothing connected"]
    assert wrong.got == "9 V" and wrong.agrees is False
    right = rows["p11", "volts, nothing connected"]
    assert right.got == "−9 V" and right.agrees is True
    assert rows["p11", "volts, everything on"].got is None
    assert all(step.done for step in build_plan(board("builders-bench")))


def test_a_boards_own_words_are_no_markup():
    text = "board: {name: '<script>alert(1)</script>'}\npedals: {a: {kind: chorus}}\naudio: [guitar > a > combo]\namps: {combo: {}}\n"
    sheet = to_sheet(judge(text)[0])
    assert "<script" not in sheet and "&lt;script&gt;" in sheet


def test_nothing_to_build_is_said():
    found = judge("board: {for: home}")[0]
    assert to_text(found) == NOTHING + "\n" and NOTHING in to_sheet(found)
