"""A thing written on one line in plain words: the answer shows the reader's own line, and that line can be read."""

from __future__ import annotations

import re

import pytest

from boardwright.spec.read import read

LINES = {
    ("pedals", "tuner", "tuner, 9V 40mA"): "tuner: {kind: tuner, needs: 9V 40mA}",
    ("pedals", "tuner", "tuner 9V dc centre-negative 40mA"): "tuner: {kind: tuner, needs: 9V dc centre-negative 40mA}",
    ("pedals", "gate", "noise gate, 9V, 40mA"): "gate: {kind: noise-gate, needs: 9V 40mA}",
    ("pedals", "drive", "overdrive, 9V dc centre-negative 6mA, brick.2"): "drive: {kind: overdrive, needs: 9V dc centre-negative 6mA, feed: brick.2}",
    ("pedals", "fuzz", "fuzz, battery"): "fuzz: {kind: fuzz, feed: battery}",
    ("pedals", "echo", "delay"): "echo: {kind: delay}",
    ("supplies", "brick", "9V 1A"): "brick: {outlets: {1: 9V dc centre-negative 1A}}",
    ("supplies", "brick", "class II, 100-240V ac 50/60Hz, isolated, 9V dc centre-negative 100mA, 9V ac 1A"): (
        "brick: {class: II, input: 100-240V ac 50/60Hz, isolated: yes, outlets: {1: 9V dc centre-negative 100mA, 2: 9V ac 1A}}"
    ),
}


@pytest.mark.parametrize(("section", "name", "line"), LINES)
def test_the_reader_sees_the_own_line_as_it_should_be(section, name, line):
    [problem] = read(f"{section}:\n  {name}: {line}\n").problems
    meant = LINES[section, name, line]
    assert problem.expected.startswith(f"`{meant}`")
    mended = read(f"{section}:\n  {meant}\n")
    assert not mended.problems and name in getattr(mended, section)


def test_a_polarity_that_was_not_written_is_said_to_be_the_labels_business():
    [problem] = read("supplies:\n  brick: 9V 1A\n").problems
    assert problem.expected.endswith("with the polarity that its label gives")
    [problem] = read("supplies:\n  brick: 9V dc centre-positive 1A\n").problems
    assert "label" not in problem.expected and "centre-positive" in problem.expected


@pytest.mark.parametrize("line", ["something else", "tuner, loud", "delay, chorus", "9V 40mA 12V", "x" * 200, ", ,"])
def test_where_a_part_means_nothing_no_line_is_made_up(line):
    [problem] = read(f"pedals:\n  a: '{line}'\n").problems
    assert re.match(r"such as `\{kind: …", problem.expected)
