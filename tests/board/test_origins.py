"""What follows from several values is as good as the weakest of them."""

from __future__ import annotations

import pytest

import boardwright
from boardwright import limits

HALF_MEASURED = """
supplies: {{s: {{isolated: no, outlets: {{1: 9V dc centre-negative 100mA}}}}}}
pedals:
  a: {{kind: chorus, needs: 9V dc centre-negative 42mA{a}, feed: s.1}}
  b: {{kind: chorus, needs: 9V dc centre-negative 43mA{b}, feed: s.1}}
"""


@pytest.mark.parametrize(
    ("a", "b", "tight"), [(" measured", " measured", False), (" measured", "", True), ("", " measured", True), ("", "", True), (" measured", " assumed", True)]
)
def test_only_where_every_draw_is_measured_an_outlet_may_be_fuller(a, b, tight):
    """85 % lies between the share that labels allow and the share that measurements do."""
    assert limits.OUTLET_HEADROOM.value < 0.85 < limits.OUTLET_HEADROOM_MEASURED.value
    found = {finding.rule for finding in boardwright.check(HALF_MEASURED.format(a=a, b=b)).findings}
    assert ("outlet-headroom-thin" in found) is tight


CHAIN = """
supplies: {{s: {{isolated: no, {source}outlets: {{1: 9V dc centre-negative 500mA}}}}}}
pedals:
  a: {{kind: chorus, needs: 9V dc centre-negative 100mA measured, feed: {{from: s.1{first}}}}}
  b: {{kind: chorus, needs: 9V dc centre-negative 100mA{draw}, feed: {{from: s.1, after: a, lead: {{length: 1 m, gauge: 24 AWG}}}}}}
"""
SAID = {"source": "source: 0.3 ohm, ", "first": ", lead: {length: 1 m, gauge: 24 AWG}", "draw": " measured"}


@pytest.mark.parametrize(
    ("left_out", "origin"),
    [((), "stated"), (("source",), "assumed"), (("first",), "assumed"), (("draw",), "stated"), (("source", "draw"), "assumed")],
)
def test_what_arrives_is_known_as_well_as_everything_on_its_way(left_out, origin):
    text = CHAIN.format(**{key: "" if key in left_out else said for key, said in SAID.items()})
    rows = {row.name: row.origin for row in boardwright.check(text).power.devices}
    assert rows["b"] == origin


def test_a_draw_that_nobody_knows_makes_all_that_follows_unknown():
    text = CHAIN.format(**SAID).replace("100mA measured, feed: {from: s.1, after", "feed: {from: s.1, after").replace("needs: 9V dc centre-negative feed", "needs: 9V dc centre-negative, feed")
    rows = {row.name: row for row in boardwright.check(text).power.devices}
    assert rows["b"].origin == "unknown" and rows["b"].amps is None
