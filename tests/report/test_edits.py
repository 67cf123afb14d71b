"""Offered edits: whoever applies one gets a text that can be read, without what was to be mended, and with nothing worse."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

import boardwright
from board_texts import as_text, power_boards
from parity import boards, whole_boards

GRAVE = ("danger", "fault")


def applied(text, edit):
    """``text`` with all changes of an edit, which count in lines and columns of the text as it was."""
    lines = text.replace("\r\n", "\n").split("\n")
    places = []
    for change in edit.edits:
        assert change.at.line == change.at.end_line
        places.append((change.at.line - 1, change.at.column - 1, change.at.end_column - 1, change.text))
    assert places == sorted(places)
    for line, start, end, said in reversed(places):
        lines[line] = lines[line][:start] + said + lines[line][end:]
    return "\n".join(lines)


def grave(report):
    return Counter((finding.rule, finding.severity) for finding in report.findings if finding.severity in GRAVE)


def told_already(report):
    """What is grave, and what another finding explains: mending that one leaves it to be told by itself."""
    return grave(report) + Counter((folded.rule, severity) for finding in report.findings for folded in finding.folded for severity in GRAVE)


def assert_mends(text, report, said, edit):
    after = boardwright.check(applied(text, edit))
    if hasattr(said, "rule"):
        assert (said.rule, said.things[0].name, said.sentence) not in {(one.rule, one.things[0].name, one.sentence) for one in after.findings}
        assert len(after.problems) <= len(report.problems)
        # a name that is spelt right again may bring to light what the slip had hidden; a plan that is changed may not
        worse = grave(after) - told_already(report)
        assert edit.title.startswith("Write") or not worse, (edit, worse)
    else:
        assert (said.where, said.message) not in {(one.where, one.message) for one in after.problems}
        assert not [one for one in after.problems if one.kind == "syntax"] or [one for one in report.problems if one.kind == "syntax"]


def offers(text):
    report = boardwright.check(text)
    return [(report, said, edit) for said in (*report.problems, *report.findings) for edit in said.edits]


def test_every_edit_mends_what_it_is_offered_for_and_breaks_nothing():
    kinds = Counter()
    for _, text in boards():
        for report, said, edit in offers(text):
            assert_mends(text, report, said, edit)
            kinds[getattr(said, "rule", None) or said.kind] += 1
    assert {"outlet-current-overdrawn", "ac-dc-mismatch", "supply-voltage-outside-range"} <= kinds.keys(), kinds


SHORT_BEHIND_A_TURNED_PLUG = {
    "supplies": {
        "brick": {"isolated": "yes", "outlets": {"1": "9V dc centre-negative 100mA", "2": "9V dc centre-positive 100mA"}},
        "step_up": {"needs": "9V dc centre-negative 1A", "feed": "brick.1", "isolated": "yes", "outlets": {"1": "18V dc centre-negative 200mA"}},
    },
    "pedals": {
        "soft": {"kind": "overdrive", "feed": "step_up.1"},
        "turned": {"kind": "overdrive", "needs": "9V dc centre-positive 1mA", "feed": "step_up.1"},
        "old": {"kind": "fuzz", "feed": "step_up.1", "ground": "positive"},
    },
    "amps": {"combo": {"kind": "valve", "class": "I"}},
    "audio": ["guitar > soft > turned > old > combo"],
}
"""The short is there before the turned pedal moves to another outlet, and after it; before, the turned plug explains it."""

SHORT_ONCE_THE_PLUG_IS_RIGHT = {
    "supplies": {"brick": {"isolated": "no", "outlets": {"1": "9V dc centre-negative 100mA", "2": "9V dc centre-positive 100mA", "3": "9V dc centre-negative 100mA"}}},
    "pedals": {
        "old": {"kind": "fuzz", "needs": "9V dc centre-negative 1mA", "feed": "brick.2", "ground": "positive"},
        "soft": {"kind": "overdrive", "feed": "brick.1"},
    },
    "amps": {"combo": {"kind": "valve", "class": "I"}},
    "audio": ["guitar > old > soft > combo"],
}
"""Turned, the pedal that has its ground on plus does no harm to the other one; on the free outlet that turns it right, it would."""


@given(power_boards(most=9))
@example(SHORT_BEHIND_A_TURNED_PLUG)
@example(SHORT_ONCE_THE_PLUG_IS_RIGHT)
@settings(deadline=None, max_examples=80)
def test_so_does_every_edit_on_any_board(board):
    text = as_text(board)
    for report, said, edit in offers(text):
        assert_mends(text, report, said, edit)


WORDS = re.compile(r"[A-Za-z]{4,}|\d+(?=mA)|(?<=\d)(?:mA|V|m)\b")


@given(st.data())
@settings(deadline=None, max_examples=60)
def test_so_does_every_edit_for_a_slip_of_the_pen(data):
    """Anywhere in a board: a letter lost, doubled or changed, a unit left out."""
    text = data.draw(st.sampled_from([text for name, text in whole_boards() if len(text) < 4000]))
    code = [found for found in WORDS.finditer(text) if "#" not in text[text.rfind("\n", 0, found.start()) + 1 : found.start()]]
    found = data.draw(st.sampled_from(code))
    place = data.draw(st.integers(0, len(found[0]) - 1))
    slip = data.draw(st.sampled_from(["", found[0][place] * 2, "x"]))
    broken = text[: found.start() + place] + slip + text[found.start() + place + 1 :]
    for report, said, edit in offers(broken):
        assert_mends(broken, report, said, edit)


BRICK = "supplies: {brick: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA, 2: 9V dc centre-negative 500mA, 3: 18V dc centre-negative 100mA}}}\n"


@pytest.mark.parametrize(
    ("text", "title", "after"),
    [
        ("pedals: {a: {knid: fuzz}}\n", "Write `kind` instead of `knid`", "pedals: {a: {kind: fuzz}}\n"),
        ("pedlas: {a: {kind: fuzz}}\n", "Write `pedals` instead of `pedlas`", "pedals: {a: {kind: fuzz}}\n"),
        ("devices: {a: {kind: 'fuz'}}\n", "Write `fuzz` instead of `fuz`", "devices: {a: {kind: 'fuzz'}}\n"),
        ("pedals: {a: {start: 45}}\n", "Write `45 mA` instead of `45`", "pedals: {a: {start: 45 mA}}\n"),
        ('pedals: {a: {needs: "9,5V"}}\n', None, None),
        ("pedals: {a: {start: '0,5 A'}}\n", "Write `0.5 A` instead of `0,5 A`", "pedals: {a: {start: '0.5 A'}}\n"),
        ("pedals: {a: {needs: 9V dc centre-negative 45}}\n", "Write `9V dc centre-negative 45mA` instead of `9V dc centre-negative 45`", "pedals: {a: {needs: 9V dc centre-negative 45mA}}\n"),
        ("place: {ambient: 95 °F}\n", "Write `35 °C` instead of `95 °F`", "place: {ambient: 35 °C}\n"),
        ("audio: [guitar > echo L > combo]\n", "Write `guitar > echo.L > combo` instead of `guitar > echo L > combo`", "audio: [guitar > echo.L > combo]\n"),
        ("pedals: {tape echo: {kind: delay, needs: none}}\n", "Write `tape_echo` instead of `tape echo`", "pedals: {tape_echo: {kind: delay, needs: none}}\n"),
        (
            "supplies: {s: {outlets: {1: 9V dc centre-negative 45}}}\n",
            "Write `9V dc centre-negative 45mA` instead of `9V dc centre-negative 45`",
            "supplies: {s: {outlets: {1: 9V dc centre-negative 45mA}}}\n",
        ),
        ("guitar: {volume_pot: 470}\n", None, None),  # ohms or kilohms: nobody but the writer knows
        ("pedals: {a: {kind: fuzz, kinds: wah}}\n", None, None),  # `kind` is there already
        (
            "pedals:\n  echo: {kind: delay, needs: none}\namps: {combo: {kind: valve}}\naudio: [guitar > ecko, ecko > combo]\n",
            "Write `echo` instead of `ecko`",
            None,
        ),
        (
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 300mA, feed: brick.1}}\n",
            "Feed `a` from `brick.2`, which is free",
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 300mA, feed: brick.2}}\n",
        ),
        (
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 30mA, feed: {from: brick.3, lead: 300 mm}}}\n",
            "Feed `a` from `brick.1`, which is free",
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 30mA, feed: {from: brick.1, lead: 300 mm}}}\n",
        ),
        (
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 30mA, feed: brik.1}}\n",
            "Write `brick.1` instead of `brik.1`",
            BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-negative 30mA, feed: brick.1}}\n",
        ),
        # turned round, no outlet of this supply helps, and a lead that turns it is a thing to build, not to write
        (BRICK + "pedals: {a: {kind: delay, needs: 9V dc centre-positive 30mA, feed: brick.1}}\n", None, None),
    ],
)
def test_what_is_offered(text, title, after):
    found = offers(text)
    if title is None:
        assert found == []
    else:
        assert title in {edit.title for _, _, edit in found}
        edit = next(edit for _, _, edit in found if edit.title == title)
        if after:
            assert applied(text, edit) == after


def test_a_danger_is_never_mended_by_a_click():
    for _, text in whole_boards():
        assert all(finding.severity != "danger" for _, finding, _ in offers(text) if hasattr(finding, "rule"))
