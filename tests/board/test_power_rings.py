"""Supplies that feed each other, and devices chained behind themselves: nothing hangs, and nothing is said to be right."""

from __future__ import annotations

import pytest

import boardwright


def ring(*names: str) -> str:
    lines = [
        f"  {name}: {{needs: 9V dc centre-negative 100mA, feed: {names[place - 1]}.1, isolated: yes, outlets: {{1: 9V dc centre-negative 1A}}}}"
        for place, name in enumerate(names)
    ]
    return "\n".join(["supplies:", *lines, ""])


@pytest.mark.parametrize("names", [("a",), ("a", "b"), ("b", "a"), ("a", "b", "c", "d")])
def test_every_supply_of_a_ring_is_found(names):
    report = boardwright.check(ring(*names))
    found = {finding.things[0].name for finding in report.findings if finding.rule == "device-not-fed-exactly-once"}
    assert found == set(names)


def test_what_a_ring_feeds_has_no_power_either_and_what_feeds_it_is_left_alone():
    text = ring("a", "b") + "  c: {needs: 9V dc centre-negative 100mA, feed: b.1, isolated: yes, outlets: {1: 9V dc centre-negative 1A}}\n  wall: {isolated: yes, outlets: {1: 9V ac 1A}}\n"
    found = {finding.things[0].name for finding in boardwright.check(text).findings if finding.rule == "device-not-fed-exactly-once"}
    assert found == {"a", "b", "c"}


def test_devices_chained_behind_each_other_are_asked_about():
    text = """
supplies: {s: {isolated: no, outlets: {1: 9V dc centre-negative 1A}}}
pedals:
  a: {needs: 9V dc centre-negative 10mA, feed: {from: s.1, after: b}}
  b: {needs: 9V dc centre-negative 10mA, feed: {from: s.1, after: a}}
  c: {needs: 9V dc centre-negative 10mA, feed: {from: s.1, after: c}}
  d: {needs: 9V dc centre-negative 10mA, feed: s.1}
"""
    report = boardwright.check(text)
    asked = {question.things[0].name for question in report.undecided if question.rule == "voltage-lost-before-device"}
    assert asked == {"a", "b", "c"}
    assert {row.name: row.volts is None for row in report.power.devices} == {"a": True, "b": True, "c": True, "d": False}
