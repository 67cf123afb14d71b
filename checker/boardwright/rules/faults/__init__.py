"""Faults: what to have ready for the day that something dies, and what to look after so that it does not."""

from boardwright.rules.faults import (  # noqa: F401  (importing a rule registers it; this is also their order)
    no_rescue_path,
    half_split_points_missing,
    upkeep_overdue,
)
