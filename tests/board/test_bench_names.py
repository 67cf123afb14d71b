"""Names in steps, readings and spares that lead nowhere are problems, as everywhere else, with the name that was likely meant."""

from __future__ import annotations

import pytest

from boardwright import check

BOARD = """
board: {for: home, frame: {size: [500, 300], rows: [{span: [0, 140]}, {span: [141, 300]}]}}
supplies: {brick: {isolated: yes, outlets: {1: 9V dc centre-negative 100mA}}}
pedals: {comp: {kind: compressor, needs: 9V dc centre-negative 8mA, feed: brick.1}}
switchers: {hub: {loops: {"1": comp}, needs: none}}
amps: {combo: {kind: valve}}
audio: [guitar > hub > combo]
presets: {verse: {hub: ["1"]}}
"""


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("steps: [{do: place, row: 3}]", "A step is about row 3, and the frame has 2."),
        ("steps: [{do: loop, of: hub.2}]", "There is no loop `hub.2`. Did you mean `hub.1`?"),
        ("steps: [{do: preset, of: versw}]", "There is no preset `versw`. Did you mean `verse`?"),
        ("steps: [{do: amp, of: comboo}]", "There is no amplifier `comboo`. Did you mean `combo`?"),
        ("readings: [{where: brick.7, what: volts, got: 9 V}]", "`brick` has no outlet `7`. Did you mean `brick.1`?"),
        ("readings: [{where: cmp, what: current, got: 8 mA}]", "`cmp` is neither a lead's label nor described anywhere. Did you mean `comp`?"),
        ("readings: [{where: combo, what: sound, preset: vers, got: good}]", "There is no preset `vers`. Did you mean `verse`?"),
        ("spares: [{what: other, of: comp2}]", "`comp2` is neither a lead's label nor described anywhere. Did you mean `comp`?"),
    ],
)
def test_a_name_that_leads_nowhere_is_said(more, said):
    (problem,) = check(BOARD + more + "\n").problems
    assert problem.kind == "name" and problem.message == said and problem.at is not None


@pytest.mark.parametrize(
    "more",
    [
        "steps: [{do: place, row: 2}, {do: loop, of: hub.1}, {do: loop, of: '1'}, {do: preset, of: verse}, {do: amp, of: combo}, {do: shake}]",
        "readings: [{where: [board, combo], what: ohms, condition: unplugged, got: 0.2 ohm}, {where: brick.1, what: volts, got: -9 V}, {where: D1, what: volts, got: -9 V}]",
        "readings: [{where: combo, what: sound, preset: verse, got: good}, {where: hub, what: current, got: unknown}]",
        "spares: [{what: other, of: comp}, {carries: audio, length: 6 m, of: [A1]}]",
    ],
)
def test_names_that_lead_somewhere_are_not(more):
    assert not check(BOARD + more + "\n").problems


@pytest.mark.parametrize(
    ("got", "value", "unit"), [("-9.1 V", -9.1, "V"), ("−9.1 V", -9.1, "V"), ("110 mA", 0.11, "A"), ("0.4 ohm", 0.4, "Ω"), ("20 Mohm", 20e6, "Ω"), ("1.9 ms", 0.0019, "s")]
)
def test_a_reading_keeps_its_sign_and_its_unit(got, value, unit):
    from boardwright.spec.read import read

    (reading,) = read(f"readings: [{{where: D1, what: volts, got: {got}}}]", fragment=True).readings.values()
    assert reading.got.value == pytest.approx(value) and reading.got.unit == unit


@pytest.mark.parametrize("got", ["open", "OL", "O.L", "∞", "infinite"])
def test_what_a_meter_shows_over_its_range_is_open(got):
    from boardwright.spec.read import read

    (reading,) = read(f"readings: [{{where: A1, what: ohms, of: tip, got: {got}}}]", fragment=True).readings.values()
    assert reading.got == "open"
