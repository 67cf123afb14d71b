"""Earth and hum: exactly one earth for the signal, whoever is carried tonight, and every protective earth in its place."""

from boardwright.rules.earth import (  # noqa: F401  (importing a rule registers it; this is also their order)
    mains_earth_lifted,
    amplifiers_not_on_exactly_one_earth,
    earth_loop_closed,
    isolation_bridged_by_side_path,
    isolation_transformer_misplaced,
    usb_closes_earth_loop,
    amplifiers_on_different_circuits,
    screen_left_open,
    wide_loop_near_transformer,
)
