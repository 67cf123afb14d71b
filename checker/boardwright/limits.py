"""Every threshold and default, once: its value, its unit, why it is that, and where it comes from.

Rules, lessons and reports all read it here. To change one, change it here and look at what the tests say.
"""

from __future__ import annotations

from dataclasses import dataclass

PRACTICE = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Limit:
    """A number that a verdict depends on. ``value`` in SI units; shares as 0.8 with the unit ``%``."""

    name: str
    value: float
    unit: str
    why: str
    source: str = PRACTICE


LIMITS: dict[str, Limit] = {}


def _limit(name: str, value: float, unit: str, why: str, source: str = PRACTICE) -> Limit:
    assert name not in LIMITS, name
    LIMITS[name] = Limit(name, value, unit, why, source)
    return LIMITS[name]


# --- voltage ------------------------------------------------------------------------------------------------------

WINDOW_ABOVE = _limit(
    "window-above", 0.07, "%",
    "A fresh 9 V alkaline block reads up to 9.6 V, so every 9 V device already lives with 7 % more.",
    "usable range of nine-volt batteries, 9.6 V new, as tabulated by encyclopedias; the step to 7 % is our own",
)  # fmt: skip
WINDOW_BELOW = _limit("window-below", 0.10, "%", "Most circuits start and sound right down to a tenth below their label.")
NO_LOAD_FACTOR = _limit(
    "no-load-factor", 2**0.5, "",
    "An unregulated adaptor's capacitor charges to the peak of the sine when nothing is drawn.", "physics: the peak of a sine",
)  # fmt: skip
VOLTAGE_DROP = _limit("voltage-drop", 0.05, "%", "Below a twentieth, a lead's loss is not heard and starts nothing anew.")

# --- current ------------------------------------------------------------------------------------------------------

OUTLET_HEADROOM = _limit(
    "outlet-headroom", 0.80, "%",
    "Printed draws are typical values, give or take a tenth; they rise at start and in heat, and outlets derate when warm.",
)  # fmt: skip
OUTLET_HEADROOM_MEASURED = _limit("outlet-headroom-measured", 0.90, "%", "With every draw measured, half of that doubt is gone.")
SUPPLY_HEADROOM = _limit("supply-headroom", 0.80, "%", "The same fifth in reserve, for the supply as a whole.")
PARALLEL_SHARE = _limit("parallel-share", 0.90, "%", "Joined outlets never share quite equally.")
START_ANALOGUE = _limit("start-analogue", 1.1, "", "Small capacitors fill in an instant.")
START_DIGITAL = _limit("start-digital", 1.2, "", "A processor boots and its converter fills its capacitors.")
START_HEATER = _limit("start-heater", 3.0, "", "A cold heater has a fraction of its hot resistance.", "physics; the factor is practice")

# --- the network of an outlet -------------------------------------------------------------------------------------

SOURCE_SMALL = _limit("source-small", 0.3, "Ω", "Own resistance of an outlet up to 500 mA that states none.")
SOURCE_LARGE = _limit("source-large", 0.1, "Ω", "Own resistance of a bigger outlet that states none.")
LARGE_OUTLET = _limit("large-outlet", 0.5, "A", "Above this rating an outlet is taken for a stiff one.")
LEAD_LENGTH = _limit("power-lead-length", 0.6, "m", "Length of a power lead that states none.")
LEAD_GAUGE = _limit("power-lead-gauge", 24, "AWG", "Conductor of a power lead that states none.")
LEAD_ASK = _limit("power-lead-ask", 2.0, "m", "A longer lead of unknown wire is asked about and not guessed.")
CONTACT = _limit(
    "contact-resistance", 0.01, "Ω", "One clean plug contact. Two in each conductor.",
    "common practice; one maker's data sheet of a small barrel plug allows 0.03 ohm new",
)  # fmt: skip
BATTERY_SOURCE = _limit(
    "battery-source", 2.0, "Ω", "A fresh 9 V alkaline block.",
    "between a maker's 1.7 ohm at 1 kHz and the 3 ohm of Horowitz and Hill, The Art of Electronics, 2nd ed., p. 9",
)  # fmt: skip
CONVERTER_EFFICIENCY = _limit("converter-efficiency", 0.85, "%", "A converter that states none.")

# --- noise --------------------------------------------------------------------------------------------------------

RIPPLE_SHARE = _limit("ripple-share", 0.05, "%", "Audio-band ripple in the current of a digital or clocked device that states none.")
SHARED_RETURN = _limit("shared-return", 0.05, "Ω", "The return that two devices share: about 0.3 m of 24 AWG and its contacts.")
SCREEN_PATH = _limit("screen-path", 0.04, "Ω", "The audio screens beside it, which carry a part of the same current.")
NOISE_FLOOR = _limit("noise-floor", -55, "dBV", "At the amplifier's input, a steady whine above this is heard between notes.")
THIRSTY_DRAW = _limit("thirsty-draw", 0.1, "A", "From here on a digital device's own current is enough to be heard.")
LOUD_GAIN = _limit("loud-gain", 15, "dB", "From here on a pedal turns its neighbours' noise up.")
BEAT_LOW = _limit("beat-low", 20, "Hz", "The lowest beat that is heard.", "the usual limit of hearing")
BEAT_HIGH = _limit("beat-high", 15_000, "Hz", "The highest beat that most people hear.", "the usual limit of hearing, at adult age")
BEAT_ORDER = _limit("beat-order", 3, "", "Harmonics above the third are weak.")

# --- battery-loving fuzzes ----------------------------------------------------------------------------------------

TIRED_BATTERY = _limit("tired-battery", 50, "Ω", "From here on a source is soft enough to be felt.")
TIRED_VOLTS = _limit("tired-volts", 9.0, "V", "Below this an outlet is turned down on purpose.")

# --- heat ---------------------------------------------------------------------------------------------------------

CASE_TEMPERATURE = _limit("case-temperature", 60, "°C", "Above it supplies begin to protect themselves by switching off.")
CONVECTION = _limit(
    "convection", 10, "W/m²K", "Heat that a surface in still air gives off, radiation included.",
    "order of magnitude in heat-transfer handbooks: 5 to 25 for free convection in air",
)  # fmt: skip
UNDER_DECK = _limit("under-deck", 0.5, "", "Share of the surface that still cools below a closed deck.")
SHUT_IN = _limit("shut-in", 0.3, "", "Share of the surface that still cools in foam or a bag.")
SHUT_IN_LOAD = _limit("shut-in-load", 0.70, "%", "Above this load a supply wants moving air.")
SMALL_SUPPLY = _limit("small-supply-surface", 0.0216, "m²", "Outer surface of a supply whose size is not stated: 100 by 60 by 30 mm, a small one.")
HOME_AMBIENT = _limit("home-ambient", 25, "°C", "Air in a room, where none is stated.")
STAGE_AMBIENT = _limit("stage-ambient", 35, "°C", "Air on a stage under lights, where none is stated.")
SWITCH_MODE_EFFICIENCY = _limit("switch-mode-efficiency", 0.80, "%", "A switch-mode supply that states none.")
LINEAR_EFFICIENCY = _limit("linear-efficiency", 0.50, "%", "A transformer with linear regulators that states none.")
