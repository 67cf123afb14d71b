"""Power: whether every device gets the right voltage, enough current and quiet company."""

from boardwright.rules.power import (  # noqa: F401  (importing a rule registers it; this is also their order)
    supply_voltage_outside_range,
    ac_dc_mismatch,
    plug_polarity_reversed,
    power_plug_does_not_fit,
    device_not_fed_exactly_once,
    outlet_current_overdrawn,
    outlet_headroom_thin,
    start_up_surge_exceeds_outlet,
    supply_total_exceeded,
    shared_outlet_carries_digital_noise,
    thirsty_digital_shares_outlet,
    positive_ground_shorts_shared_supply,
    outlets_combined_without_permission,
    voltage_lost_before_device,
    stiff_supply_under_germanium_fuzz,
    no_spare_outlet,
    supply_runs_hot,
)
