"""Routing: whether leads lie where they should, are long enough, and are held."""

from boardwright.rules.routing import (  # noqa: F401  (importing a rule registers it; this is also their order)
    audio_beside_power,
    bend_too_tight,
    crossing_not_square,
    cut_list_without_allowance,
    hot_output_beside_high_gain_input,
    lead_length_does_not_suit_path,
    no_strain_relief,
    opening_unsuitable,
    transformer_near_coil,
)
