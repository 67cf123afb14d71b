"""Wire tables and voltage drops against published ones."""

import math

import fluids.piping
import pytest
from pytest import approx

from boardwright.physics import wire
from published import published

FOOT = 0.3048
CIRCULAR_MIL = math.pi / 4 * (25.4e-6) ** 2

KUPHALDT = "Kuphaldt, Lessons in Electric Circuits, DC, chapter 12"
# Gauge -> circular mils (4 figures).
KUPHALDT_CIRCULAR_MILS = {16: 2583, 18: 1624, 20: 1022, 22: 642.5, 24: 404.0, 26: 254.1, 28: 159.8, 30: 100.5}

# Gauge -> ohm per km at 20 °C.
TABLE_OHM_PER_KM = {16: 13.17, 24: 84.20, 30: 338.50}

IEC_60228 = "IEC 60228:2004, class 5, as tabulated by two cable makers' pages"
# mm² -> greatest ohm per km at 20 °C.
CLASS_5_PLAIN = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30}
CLASS_5_TINNED = {0.5: 40.1, 0.75: 26.7, 1.0: 20.0, 1.5: 13.7, 2.5: 8.21, 4.0: 5.09, 6.0: 3.39}

# Correction to 20 °C of a resistance measured at t °C.
CORRECTION_TO_20 = {5: 1.064, 15: 1.020, 25: 0.980, 40: 0.926, 55: 0.877, 70: 0.833, 90: 0.781}


ASTM_B258 = "ASTM B258, as described in the units database of GNU units"


def test_the_two_gauges_that_the_standard_fixes():
    assert wire.awg_diameter(36) / 0.0254 == published(0.0050, "in", "diameter of 36 AWG", ASTM_B258, rel=1e-12)
    assert wire.awg_diameter(-3) / 0.0254 == published(0.4600, "in", "diameter of 0000 AWG", ASTM_B258, rel=1e-12)


@pytest.mark.parametrize("gauge", range(51))
def test_diameter_against_a_reference_library(gauge):
    # In inches, to 4 decimals and above 30 AWG to 5.
    table = fluids.piping.t_from_gauge(gauge, SI=False, schedule="AWG")
    source = "table of Machinery's Handbook (2012), as the library fluids 1.3 holds it"
    last_place = 1e-4 if gauge <= 30 else 1e-5
    assert wire.awg_diameter(gauge) / 0.0254 == published(table, "in", f"diameter of {gauge} AWG", source, abs=0.6 * last_place, rel=0)


@pytest.mark.parametrize("gauge, circular_mils", KUPHALDT_CIRCULAR_MILS.items())
def test_area_against_kuphaldt(gauge, circular_mils):
    area = wire.round_area(wire.awg_diameter(gauge))
    assert area / CIRCULAR_MIL == published(circular_mils, "cmil", f"area of {gauge} AWG", f"{KUPHALDT}, wire table", rel=5e-4)


@pytest.mark.parametrize("gauge, ohm_per_km", TABLE_OHM_PER_KM.items())
def test_resistance_against_a_wire_table(gauge, ohm_per_km):
    source = "copper wire table at wp.1728.org"
    assert wire.awg_resistance(gauge) * 1000 == published(ohm_per_km, "Ω/km", f"{gauge} AWG, copper at 20 °C", source, rel=5e-4)


def test_every_step_of_gauge_has_the_same_ratio():
    for n in range(-3, 56):
        ratio = wire.awg_diameter(n) / wire.awg_diameter(n + 1)
        assert ratio == published(1.1229322, "", "diameter from one gauge to the next, 92^(1/39)", ASTM_B258, abs=1e-7)


@pytest.mark.parametrize("tinned, table", [(False, CLASS_5_PLAIN), (True, CLASS_5_TINNED)])
def test_flexible_cords_against_the_standard(tinned, table):
    for area, ohm_per_km in table.items():
        what = f"{area:g} mm², flexible, {'tinned' if tinned else 'plain'}, greatest at 20 °C"
        assert wire.cord_resistance(area, tinned) * 1000 == published(ohm_per_km, "Ω/km", what, IEC_60228, rel=1e-12)


