"""Whole boards, from text to volts at every device, against ngspice.

Each board stands beside a netlist that was written by hand from the same description. Leads are 0.5 mm² flexible wire, at most
39.0 ohm per km at 20 °C (IEC 60228, class 5, plain copper), two conductors, and two contacts in each.
"""

from __future__ import annotations

import pytest

import boardwright
import spice
from boardwright import limits


def lead(name: str, a: str, b: str, metres: float) -> str:
    return f"R{name} {a} {b} {2 * (metres * 0.0390 + 2 * limits.CONTACT.value)!r}"


def amps(name: str, node: str, current: float) -> str:
    return f"I{name} {node} 0 {current!r}"


DAISY_CHAIN = (
    """
supplies: {s: {isolated: no, source: 0.3 ohm, outlets: {1: 9V dc centre-negative 500mA}}}
pedals:
  a: {kind: overdrive, needs: 9V dc centre-negative 20mA, feed: {from: s.1, lead: {length: 600 mm, gauge: 0.5 mm²}}}
  b: {kind: chorus, needs: 9V dc centre-negative 35mA, feed: {from: s.1, after: a, lead: {length: 150 mm, gauge: 0.5 mm²}}}
  c: {kind: fuzz, needs: 9V dc centre-negative 5mA, feed: {from: s.1, after: b, lead: {length: 150 mm, gauge: 0.5 mm²}}}
  d: {kind: flanger, needs: 9V dc centre-negative 90mA, feed: {from: s.1, after: b, lead: {length: 300 mm, gauge: 0.5 mm²}}}
""",
    ["V1 v 0 9", "Rs v o 0.3", lead("a", "o", "a", 0.6), lead("b", "a", "b", 0.15), lead("c", "b", "c", 0.15), lead("d", "b", "d", 0.3), amps("a", "a", 0.02), amps("b", "b", 0.035), amps("c", "c", 0.005), amps("d", "d", 0.09)],
    {"a": "a", "b": "b", "c": "c", "d": "d"},
)

SERIES_OUTLETS = (
    """
supplies:
  s: {isolated: yes, may_series: [[1, 2]], outlets: {1: {gives: 9V dc centre-negative 400mA, source: 0.4 ohm}, 2: {gives: 9V dc centre-negative 400mA, source: 0.7 ohm}}}
pedals:
  wide: {kind: reverb, digital: yes, needs: 18V dc centre-negative 300mA, feed: {from: [s.1, s.2], mode: series, lead: {length: 900 mm, gauge: 0.5 mm²}}}
""",
    ["V1 v1 0 9", "R1 v1 m 0.4", "V2 v2 m 9", "R2 v2 o 0.7", lead("w", "o", "w", 0.9), *spice.constant_power("w", "w", 18 * 0.3, 18)],
    {"wide": "w"},
)

PARALLEL_OUTLETS = (
    """
supplies:
  s: {isolated: yes, may_parallel: [[1, 2]], outlets: {1: {gives: 9V dc centre-negative 500mA, source: 0.2 ohm}, 2: {gives: 9V dc centre-negative 500mA, source: 0.6 ohm}}}
pedals:
  big: {kind: looper, load: power, needs: 9V dc centre-negative 800mA, feed: {from: [s.1, s.2], mode: parallel, lead: {length: 1.2 m, gauge: 0.5 mm²}}}
""",
    ["V1 v1 0 9", "R1 v1 o 0.2", "V2 v2 0 9", "R2 v2 o 0.6", lead("b", "o", "b", 1.2), *spice.constant_power("b", "b", 9 * 0.8, 9)],
    {"big": "b"},
)

CONVERTER = (
    """
supplies:
  s: {isolated: yes, source: 0.3 ohm, outlets: {1: 12V dc centre-negative 1A}}
  up: {needs: 12V dc centre-negative 1A, feed: {from: s.1, lead: {length: 500 mm, gauge: 0.5 mm²}}, isolated: yes, efficiency: 80 %, source: 0.5 ohm,
       outlets: {1: 18V dc centre-negative 300mA, 2: 18V dc centre-negative 300mA}}
pedals:
  lift: {kind: boost, needs: 18V dc centre-negative 60mA, feed: {from: up.1, lead: {length: 400 mm, gauge: 0.5 mm²}}}
  bands: {kind: equaliser, needs: 18V dc centre-negative 110mA, feed: {from: up.2, lead: {length: 700 mm, gauge: 0.5 mm²}}}
""",
    ["V1 v 0 12", "R1 v o 0.3", lead("u", "o", "u", 0.5), *spice.constant_power("u", "u", 18 * (0.06 + 0.11) / 0.8, 12), "V2 p 0 18", "R2 p q 0.5", lead("l", "q", "l", 0.4), amps("l", "l", 0.06), "V3 r 0 18", "R3 r t 0.5", lead("b", "t", "b", 0.7), amps("b", "b", 0.11)],
    {"up": "u", "lift": "l", "bands": "b"},
)

