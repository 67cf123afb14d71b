"""What a formula takes and refuses, on both sides of the bounds that its docstring names."""

from __future__ import annotations

import pytest

from boardwright.physics import comb, fields, heat, inductance, lengths, levels, lifting, mains, midi, noise, search, sources, wire

BOUNDS = {
    "notches": (lambda n: comb.notches(1e-3, n), [0, 10_000], [-1, 10_001]),
    "angle of a loop": (lambda angle: fields.loop_emf(50, 1, 1, angle=angle), [-1e6, 1e6], [-1.01e6, 1.01e6]),
    "share that cools": (lambda share: heat.temperature_rise(1, 1, 10, share), [0.001, 1], [-0.001, 1.001]),
    "angle of a crossing": (lambda angle: inductance.crossing_filaments(1, 1, 0.01, angle), [-1e6, 1e6], [-1.01e6, 1.01e6]),
    "ends with slack": (lambda ends: lengths.wanted_length(1, 0.05, 0.04, ends), [0, 2], [-1, 3]),
    "grip": (lambda grip: lifting.recommended_weight_limit(0.3, 0.05, 0.7, grip=grip), [0, 1], [-0.001, 1.001]),
    "power factor": (lambda factor: mains.apparent_power(1, factor), [0.001, 1], [-0.001, 1.001]),
    "bytes": (midi.message_time, [0, 10**9], [-1, 10**9 + 1]),
    "hops": (lambda hops: midi.skew_in_bits(hops, 2e-6), [0, 10**9], [-1, 10**9 + 1]),
    "harmonics": (lambda order: noise.clock_beats(1e5, 1.01e5, 20, 15e3, order), [1, 100], [0, 101]),
    "part": (lambda part: search.after_test([1, 1], part, False), [0, 1], [-1, 2]),
    "chance of a false pass": (lambda chance: search.after_test([1, 1], 0, True, chance), [0, 1], [-0.001, 1.001]),
    "efficiency": (lambda share: sources.converter_input_power(1, share), [0.001, 1], [-0.001, 1.001]),
    "parts": (search.equal_split_tests, [1, 10**9], [0, 10**9 + 1]),
    "gauge": (wire.awg_diameter, [-3, 56], [-4, 57]),
    "size of a conductor": (wire.cord_resistance, [0.01, 1000], [0.0099, 1000.1]),
    "contacts": (lambda contacts: wire.loop_resistance(1, 0.1, contacts, 0.01), [0, 1000], [-1, 1001]),
    "decibels": (levels.ratio_of, [-600, 600], [-600.1, 600.1]),
    "volts": (levels.dbv, [1e-30, 1e30], [0.99e-30, 1.01e30]),
}


@pytest.mark.parametrize("name", BOUNDS)
def test_bounds(name):
    formula, taken, refused = BOUNDS[name]
    for value in taken:
        formula(value)
    for value in refused:
        with pytest.raises(ValueError):
            formula(value)
