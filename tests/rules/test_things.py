"""How findings name many things at once."""

from __future__ import annotations

from boardwright.rules.things import does, listed

DOZEN = [f"lead_{number}" for number in range(1, 13)]


def test_a_dozen_names_are_all_told():
    assert listed(DOZEN).endswith("`lead_11` and `lead_12`")


def test_of_more_than_a_dozen_the_rest_is_counted():
    assert listed([*DOZEN, "lead_13", "lead_14"]).endswith("`lead_12` and 2 more")


def test_what_is_named_twice_is_told_once():
    assert listed(["lead_1", "lead_2", "lead_1"]) == "`lead_1` and `lead_2`"


def test_one_does_and_several_do():
    assert does(["lead_1", "lead_1"]) == "does `lead_1`"
    assert does(["lead_1", "lead_2"]) == "do `lead_1` and `lead_2`"