HEATER_AND_DIGITAL = (
    """
supplies: {s: {isolated: no, source: 0.25 ohm, outlets: {1: 12V dc centre-negative 2A}}}
pedals:
  glass: {kind: valve-preamp, needs: 12V dc centre-negative 600mA, feed: {from: s.1, lead: {length: 2 m, gauge: 0.5 mm²}}}
  echo: {kind: delay, digital: yes, needs: 12V dc centre-negative 250mA, feed: {from: s.1, after: glass, lead: {length: 400 mm, gauge: 0.5 mm²}}}
  drive: {kind: overdrive, needs: 12V dc centre-negative 15mA, feed: {from: s.1, lead: {length: 400 mm, gauge: 0.5 mm²}}}
""",
    ["V1 v 0 12", "Rs v o 0.25", lead("g", "o", "g", 2), f"Rheater g 0 {12 / 0.6!r}", lead("e", "g", "e", 0.4), *spice.constant_power("e", "e", 12 * 0.25, 12), lead("d", "o", "d", 0.4), amps("d", "d", 0.015)],
    {"glass": "g", "echo": "e", "drive": "d"},
)

PIECED_LEADS = (
    """
supplies: {s: {isolated: yes, source: 1 ohm, outlets: {1: {gives: 9V dc centre-negative 500mA, regulated: no}}}}
pedals:
  far: {kind: delay, digital: yes, needs: 9V dc centre-negative 200mA,
        feed: {from: s.1, leads: [{length: 3 m, gauge: 0.5 mm²}, {length: 100 mm, gauge: 0.5 mm²}, {length: 2 m, gauge: 0.5 mm²}]}}
""",
    # an unregulated adaptor charges to the peak of the sine; three pieces, each with contacts of its own
    [f"V1 v 0 {9 * 2**0.5!r}", "Rs v o 1", lead("1", "o", "p", 3), lead("2", "p", "q", 0.1), lead("3", "q", "f", 2), *spice.constant_power("f", "f", 9 * 0.2, 9 * 2**0.5)],
    {"far": "f"},
)

BOARDS = {
    "daisy chain": DAISY_CHAIN,
    "outlets in series": SERIES_OUTLETS,
    "outlets in parallel": PARALLEL_OUTLETS,
    "converter": CONVERTER,
    "heater and digital": HEATER_AND_DIGITAL,
    "lead of three pieces": PIECED_LEADS,
}


@pytest.mark.parametrize(("text", "netlist", "nodes"), BOARDS.values(), ids=BOARDS)
def test_what_arrives_is_what_ngspice_says(text, netlist, nodes):
    report = boardwright.check(text)
    assert not report.problems
    volts = spice.node_voltages(netlist, list(nodes.values()))
    rows = {row.name: row for row in report.power.devices}
    assert set(rows) == set(nodes)
    for name, node in nodes.items():
        assert rows[name].volts == pytest.approx(volts[node], rel=1e-6), name


def test_a_power_that_no_lead_can_carry_has_no_voltage():
    """More than V²/4R can never arrive, by the maximum power transfer theorem: 9 V behind 2 ohm carries 10.1 W at most."""
    text = """
supplies: {s: {isolated: yes, source: 2 ohm, outlets: {1: 9V dc centre-negative 5A}}}
pedals: {x: {kind: looper, load: power, needs: 9V dc centre-negative 1.2A, feed: {from: s.1, lead: {length: 100 mm, gauge: 0.5 mm²}}}}
"""
    (row,) = boardwright.check(text).power.devices
    assert row.volts is None and row.amps == 1.2
    (row,) = boardwright.check(text.replace("1.2A", "1.0A")).power.devices
    assert row.volts is not None


def test_the_whole_way_to_a_chained_device_is_told():
    """Leads in a chain add up: three of 2 m, at 39.0 ohm per km, with two contacts in each conductor of each."""
    pedals = ""
    for n, after in enumerate(("", "after: p0, ", "after: p1, ")):
        lead = "lead: {length: 2 m, gauge: 0.5 mm²}"
        pedals += f"  p{n}: {{kind: chorus, needs: 9V dc centre-negative 400mA, feed: {{from: s.1, {after}{lead}}}}}\n"
    report = boardwright.check(f"supplies: {{s: {{isolated: no, outlets: {{1: 9V dc centre-negative 2A}}}}}}\npedals:\n{pedals}")
    told = {
        finding.things[0].name: number.value
        for finding in report.findings
        if finding.rule == "voltage-lost-before-device"
        for number in finding.numbers
        if number.name == "lead, there and back"
    }
    one = 2 * (2 * 0.0390 + 2 * limits.CONTACT.value)
    # the first loses less than a twentieth, and is not complained about
    assert told == {"p1": pytest.approx(2 * one), "p2": pytest.approx(3 * one)}
