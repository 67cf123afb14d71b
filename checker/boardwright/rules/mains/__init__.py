"""Mains: hazards named, and whose work they are. Nothing here designs or explains mains wiring."""

from boardwright.rules.mains import (  # noqa: F401  (importing a rule registers it; this is also their order)
    live_parts_reachable,
    mains_work_needs_qualified_person,
    frame_without_protective_earth,
    mains_supply_mismatch,
    class_one_without_earth_contact,
    fuse_missing_or_wrong,
    mains_current_over_rating,
    no_residual_current_protection,
    mains_shares_space_with_signal,
    more_than_one_mains_inlet,
    adaptors_crowd_extension_block,
)
