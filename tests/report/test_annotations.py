"""Annotations: what a code host reads back is what the report says. The form is common practice; it has no standard."""

from __future__ import annotations

import re

import boardwright
from boardwright.report.annotations import annotations
from parity import boards, report_on

_COMMAND = re.compile(r"::(?P<command>error|warning|notice) (?P<properties>[^:]*)::(?P<message>.*)")


def understood(line):
    """A line as a host takes it apart."""
    found = _COMMAND.fullmatch(line)
    assert found, line
    plain = {"%25": "%", "%0D": "\r", "%0A": "\n", "%3A": ":", "%2C": ","}
    def read(text):
        return re.sub("%25|%0D|%0A|%3A|%2C", lambda mark: plain[mark[0]], text)
    properties = dict(each.split("=", 1) for each in found["properties"].split(","))
    return found["command"], {name: read(value) for name, value in properties.items()}, read(found["message"])


def test_every_finding_and_question_of_every_board_has_its_line():
    for _, text in boards():
        report = report_on(text)
        lines = [understood(line) for line in annotations("my boards, 1:2.yaml", report)]
        said = [*report.problems, *report.findings, *report.check_first, *report.undecided]
        assert len(lines) == len(said)
        for (command, properties, message), each in zip(lines, said, strict=True):
            assert properties["file"] == "my boards, 1:2.yaml"
            assert ("line" in properties) == (each.at is not None)
            if each.at:
                assert properties["line"] == str(each.at.line)
            severity = "fault" if each in report.problems else each.severity
            if each in report.findings:
                assert command == {"danger": "error", "fault": "error", "risk": "warning", "advice": "notice"}[severity]
                assert message == f"{each.sentence} Mend: {each.remedy}"


def test_a_name_cannot_begin_a_line_of_its_own():
    report = boardwright.check('pedals: {"a\\n::error file=x::%0A,\\r": {kindd: fuzz}}\n')
    lines = list(annotations("a.yaml", report))
    assert lines and all("\n" not in line and "\r" not in line for line in lines)
    assert all(understood(line)[1]["file"] == "a.yaml" for line in lines)
