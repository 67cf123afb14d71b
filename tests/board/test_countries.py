"""The table of countries against the open data set that it names, difference by difference."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from fluids import pump

from boardwright.board.countries import FAMILIES, countries, country, family
from published import MEMORY, published

# Every country whose row is not what fluids.pump.residential_power (1.3.1) says, and why. The other table is the IEC's
# list of world plugs as copied in 2017; both readings are kept in the row.
DIFFERENCES = {
    "BR": "fluids keeps one voltage for each country; the IEC list has 127 and 220 V",
    "CL": "the IEC list has plug C beside L",
    "HK": "missing in fluids",
    "ID": "plugs and 230 V as in fluids, 220 V of the same family from the IEC list; its 110 V is kept as doubtful",
    "JP": "fluids keeps one frequency; the west of Japan has 60 Hz",
    "MY": "the IEC list has 240 V and plug A",
    "NG": "the IEC list has 230 V, of the same family",
    "PH": "the IEC list has plug C",
    "RU": "the IEC list has 220 V, of the same family",
    "SA": "the IEC list has 230 V too, of the same family",
    "TR": "the IEC list has 220 V, of the same family",
    "UA": "the IEC list has 220 V, of the same family",
    "VN": "the IEC list has plug F instead of G",
    "ZA": "the IEC list has plug D instead of F",
}


def _fluids() -> dict[str, tuple[set[float], set[float], set[str]]]:
    table = dict(pump.residential_power)
    return {code.upper(): ({float(row.voltage)}, {float(row.freq)}, set(row.plugs)) for code, row in table.items()}


def _ours(code: str) -> tuple[set[float], set[float], set[str]]:
    mains = countries()[code].mains
    return set(mains.volts), set(mains.hertz), set(mains.plugs)


def _mains(volts: Iterable[float], hertz: Iterable[float], plugs: Iterable[str]) -> str:
    """As the page of published values shows them."""
    return f"{' and '.join(f'{each:g}' for each in sorted(volts))} V, {' and '.join(f'{each:g}' for each in sorted(hertz))} Hz, {' '.join(sorted(plugs))}"


def test_every_country_of_the_data_set_is_there_and_no_other_but_one():
    assert set(countries()) - set(_fluids()) == {"HK"}
    assert set(_fluids()) <= set(countries())


def test_every_difference_is_listed_and_every_listed_one_is_there():
    differing = {code for code in countries() if _ours(code) != _fluids().get(code)}
    assert differing == set(DIFFERENCES)


@pytest.mark.parametrize("code", [code for code in DIFFERENCES if code != "HK"])
def test_where_they_differ_the_first_reading_is_what_the_data_set_says(code):
    volts, hertz, plugs = _fluids()[code]
    first = countries()[code].first
    assert first is not None and set(first.volts) == volts and set(first.hertz) == hertz and set(first.plugs) == plugs


def test_our_reading_is_in_the_union_of_the_two():
    for each in countries().values():
        if each.disputed:
            said = [entry for entry in (each.first, each.second) if entry]
            assert set(each.mains.volts) <= {volts for entry in said for volts in entry.volts}
            assert set(each.mains.hertz) <= {hertz for entry in said for hertz in entry.hertz}
            assert set(each.mains.plugs) <= {plug for entry in said for plug in entry.plugs}


def test_every_voltage_is_a_known_one_and_lies_in_one_family():
    # IEC 60038 and its forerunners: 100; 110 to 127; 220 to 240 V, at 50 or 60 Hz
    for each in countries().values():
        assert all(family(volts) is not None for volts in each.mains.volts), each
        assert set(each.mains.hertz) <= {50, 60}
        assert each.mains.plugs and set(each.mains.plugs) <= set("ABCDEFGHIJKLMNO")
    assert len(FAMILIES) == 3


@pytest.mark.parametrize(
    ("code", "volts", "hertz", "plugs"),
    [
        ("GB", {230}, {50}, "G"),
        ("US", {120}, {60}, "AB"),
        ("JP", {100}, {50, 60}, "AB"),
        ("DE", {230}, {50}, "CF"),
        ("AU", {230}, {50}, "I"),
        ("BR", {127, 220}, {60}, "CN"),
    ],
)
def test_the_ones_that_everybody_knows(code, volts, hertz, plugs):
    mains = countries()[code].mains
    source = "both tables, and from memory of the plugs in those walls"
    assert _mains(mains.volts, mains.hertz, mains.plugs) == published(_mains(volts, hertz, plugs), "", f"mains in {code}", source, kind=MEMORY)


def test_what_is_kept_of_the_disagreements():
    indonesia = country("id")
    assert indonesia is not None and indonesia.disputed and indonesia.doubtful == (110.0,)
    assert country("LY").one_source and not country("LY").disputed
    assert country("DE").agreed
    assert country("QQ") is None
    assert str(country("DE").mains) == "230 V 50 Hz, plugs C, F"
