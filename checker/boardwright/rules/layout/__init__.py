"""Layout: whether boxes, plugs, feet and the lid all have room, and whether the board can be lifted."""

from boardwright.rules.layout import (  # noqa: F401  (importing a rule registers it; this is also their order)
    box_off_the_frame,
    boxes_overlap,
    connector_proud_of_case,
    control_or_port_buried,
    footswitches_too_close,
    heavy_part_not_held_down,
    lid_meets_knobs,
    plug_has_no_room,
    supply_does_not_fit_below,
    switch_out_of_reach,
    weight_and_balance,
)
