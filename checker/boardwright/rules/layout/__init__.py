"""Layout: whether boxes, plugs, feet and the lid all have room, and whether the board can be lifted."""

from boardwright.rules.layout import (  # noqa: F401  (importing a rule registers it; this is also their order)
    boxes_overlap,
    box_off_the_frame,
    plug_has_no_room,
    connector_proud_of_case,
    lid_meets_knobs,
    footswitches_too_close,
    switch_out_of_reach,
    control_or_port_buried,
    heavy_part_not_held_down,
    weight_and_balance,
    supply_does_not_fit_below,
)
