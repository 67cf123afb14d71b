"""Building: whether it is built in an order that finds faults early, measured as it goes, and handed over so that it lasts."""

from boardwright.rules.build import (  # noqa: F401  (importing a rule registers it; this is also their order)
    reading_differs_from_prediction,
    lead_not_proved_before_use,
    build_steps_out_of_order,
    no_spare_for_critical_lead,
    labels_and_handover_incomplete,
)