def test_a_size_the_standard_does_not_list_is_judged_with_its_widest_margin():
    # Ratio to solid copper of the listed sizes: 1.131 for 0.5 to 1 mm² (computed from IEC 60228 and IEC 60028),
    # widest 1.157 for 1.5 and 2.5 mm².
    assert wire.cord_resistance(0.5) / wire.conductor_resistance(1, 0.5e-6) == approx(1.131, abs=5e-4)
    for area in (0.35, 1.35, 1.65, 2.25, 2.75):
        assert wire.cord_resistance(area) / wire.conductor_resistance(1, area * 1e-6) == approx(1.157, abs=5e-4)
    for area in CLASS_5_PLAIN:
        assert wire.cord_resistance(area * 1.0001) >= 0.999 * wire.cord_resistance(area)


@pytest.mark.parametrize("temperature, factor", CORRECTION_TO_20.items())
def test_temperature_against_the_standards_corrections(temperature, factor):
    # The tabulated factors follow 1 / (1 + 0.004 (t - 20)), so copper's own 0.00393 agrees to 0.005.
    what, source = f"correction from {temperature} °C to 20 °C", "IEC 60228, as tabulated by a cable maker's page"
    assert 1 / wire.resistance_at(temperature, 1.0) == published(factor, "", what, source, abs=0.005)
    assert 1 / wire.resistance_at(temperature, 1.0, coefficient=0.004) == published(factor, "", f"{what}, with 0.004/K", source, abs=0.001)


def test_copper():
    # 58 MS/m is 100 % IACS by definition; alpha = 0.00393 = 1/254.5.
    source = "IEC 60028, as given by GNU units and handbooks"
    assert published(17.241, "nΩ·m", "resistivity of copper at 20 °C", source, rel=3e-5) == wire.COPPER_RESISTIVITY * 1e9
    assert published(1 / 254.5, "1/K", "temperature coefficient of copper", source, rel=2e-3) == wire.COPPER_TEMPERATURE_COEFFICIENT


def test_kuphaldts_long_feeder():
    # "Specific resistance": 2300 ft each way, rho = 10.09 ohm cmil/ft. A 0.2 ohm conductor
    # needs 116 035 cmil; with 14 AWG each conductor has 5.651 ohm, so 230 V drives 20.352 A into a short circuit.
    rho = 10.09 * CIRCULAR_MIL / FOOT
    source = f"{KUPHALDT}, “Specific resistance”"
    feeder = wire.conductor_resistance(2300 * FOOT, 116_035 * CIRCULAR_MIL, rho)
    assert feeder == published(0.2, "Ω", "2300 ft of 116 035 cmil", source, rel=5e-4)
    one_way = wire.conductor_resistance(2300 * FOOT, wire.round_area(wire.awg_diameter(14)), rho)
    assert one_way == published(5.651, "Ω", "2300 ft of 14 AWG", source, rel=5e-4)
    assert 230 / (2 * one_way) == published(20.352, "A", "230 V through 2300 ft of 14 AWG, there and back", source, rel=5e-4)


def test_nec_worked_drop():
    source = "NEC chapter 9, table 8, worked at electrician2.com, page 135"
    per_metre = wire.resistance_at(75, wire.awg_resistance(16, stranded=True))
    assert per_metre * 1000 * FOOT == published(4.99, "Ω/kft", "16 AWG, stranded, at 75 °C", source, rel=5e-3)
    drop = 4 * wire.loop_resistance(100 * FOOT, per_metre, 0, 0.0)
    assert drop == published(3.99, "V", "100 ft of 16 AWG at 4 A, there and back", source, abs=0.02)


def test_contacts_are_counted_in_both_conductors():
    # Arithmetic: 0.6 m of 0.084 ohm/m and two contacts of 10 milliohm in each of two conductors.
    assert wire.loop_resistance(0.6, 0.084, 2, 0.01) == approx(2 * (0.0504 + 0.02))


@pytest.mark.parametrize(
    "call",
    [
        lambda: wire.awg_diameter(57),
        lambda: wire.awg_diameter(-4),
        lambda: wire.awg_diameter(22.5),
        lambda: wire.round_area(0),
        lambda: wire.conductor_resistance(-1, 1e-6),
        lambda: wire.conductor_resistance(1, 0),
        lambda: wire.resistance_at(-300, 1.0),
        lambda: wire.resistance_at(20 - 1 / 0.004, 1.0, coefficient=0.004),
        lambda: wire.resistance_at(20, -1.0),
        lambda: wire.resistance_at(float("nan"), 1.0),
        lambda: wire.cord_resistance(0),
        lambda: wire.loop_resistance(1, 0.1, -1, 0.01),
        lambda: wire.loop_resistance(float("nan"), 0.1, 1, 0.01),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError, match=r"must be|outside"):
        call()
