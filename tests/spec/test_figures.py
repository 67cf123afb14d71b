"""Quantities as people write them, against an independent reader of quantities: the `quantiphy` library."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from quantiphy import Quantity

from boardwright.spec import figure as f
from boardwright.spec.figure import DIMENSIONS, Figure, Origin, Unreadable, read_figure, tell

# Every way that the language promises to read, with what it means in the unit that is kept.
SPELLINGS = [
    (f.VOLTAGE, "9V", 9), (f.VOLTAGE, "9 volts", 9), (f.VOLTAGE, "600mV", 0.6), (f.VOLTAGE, "0.6 v", 0.6),
    (f.CURRENT, "45mA", 0.045), (f.CURRENT, "45 ma", 0.045), (f.CURRENT, "45 MA", 0.045), (f.CURRENT, "1.3 A", 1.3), (f.CURRENT, "6000mA", 6),
    (f.CURRENT, "45000uA", 0.045), (f.CURRENT, "45000 µA", 0.045), (f.CURRENT, ".5 amps", 0.5),
    (f.POWER, "40 W", 40), (f.POWER, "5kW", 5000), (f.APPARENT_POWER, "600 VA", 600),
    (f.RESISTANCE, "0.3 ohm", 0.3), (f.RESISTANCE, "250k", 250e3), (f.RESISTANCE, "250K", 250e3), (f.RESISTANCE, "1M", 1e6), (f.RESISTANCE, "470R", 470),
    (f.RESISTANCE, "4k7", 4700), (f.RESISTANCE, "4R7", 4.7), (f.RESISTANCE, "8 Ω", 8), (f.RESISTANCE, "8 ohms", 8), (f.RESISTANCE, "10 kΩ", 10e3),
    (f.LENGTH, "6 m", 6), (f.LENGTH, "600 mm", 0.6), (f.LENGTH, "60cm", 0.6), (f.LENGTH, "6 metres", 6), (f.LENGTH, "6 meters", 6), (f.LENGTH, "600 MM", 0.6),
    (f.LENGTH, "20 ft", 6.096), (f.LENGTH, "24 inches", 0.6096), (f.PLACE, "120", 0.12), (f.PLACE, "120 mm", 0.12), (f.PLACE, "12 cm", 0.12), (f.PLACE, "-3", -0.003),
    (f.FREQUENCY, "120 kHz", 120e3), (f.FREQUENCY, "50Hz", 50), (f.TIME, "1.5 ms", 0.0015), (f.TIME, "2 seconds", 2),
    (f.CAPACITANCE, "110 pF", 110e-12), (f.CAPACITANCE, "4n7F", 4.7e-9), (f.CAPACITANCE_PER_LENGTH, "85 pF/m", 85e-12), (f.INDUCTANCE, "2.5 H", 2.5),
    (f.MASS, "900 g", 900), (f.MASS, "14 kg", 14e3), (f.MASS, "2 lb", 907.18474), (f.TEMPERATURE, "35 °C", 35), (f.TEMPERATURE, "−5 C", -5), (f.TEMPERATURE, "35 degC", 35),
    (f.RATIO, "85 %", 0.85), (f.RATIO, "57%", 0.57), (f.GAIN, "12 dB", 12), (f.GAIN, "-3 db", -3), (f.GAIN, "+6 dB", 6), (f.LEVEL_U, "8 dBu", 8), (f.AREA, "60 cm²", 0.006),
    (f.AREA, "60 cm2", 0.006),
]  # fmt: skip


@pytest.mark.parametrize(("dimension", "text", "value"), SPELLINGS, ids=lambda each: each if isinstance(each, str) else "")
def test_every_spelling(dimension, text, value):
    found = read_figure(text, dimension)
    assert found == Figure(found.low, found.low, dimension.unit) and found.low == pytest.approx(value, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("9-18V", 9, 18), ("9 – 18 V", 9, 18), ("9 to 18 V", 9, 18), ("9V to 18V", 9, 18), ("500 mV - 1 V", 0.5, 1), ("8-9.6V", 8, 9.6), ("1e-3 V", 1e-3, 1e-3)],
)
def test_ranges(text, low, high):
    assert read_figure(text, f.VOLTAGE) == Figure(low, high, "V")


def test_ranges_below_zero():
    assert read_figure("-3 to 3 dB", f.GAIN) == Figure(-3, 3, "dB")
    assert read_figure("-12--3 dB", f.GAIN) == Figure(-12, -3, "dB")


@pytest.mark.parametrize(
    ("text", "origin"),
    [("43 mA measured", Origin.MEASURED), ("43mA (measured)", Origin.MEASURED), ("43 mA Assumed", Origin.ASSUMED), ("43 mA stated", Origin.STATED), ("43 mA", Origin.STATED)],
)
def test_origins(text, origin):
    assert read_figure(text, f.CURRENT) == Figure(0.043, 0.043, "A", origin)


def test_unknown_is_a_value():
    assert read_figure(" Unknown ", f.CURRENT) == f.unknown("A")


@pytest.mark.parametrize(
    ("dimension", "text", "meant"),
    [
        (f.VOLTAGE, "9", "`9 V`"), (f.CURRENT, "45", "`45 mA`"), (f.POWER, "40", "`40 W`"), (f.LENGTH, "6", "`6 m`"), (f.LENGTH, "600", "`600 mm`"),
        (f.RESISTANCE, "250", "`250 ohm` or `250k`"), (f.RATIO, "0.85", "`85 %`"), (f.RATIO, "85", "`85 %`"), (f.MASS, "14", "`14 kg`"), (f.MASS, "900", "`900 g`"),
        (f.CAPACITANCE, "110p", "`110 pF`"), (f.FREQUENCY, "120", "`120 kHz`"), (f.TEMPERATURE, "35", "`35 °C`"), (f.GAIN, "12", "`12 dB`"), (f.LEVEL_U, "8", "`8 dBu`"),
    ],
)  # fmt: skip
def test_a_bare_number_is_refused_with_the_likely_unit(dimension, text, meant):
    with pytest.raises(Unreadable) as error:
        read_figure(text, dimension)
    assert f"Did you mean {meant}?" in error.value.message


@pytest.mark.parametrize(
    ("dimension", "text", "said"),
    [
        (f.POWER, "2A", "A power is due here. `2 A` is a current."), (f.CURRENT, "9V", "A current is due here. `9 V` is a voltage."),
        (f.CURRENT, "2000mAh", "how much a battery holds"), (f.TEMPERATURE, "86F", "`86 F` is about `30 °C`: write that."),
        (f.VOLTAGE, "9,6V", "has a comma in the number: write a point"), (f.VOLTAGE, "18-9V", "runs downwards"), (f.CURRENT, "45 mX", "`mX` is no unit that is known here"),
        (f.INDUCTANCE, "lots", "is no inductance"), (f.INDUCTANCE, "3 kg", "An inductance is due here. `3 kg` is a weight."),
        (f.CURRENT, "1e400 A", "beyond anything"), (f.CURRENT, "nan A", "is no current"), (f.CURRENT, "inf A", "is no current"), (f.CURRENT, "-5 mA", "beyond anything"),
        (f.CURRENT, "9" * 90 + " A", "beyond anything"), (f.CURRENT, "9" * 200 + " A", "is too long"), (f.CURRENT, "", "is no current"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_explained(dimension, text, said):
    with pytest.raises(Unreadable) as error:
        read_figure(text, dimension)
    assert said in error.value.message


# --- against quantiphy -----------------------------------------------------------------------------------------------

NUMBERS = st.decimals(0, 999, places=3).map(lambda number: f"{number.normalize():f}")
PREFIXES = {"p": -12, "n": -9, "u": -6, "µ": -6, "m": -3, "": 0, "k": 3, "M": 6}
BY_PREFIX = [f.VOLTAGE, f.POWER, f.FREQUENCY, f.TIME, f.CAPACITANCE, f.INDUCTANCE]


@given(st.sampled_from(BY_PREFIX), NUMBERS, st.sampled_from(sorted(PREFIXES)))
def test_prefixes_mean_what_quantiphy_says(dimension, number, prefix):
    expected = float(Quantity(f"{number} {prefix}{dimension.unit}"))
    assume(dimension.least <= expected <= dimension.most)
    assert read_figure(f"{number} {prefix}{dimension.unit}", dimension).value == pytest.approx(expected, rel=1e-15)


@given(st.floats(1e-11, 9e11), st.sampled_from(["A", "V", "W", "Hz", "F"]), st.integers(2, 5), st.sampled_from([1, -1]))
def test_values_are_told_as_quantiphy_tells_them(size, unit, digits, sign):
    expected = Quantity(sign * size, units=unit).render(prec=digits - 1, strip_zeros=True).replace("-", "−").replace("u", "µ")
    assert tell(sign * size, unit, digits) == expected


# --- properties ------------------------------------------------------------------------------------------------------


@given(st.integers(1, 10**9))
def test_scaling_the_unit_changes_nothing_to_the_last_bit(micro):
    """45 mA, 0.045 A and 45000 uA are one number."""
    whole, rest = divmod(micro, 10**6)
    thousands, hundreds = divmod(micro, 1000)
    texts = [f"{micro} uA", f"{thousands}.{hundreds:03} mA", f"{whole}.{rest:06} A", f"{micro}e-6 A", f"{micro}e-3 mA"]
    assert len({read_figure(text, f.CURRENT) for text in texts}) == 1


@given(st.text(max_size=40), st.sampled_from(DIMENSIONS))
def test_no_text_raises_anything_but_unreadable(text, dimension):
    try:
        found = read_figure(text, dimension)
    except Unreadable as error:
        assert error.message.endswith((".", "?"))
    else:
        assert not found.known or dimension.least <= found.low <= found.high <= dimension.most


@given(st.text("0123456789.,-–+−eE mkuµMVAohdBzHF%°CcgtoRR²2/ ", max_size=14), st.sampled_from([*DIMENSIONS, f.PLACE]))
def test_no_text_that_looks_like_a_quantity_does_either(text, dimension):
    test_no_text_raises_anything_but_unreadable.hypothesis.inner_test(text, dimension)


@given(NUMBERS, st.sampled_from(["m", "", "k"]), st.sampled_from([f.VOLTAGE, f.CURRENT, f.POWER, f.FREQUENCY, f.RESISTANCE, f.LENGTH, f.TIME, f.INDUCTANCE]))
def test_what_was_told_reads_back(number, prefix, dimension):
    value = float(number) * 10.0 ** PREFIXES[prefix]
    assume(dimension.least <= value <= dimension.most and (not value or value >= 1e-12))
    told = tell(value, dimension.unit, 9)
    again = read_figure(told, dimension)
    assert again.value == pytest.approx(value, rel=1e-8, abs=1e-6 if "Ω" in told and value < 1 else 1e-20)
    assert tell(again.value, dimension.unit, 9) == told


@given(st.floats(allow_nan=True, allow_infinity=True), st.sampled_from(["A", "%", "dB", "°C", "Ω", "", "AWG", "m²"]))
def test_any_number_can_be_told(value, unit):
    told = tell(value, unit)
    assert told and "nan" not in told and "inf" not in told
    if not math.isfinite(value):
        assert told == "beyond measure"


@pytest.mark.parametrize("unit", ["A", "%", "dB", "°C", "Ω", "", "AWG", "m²"])
def test_a_zero_below_zero_is_told_as_zero_whichever_was_told_first(unit):
    tell.cache_clear()
    assert tell(-0.0, unit) == tell(0.0, unit)
    assert "−" not in tell(-0.0, unit)
