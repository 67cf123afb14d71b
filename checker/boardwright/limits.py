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

    @property
    def is_judgement(self) -> bool:
        """Whether people who know the trade could put it elsewhere: nothing from outside gives the figure itself."""
        return any(word in self.source for word in _JUDGEMENT)


_JUDGEMENT = ("judgement", "practice", "bench", "typical", "hobby", "order of magnitude", "our own", "no standard", "usual cable", "for the lifting")
"""Words by which a source says that it gives no figure, or only about how much."""

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
CONVERTER_EFFICIENCY = _limit("converter-efficiency", 0.85, "%", "A converter that states none.")

# --- noise --------------------------------------------------------------------------------------------------------

RIPPLE_SHARE = _limit("ripple-share", 0.05, "%", "Audio-band ripple in the current of a digital or clocked device that states none.")
SHARED_RETURN = _limit("shared-return", 0.05, "Ω", "The return that two devices share: about 0.3 m of 24 AWG and its contacts.")
SCREEN_PATH = _limit("screen-path", 0.04, "Ω", "The audio screens beside it, which carry a part of the same current.")
NOISE_FLOOR = _limit("noise-floor", -55, "dBV", "At the amplifier's input, a steady whine above this is heard between notes.")
LOUDEST = _limit("loudest", 10, "dBV", "About the most that a pedal on 9 V can give, whatever its gain.", "physics: half of the supply, as a sine")
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

# --- layout: boxes, plugs, feet, lids ----------------------------------------------------------------------------------

PLACE_SLACK = _limit("place-slack", 0.001, "m", "Places are written to the millimetre, and boxes are made no better.")
COMPACT_WIDTH = _limit("compact-width", 0.070, "m", "Width of a box whose size is not stated.")
COMPACT_DEPTH = _limit("compact-depth", 0.120, "m", "Depth of a box whose size is not stated.")
COMPACT_HEIGHT = _limit("compact-height", 0.055, "m", "Height of a box whose size is not stated.")
TREADLE_WIDTH = _limit("treadle-width", 0.100, "m", "Width of a wah, volume or expression pedal whose size is not stated.")
TREADLE_DEPTH = _limit("treadle-depth", 0.250, "m", "Depth of such a treadle.")
TREADLE_HEIGHT = _limit("treadle-height", 0.080, "m", "Height of such a treadle.")
TRAVEL_FRONT = _limit("treadle-travel-front", 0.020, "m", "A heel hangs over the front of a treadle.")
TRAVEL_BEHIND = _limit("treadle-travel-behind", 0.040, "m", "A shoe's toe reaches beyond a treadle when it is pushed down.")
TRAVEL_SIDE = _limit("treadle-travel-side", 0.010, "m", "Room for the edge of a shoe beside a treadle.")
SHELF_CLEAR = _limit("shelf-clear", 0.005, "m", "Air between a box and the underside of a shelf above it.")
DECK_THICKNESS = _limit("deck-thickness", 0.012, "m", "A deck whose thickness is not stated.")
OVERHANG = _limit("overhang", 0.010, "m", "A foot of a box still grips the deck if its edge stands out no further.")
BASE_ON_DECK = _limit("base-on-deck", 0.80, "%", "What holds a box down holds only where there is deck below it.")

PLUG_FLAT = _limit(
    "plug-flat", 0.014, "m",
    "A flat plug stands out this far, its cable included.", "typical plugs, measured on a bench; measure yours",
)  # fmt: skip
PLUG_ANGLED = _limit("plug-angled", 0.022, "m", "An angled plug.", "typical plugs, measured on a bench; measure yours")
PLUG_STRAIGHT = _limit(
    "plug-straight", 0.060, "m",
    "A straight plug, without the bend of its cable.", "typical plugs, measured on a bench; measure yours",
)  # fmt: skip
PLUG_BEND = _limit("plug-bend", 3, "", "Behind a straight plug the cable takes this many of its diameters to turn.")
PLUG_WIDTH = _limit("plug-width", 0.015, "m", "How broad the body of an audio plug is.", "typical plugs, measured on a bench; measure yours")
DC_ANGLED = _limit("dc-plug-angled", 0.012, "m", "An angled power plug.", "typical plugs, measured on a bench; measure yours")
DC_STRAIGHT = _limit(
    "dc-plug-straight", 0.038, "m",
    "A straight power plug with the bend of its lead.", "typical plugs, measured on a bench; measure yours",
)  # fmt: skip
DC_WIDTH = _limit("dc-plug-width", 0.011, "m", "How broad the body of a power plug is.", "typical plugs, measured on a bench; measure yours")
PLUG_TRAVEL = _limit(
    "plug-travel", 0.030, "m",
    "An audio plug must be drawn back this far before it is out.", "length of a 6.35 mm phone plug, IEC 60603-11",
)  # fmt: skip
PLUG_OUT = _limit("plug-out", 0.003, "m", "What a bare socket's nut needs between it and a wall.")
LID_CLEAR = _limit("lid-clear", 0.005, "m", "A lid and what it holds bend by a few millimetres under a knee.")
FASTENER = _limit("fastener-thickness", 0.006, "m", "Two layers of hook-and-loop, closed.")
KNOB_RISE = _limit("knob-rise", 0.015, "m", "How far knobs stand above a box that does not say.")

SWITCH_FAULT = _limit("switch-spacing-fault", 0.050, "m", "Nearer than that, one shoe covers both.")
SWITCH_RISK = _limit("switch-spacing-risk", 0.065, "m", "A shoe's edge presses up to 30 mm beside where it was aimed.")
SWITCH_ADVICE = _limit(
    "switch-spacing-advice", 0.075, "m", "Half the breadth of a big man's shoe, a switch cap, and a little to spare come to 72 mm.",
    "worked out from foot breadth, 95th percentile of men 111 mm (ANSUR II, NATICK/TR-15/007) and 10 mm for a street shoe; "
    "no standard for stage footswitches",
)  # fmt: skip
SWITCH_FRONT = _limit("switch-from-front", 0.025, "m", "Where a footswitch is from the front of its box, in the middle of its width.")
SAME_ROW = _limit("same-row", 0.040, "m", "Switches whose distance from the front differs by less are in one row.")
REACH_STANDING = _limit("reach-standing", 0.350, "m", "As far as a standing player's toe comes with the heel on the floor.")
REACH_SITTING = _limit("reach-sitting", 0.280, "m", "As far as a sitting player's toe comes.")
REACH_RISE = _limit("reach-rise", 0.030, "m", "A row raised this far lets the foot come from above.")
TOE_ROOM = _limit("toe-room", 0.090, "m", "A toe comes down over what stands nearer than this in front of a switch.")
SHOE_BREADTH = _limit(
    "shoe-breadth", 0.112, "m", "A shoe of the middle size.",
    "foot breadth, 50th percentile of men 102 mm (ANSUR II, NATICK/TR-15/007), and 10 mm for a street shoe",
)  # fmt: skip
TALLER_BY = _limit("taller-by", 0.005, "m", "What stands in front may be this much higher before a toe minds.")
FINGER_ROOM = _limit("finger-room", 0.030, "m", "Two fingers and the thing they hold.")
HAND_HEIGHT = _limit("hand-height", 0.060, "m", "A hand under a shelf.")

HOOK_NEW = _limit(
    "hook-and-loop-new", 60e3, "Pa",
    "What clean new hook-and-loop holds, pulled straight off.", "order of magnitude, bench; pull yours",
)  # fmt: skip
HOOK_AGED = _limit("hook-and-loop-aged", 20e3, "Pa", "What it holds after some years of dust: a third.", "order of magnitude, bench; pull yours")
SHOCK_CAR = _limit("shock-car", 10, "", "A case set down hard, or a car boot: so many times its own weight.")
SHOCK_VAN = _limit("shock-van", 25, "", "A case that falls from a van or a baggage belt: so many times its own weight.")
BASE_FASTENED = _limit("base-fastened", 0.60, "%", "The part of a base that is usually covered with hook-and-loop.")
HANGING_WEIGHT = _limit("hanging-weight", 300, "g", "What hangs below a deck and weighs more wants a bracket.")
WEIGHT_COMPACT = _limit("weight-compact", 350, "g", "A box that does not state its weight.")
WEIGHT_DOUBLE = _limit("weight-double", 800, "g", "A box of 100 mm width or more that does not state its weight.")
WEIGHT_TREADLE = _limit("weight-treadle", 1400, "g", "A treadle that does not state its weight.")
WEIGHT_SUPPLY = _limit("weight-supply", 900, "g", "A supply that does not state its weight.")
DOUBLE_WIDTH = _limit("double-width", 0.100, "m", "From here on a box counts as a double one.")
LIFT_ADVICE = _limit(
    "lift-advice", 16_000, "g",
    "What one person lifts easily from knee height, close to the body.", "national guidance on manual handling; from memory",
)  # fmt: skip
LIFT_RISK = _limit("lift-risk", 25_000, "g", "The most for one person.", "reference mass of ISO 11228-1; from memory")
WHEELS_FROM = _limit("wheels-from", 20_000, "g", "From here on a case wants wheels.")
FLIGHT_ADVICE = _limit("flight-advice", 23_000, "g", "Heavier baggage is charged for.", "airline practice")
FLIGHT_FAULT = _limit("flight-fault", 32_000, "g", "Heavier baggage is refused.", "airline practice")
LIFT_REACH = _limit("lift-reach", 0.30, "m", "A case is held this far in front of the ankles.", "for the lifting equation of NIOSH 94-110")
LIFT_HEIGHT = _limit("lift-height", 0.05, "m", "Its handle is this high when it lies on the floor.", "for the lifting equation of NIOSH 94-110")
LIFT_TRAVEL = _limit("lift-travel", 0.70, "m", "It is lifted this far, onto a van's floor.", "for the lifting equation of NIOSH 94-110")
BALANCE_THIRD = _limit("balance-third", 1 / 3, "%", "A case hangs level if it balances within the middle third of its handle's side.")
BALANCE_TIP = _limit(
    "balance-tip", 0.25, "%",
    "Stood on its long edge, a case leans when it balances further than this from the middle of its height.",
)  # fmt: skip
BALANCE_KNOWN = _limit("balance-known", 0.90, "%", "How much of the weight must have a place before the balance is judged.")
BRACKET = _limit("bracket", 0.003, "m", "A bracket that holds a supply below the deck.")
SUPPLY_AIR = _limit("supply-air", 0.003, "m", "Air between a hanging supply and the floor.")
OUTLET_ROOM = _limit("outlet-room", 0.035, "m", "Room for power plugs in front of a supply's outlets.")
INLET_ROOM = _limit("inlet-room", 0.090, "m", "Room for a mains connector in front of a supply's inlet.")
SUPPLY_WIDTH = _limit("supply-width", 0.160, "m", "Width of a supply below the deck whose size is not stated.")
SUPPLY_DEPTH = _limit("supply-depth", 0.080, "m", "Depth of such a supply.")
SUPPLY_HEIGHT = _limit("supply-height", 0.040, "m", "Height of such a supply.")

# --- routing: leads and the ways they take ---------------------------------------------------------------------------

BESIDE_MAINS = _limit("beside-mains", 0.100, "m", "Sound and mains nearer than this hear each other.")
BESIDE_MAINS_LENGTH = _limit("beside-mains-length", 0.300, "m", "For as long as this it is heard.")
BESIDE_AC = _limit("beside-low-ac", 0.050, "m", "The same for low-voltage AC.")
BESIDE_AC_LENGTH = _limit("beside-low-ac-length", 0.200, "m", "For as long as this it is heard: its currents are larger.")
BESIDE_DC = _limit("beside-dc", 0.020, "m", "The same for the power leads of digital pedals.")
BESIDE_DC_LENGTH = _limit("beside-dc-length", 0.300, "m", "For as long as this it may be heard.")
BESIDE_DATA = _limit("beside-data", 0.020, "m", "The same for MIDI, USB and control leads.")
BESIDE_DATA_LENGTH = _limit("beside-data-length", 0.500, "m", "For as long as this it may be heard.")
PARALLEL_ANGLE = _limit("parallel-angle", 30, "°", "At less than this, two leads count as side by side.")
SQUARE_ANGLE = _limit("square-angle", 60, "°", "At more than this, a crossing counts as square.")
COUPLING_FLOOR = _limit("coupling-floor", -60, "dBV", "At the amplifier's input, what a neighbour puts into a lead is heard above this.")
PAIR_SPACING = _limit("pair-spacing", 0.003, "m", "From the middle of one conductor to the other in a power lead.")
MAINS_SPACING = _limit("mains-spacing", 0.005, "m", "The same in a mains cord.")
SIGNAL_SPACING = _limit("signal-spacing", 0.002, "m", "Hot conductor and screen of a signal lead are not quite around one middle.")
MAINS_CURRENT = _limit("mains-current", 0.5, "A", "Current in a mains cord that states none.")
AC_CURRENT = _limit("low-ac-current", 0.5, "A", "Current in a low-voltage AC lead that states none.")
RIPPLE_CURRENT = _limit("ripple-current", 0.02, "A", "Ripple in a power lead that states none.")
RIPPLE_FREQUENCY = _limit("ripple-frequency", 5_000, "Hz", "Where the ripple of digital pedals is heard best.")
FIELD_LAMINATED = _limit(
    "field-laminated", 0.200, "m",
    "Distance from a transformer on a plain iron core.", "physics: a dipole's field; order of magnitude",
)  # fmt: skip
FIELD_TOROID = _limit("field-toroid", 0.100, "m", "Distance from a ring-core transformer.", "physics: a dipole's field; order of magnitude")
FIELD_SWITCH_MODE = _limit("field-switch-mode", 0.050, "m", "Distance from a switch-mode supply.", "physics: a dipole's field; order of magnitude")
FIELD_AT = _limit("field-at", 0.100, "m", "Where the stray fields below were taken.")
FIELD_OF_LAMINATED = _limit("field-of-laminated", 20e-6, "T", "Stray field of a plain iron core there.", "order of magnitude, bench")
FIELD_OF_TOROID = _limit("field-of-toroid", 3e-6, "T", "Stray field of a ring core there.", "order of magnitude, bench")
HEAVY_SUPPLY = _limit("heavy-supply", 800, "g", "A supply that weighs more and does not state its kind probably holds iron.")
PLUG_ENTRY = _limit("plug-entry", 0.015, "m", "What each plug takes before its lead can bend.")
LEAD_SLACK = _limit("lead-slack", 0.05, "%", "A lead that lies easily is this much longer than its way.")
SERVICE_SLACK = _limit("service-slack", 0.040, "m", "What each end needs so that the box can be lifted and unplugged.")
LEAD_TOO_LONG = _limit("lead-too-long", 1.5, "", "A lead so many times longer than wanted is in the way.")
LEAD_TOO_LONG_BY = _limit("lead-too-long-by", 0.100, "m", "And this much longer besides.")
LENGTH_STEP = _limit("length-step", 0.010, "m", "Leads are sold in steps of this.")
CUT_STEP = _limit("cut-step", 0.005, "m", "Cables are cut in steps of this, never shorter.")
STRIP_SOLDERED = _limit("strip-soldered", 0.010, "m", "What stripping takes from each end that is soldered or screwed.")
STRIP_CRIMPED = _limit("strip-crimped", 0.012, "m", "What stripping takes from each end with a crimped sleeve.")
CUT_SPARE = _limit("cut-spare", 0.05, "%", "Cable to buy beyond the cuts: one cut in twenty goes wrong.")
PLUG_SPARE = _limit("plug-spare", 0.10, "%", "Plugs to buy beyond the ends.")
OD_AUDIO = _limit("od-audio", 0.005, "m", "Diameter of an audio cable that states none.")
OD_DC = _limit("od-dc", 0.003, "m", "Diameter of a power lead that states none.")
OD_MAINS = _limit("od-mains", 0.007, "m", "Diameter of a mains cord that states none.")
OD_DATA = _limit("od-data", 0.005, "m", "Diameter of a MIDI, USB or control lead that states none.")
BEND_FIXED = _limit(
    "bend-fixed", 4, "", "Inside radius of a bend that stays as it is, in diameters of the cable.",
    "cable handbooks: 4 for unscreened power and control cable (ICEA-type tables), more for some screened ones",
)  # fmt: skip
BEND_FLEXED = _limit(
    "bend-flexed", 8, "",
    "Inside radius of a bend that moves, in diameters of the cable.", "cable handbooks: 8 to 10 for cable that moves",
)  # fmt: skip
PLUG_STRAIGHT_PART = _limit("straight-behind-plug", 2, "", "Diameters of cable that stay straight behind a plug.")
TIE_FIRST = _limit("tie-first", 0.080, "m", "From a plug to the first place that holds its lead.")
TIE_SPAN = _limit("tie-span", 0.200, "m", "From one such place to the next; shorter leads need none.")
PLUG_BODY = _limit("plug-body", 0.018, "m", "Diameter of an audio plug's body.", "typical plugs, 15 to 20 mm; measure yours")
DC_BODY = _limit("dc-plug-body", 0.011, "m", "Diameter of a power plug's body.", "typical plugs; measure yours")
DIN_BODY = _limit("din-body", 0.018, "m", "Diameter of a DIN plug's body.", "typical plugs, 15 to 18 mm; measure yours")
XLR_BODY = _limit("xlr-body", 0.020, "m", "Diameter of an XLR plug's body.", "typical plugs, 19 to 20 mm; measure yours")
USB_BODY = _limit("usb-body", 0.016, "m", "Breadth of a USB plug's body.", "typical plugs; measure yours")
IEC_BODY = _limit("iec-body", 0.028, "m", "Breadth of a mains connector's body.", "typical connectors, 28 mm and more; measure yours")
HOLE_CLEAR = _limit("hole-clear", 0.001, "m", "Air between a plug and the hole it is pushed through.")
HOLE_NEAR = _limit("hole-near", 0.010, "m", "A drawn way that comes this near to a hole's edge passes the hole.")
HOLE_FILL = _limit("hole-fill", 0.50, "%", "How much of a hole cables may fill.")
HOT_BESIDE = _limit("hot-beside", 0.015, "m", "A loud lead nearer than this to the quiet lead that feeds it may squeal.")
HOT_BESIDE_LENGTH = _limit("hot-beside-length", 0.150, "m", "For as long as this.")
HOT_GAIN = _limit("hot-gain", 50, "dB", "With as much gain as this in between.")
BRAID_LEAK = _limit("braid-leak", 0.01e-12, "F/m", "Capacitance that a good braid leaves between two hot conductors.", "order of magnitude, bench")
WIRE_RADIUS = _limit("wire-radius", 0.0005, "m", "Radius of the hot conductor of a signal lead.")
SQUEAL = _limit("squeal", 20_000, "Hz", "The highest frequency at which a squeal is looked for.", "the usual limit of hearing")

# --- sound: states of switches, time and polarity -------------------------------------------------------------------

STATE_NODES = _limit(
    "state-nodes", 100_000, "", "How big the sets of switch states may get, before the answer is that it cannot be told.",
    "our own bound: about a second of work",
)  # fmt: skip
ROUTE_STEPS = _limit(
    "route-steps", 300_000, "", "In how many steps copies are followed on one board, from all its partings, before the answer is that it cannot be told.",
    "our own bound: about a second of work",
)  # fmt: skip
DELAY_HORIZON = _limit("delay-horizon", 0.05, "s", "Copies later than this are heard as echoes, and are not followed further.")
SAME_TIME = _limit("same-time", 1e-3, "s", "How far apart two amplifiers may be in time where a promise does not say: 34 cm of air.")

# --- earth and hum ------------------------------------------------------------------------------------------------

EARTH_DIFFERENCE = _limit(
    "earth-difference", 0.02, "V", "Between the earths of two outlets of one circuit, in an ordinary room.",
    "order of magnitude, bench",
)  # fmt: skip
EARTH_DIFFERENCE_CIRCUITS = _limit("earth-difference-circuits", 0.1, "V", "The same between two circuits.", "order of magnitude, bench")
EARTH_WAY = _limit("earth-way", 0.3, "Ω", "From one amplifier to the other through two mains cords and the wall.", "order of magnitude, bench")
SCREEN_RESISTANCE = _limit(
    "screen-resistance", 0.025, "Ω/m", "The screen of an ordinary instrument lead.",
    "order of magnitude; audio coax with a heavy screen has a third of it (Handbook for Sound Engineers, p. 1217)",
)  # fmt: skip
SCREEN_CONTACTS = _limit("screen-contacts", 0.02, "Ω", "The two contacts of a screen.", "order of magnitude, bench")
RIG_LEAD = _limit("rig-lead", 5.0, "m", "A lead to an amplifier or computer that states no length.")
BOARD_LEAD = _limit("board-lead", 0.3, "m", "A lead between two boxes that states no length.")
LOOP_WIDTH = _limit("loop-width", 0.3, "m", "How far a lead on a floor lies from the mains cord that closes its loop.")
ROOM_FIELD = _limit(
    "room-field", 0.1e-6, "T", "Magnetic field at the mains frequency, in the middle of a room.",
    "mean of homes, World Health Organization, as quoted; near appliances many times more",
)  # fmt: skip
GUITAR_SIGNAL = _limit("guitar-signal", 0.1, "V", "A guitar that is played, for comparison.")
HUM_FREQUENCY = _limit("hum-frequency", 50, "Hz", "Mains frequency for estimates of hum where the place does not say.")
SOFT_BOND = _limit("soft-bond", 10, "Ω", "From here on a bond to earth counts as soft: it lets little loop current through.")
RING_FLOOR = _limit("ring-floor", -60, "dBV", "At the amplifier's input, what a transformer puts into a ring of leads is heard above this.")
RING_RETURN = _limit("ring-return", 0.1, "Ω", "The power leads of a ring on the board, there and back.", "order of magnitude, bench")
ISOLATOR_SOURCE = _limit("isolator-source", 5_000, "Ω", "A transformer wants to be driven from less than this.")
ISOLATOR_INPUT = _limit(
    "isolator-input", 100_000, "Ω", "An isolator with this much input impedance is made to be driven by a pickup, as direct boxes are.",
)  # fmt: skip
ISOLATOR_BASS = _limit("isolator-bass", 80, "Hz", "The lowest note of a guitar, where a core saturates first.", "the open E string, 82.4 Hz")
ISOLATOR_RATED_AT = _limit("isolator-rated-at", 50, "Hz", "The frequency at which the greatest level of an isolator is stated.")
ISOLATOR_DISTANCE = _limit(
    "isolator-distance", 0.150, "m", "Distance of an audio transformer from a mains transformer.",
    "physics: a dipole's field; the step is practice",
)  # fmt: skip

# --- mains --------------------------------------------------------------------------------------------------------

SUPPLY_TOLERANCE = _limit(
    "supply-tolerance", 0.10, "%", "How far a nominal voltage may lie outside what is stated.",
    "IEC 60038, as tabulated by encyclopedias: 230 V give or take a tenth",
)  # fmt: skip
CORE_FLUX = _limit(
    "core-flux", 1.1, "", "Volts over hertz against what a transformer is made for; above it the core saturates and runs hot.",
    "physics; the step is practice",
)  # fmt: skip
MAINS_HEADROOM = _limit("mains-headroom", 0.80, "%", "The usual share of a rating to use for hours.")
POWER_FACTOR = _limit("power-factor", 0.6, "", "Of a simple supply that states its watts only.")
COILED = _limit("coiled", 0.3, "", "Share of its rating that a cord carries while coiled, where the reel is not marked: it cannot lose its heat.")
COUPLER_C14 = _limit("coupler-c14", 10, "A", "A C14 inlet (and C16, C18) that states no rating.", "IEC 60320, as tabulated from AS/NZS 60320.1")
COUPLER_C8 = _limit("coupler-c8", 2.5, "A", "A C8 or C6 inlet that states no rating.", "IEC 60320, as tabulated from AS/NZS 60320.1")
ANY_RATING = _limit(
    "any-rating", 2.5, "A", "Whatever connects amplifiers carries at least this; below it an unknown rating is not asked about.",
    "the smallest earthed coupler of IEC 60320",
)  # fmt: skip
LEAST_MAINS = _limit("least-mains", 100, "V", "The lowest mains voltage in the world.", "country tables; IEC 60038")
MOST_MAINS = _limit("most-mains", 240, "V", "The highest.", "country tables; IEC 60038")
FUSE_MARGIN = _limit("fuse-margin", 1.25, "", "A fuse this much above the steady current does not blow for nothing.")
BLOCKS_IN_ROW = _limit(
    "blocks-in-a-row", 2, "", "Blocks plugged into blocks: from here on a risk.",
    "fire-safety guidance on extension leads; no standard",
)  # fmt: skip
BLOCKS_IN_ROW_DANGER = _limit("blocks-in-a-row-danger", 3, "", "From here on a danger.", "fire-safety guidance on extension leads; no standard")
BLOCK_PITCH = _limit("block-pitch", 0.040, "m", "From outlet to outlet on a block that does not state it.")
ADAPTOR_WEIGHT = _limit("adaptor-weight", 350, "g", "A heavier plug-in supply levers its contacts open.")
ADAPTORS_LOOSE = _limit("adaptors-loose", 3, "", "More plug-in supplies than this, and it matters what they are plugged into.")
EARTH_BOND = _limit(
    "earth-bond", 0.1, "Ω", "From metal to the earth pin, without the cord.",
    "IEC 60335-1, 27.5 (from memory); usual in appliance testing",
)  # fmt: skip
INSULATION = _limit("insulation", 1e6, "Ω", "Between mains and earth, at 500 V dc.", "IEC 60364-6 (from memory)")
FINGER_PROOF = _limit("finger-proof", 2, "", "First digit of the degree of protection that keeps a finger out.", "IEC 60529, IP2X")
RCD_TRIP = _limit("rcd-trip", 0.030, "A", "A residual-current device that protects people trips at this or less.", "IEC 61008 and 61009")
RCD_SHARE = _limit(
    "rcd-share", 0.3, "%", "Share of its trip current that leakage may use up before it trips for nothing.",
    "BS 7671:2018, 531.3.2 (clause known, text not seen)",
)  # fmt: skip
LEAKAGE_SWITCH_MODE = _limit("leakage-switch-mode", 0.5e-3, "A", "A switch-mode supply of class II that states none.")
LEAKAGE_CLASS_ONE = _limit(
    "leakage-class-one", 0.75e-3, "A", "An audio unit of class I that states none; the standards allow up to 3.5 mA.",
    "IEC 60950 table 5A gives 0.75 mA and 3.5 mA, as quoted",
)  # fmt: skip
LEAKAGE_CLASS_TWO = _limit("leakage-class-two", 0.25e-3, "A", "An amplifier of class II that states none.", "IEC 60950 table 5A, as quoted")
TOUCH_VOLTS = _limit(
    "touch-volts", 25, "V", "Between two things that a player touches at once: above this, a danger.",
    "IEC 60364, the lower limit for wet and special places (from memory)",
)  # fmt: skip
TOUCH_EXPECTED = _limit("touch-expected", 1, "V", "What a meter shows there when all is well.")

# --- copies of one sound, presets, levels ---------------------------------------------------------------------------

COMB_ELECTRICAL = _limit(
    "comb-electrical", 0.1e-3, "s", "Added in a box, the first notch then lies at 5 kHz, inside a guitar speaker's range.",
    "physics; the bound is practice",
)  # fmt: skip
COMB_AIR = _limit("comb-air", 1e-3, "s", "Between two amplifiers this is 34 cm of air: below it, where they stand matters more.", "physics: 343 m/s")
COMB_LEVEL = _limit("comb-level", 10, "dB", "A copy so much softer makes notches of 3 dB at most.", "physics: 20 log(1 − g)")
COMB_EFFECT = _limit("comb-effect", 20e-3, "s", "Later than this it is heard as an echo, and meant.")
POLARITY_TIME = _limit("polarity-time", 5e-3, "s", "Copies further apart no longer cancel in the bass as a whole.")
PRESET_JUMP = _limit("preset-jump", 6, "dB", "A step that an audience notices.")
HIGH_GAIN = _limit("high-gain", 35, "dB", "From here on a stage smears whatever echoes run into it.")
DRY_COPY_LATE = _limit("dry-copy-late", 0.3e-3, "s", "A copy that is less late is as good as at once.")
CABLE_CAPACITANCE = _limit(
    "cable-capacitance", 100e-12, "F/m", "Instrument cable that states none.",
    "between the 56 pF/m of a low-capacitance cable in the Handbook for Sound Engineers, p. 1217, and usual cable: 50 to 150",
)  # fmt: skip
BYPASS_CAPACITANCE = _limit("bypass-capacitance", 30e-12, "F", "Wires and switch of a true-bypassed pedal.")
INPUT_CAPACITANCE = _limit("input-capacitance", 20e-12, "F", "The input of an engaged pedal or an amplifier.")
PICKUP_CABLE_ADVICE = _limit("pickup-cable-advice", 700e-12, "F", "Seven metres of usual cable: the first thing that an ear beside it notices.")
PICKUP_CABLE_RISK = _limit(
    "pickup-cable-risk", 1000e-12, "F",
    "Against a plain 5 m lead it costs about 6 dB at 5 kHz, and lowers the resonance by about five semitones.", "physics; the bound is practice",
)  # fmt: skip
TONE_SHIFT_ADVICE = _limit("tone-shift-advice", 4, "dB", "A change in treble that a player hears.")
TONE_SHIFT_RISK = _limit("tone-shift-risk", 8, "dB", "A change that an audience hears.")
BRIDGING_GOOD = _limit(
    "bridging-good", 10, "", "A load of ten times the source costs 0.8 dB.", "voltage bridging as every handbook gives it: at least ten times; IEC 61938",
)  # fmt: skip
BRIDGING_POOR = _limit("bridging-poor", 3, "", "A load of three times the source costs 2.5 dB.", "physics: the divider")
PICKUP_LOAD_GOOD = _limit("pickup-load-good", 220e3, "Ω", "Below this a magnetic pickup's resonance is damped to be heard.")
PICKUP_LOAD_POOR = _limit("pickup-load-poor", 100e3, "Ω", "Below this its resonance is gone.")
PIEZO_LOAD = _limit("piezo-load", 1e6, "Ω", "Below this a piezo loses its bass.", "physics: 1/(2π·R·C) with about 1 nF")
PIEZO_CAPACITANCE = _limit("piezo-capacitance", 1e-9, "F", "A piezo pickup.")
LOW_IMPEDANCE = _limit("low-impedance", 50e3, "Ω", "An input below this leans on what feeds it, as old fuzzes do.")
WAH_SOURCE = _limit("wah-source", 5e3, "Ω", "From here on a wah's output has no buffer of its own.")
BUFFERS = _limit("buffers", 6, "", "More stages than this that are always on can be heard together.")
BUFFER_NOISE = _limit("buffer-noise", 3e-6, "V", "Hiss of one buffer, over the audio band.")
HISS_FLOOR = _limit("hiss-floor", -60, "dBV", "At the amplifier's output of gain, hiss above this is heard between notes.")
VOLUME_HIGH = _limit("volume-high", 200e3, "Ω", "From here on a volume pedal is of the high kind, made for a pickup.")
VOLUME_TREBLE = _limit("volume-treble", 5e3, "Hz", "Half turned down, a volume pedal and its cable should not roll off below this.")
LEVEL_HOT = _limit("level-hot", 10, "dB", "A source this much above what an input is made for distorts it.")
LEVEL_WEAK = _limit("level-weak", -15, "dB", "A source this much below leaves mostly hiss.")
LEVEL_SOFT = _limit("level-soft", -10, "dB", "A source this much below what a return is made for drives the amplifier too little.")
RAIL_LOSS = _limit("rail-loss", 2, "V", "What a stage cannot use of its supply.")
PICKUP_PEAK = _limit("pickup-peak", 0.6, "V", "Peak of a guitar played hard, where none is stated.", "hobby measurements: up to about 1 V for humbucker chords")
MIDI_DEPTH = _limit(
    "midi-depth", 4, "", "Hops of hardware thru: each may shift an edge by 2 µs of a 32 µs bit.",
    "MIDI 1.0 electrical specification (IEC 63035), rise and fall below 2 µs",
)  # fmt: skip
MIDI_SOFT = _limit("midi-soft", 2e-3, "s", "What a processor takes to hand a message on: 1 to 3 ms.")
MIDI_LATE = _limit("midi-late", 5e-3, "s", "Later than this, clock and tapped tempo drag.")
MIDI_LENGTH = _limit("midi-length", 15, "m", "The longest MIDI lead.", "MIDI 1.0: 50 feet")
SPEAKER_POWER = _limit("speaker-power", 10, "W", "From here on an instrument lead is too thin for a loudspeaker.")

# --- building: readings, labels, spares -------------------------------------------------------------------------------

READING_VOLTS = _limit("reading-volts", 0.05, "%", "An outlet and a cheap meter agree this well; further off, one of them is not what its label says.")
READING_CURRENT = _limit("reading-current", 0.25, "%", "Labels give typical draws; further off, the box is not doing what it should.")
NOT_STARTED = _limit("not-started", 0.5, "%", "Below this share of its draw a box has probably not started.")
READING_LEAD = _limit("reading-lead", 0.5, "Ω", "Above what the wire itself has, after taking away the meter's own leads.")
READING_OPEN = _limit("reading-open", 10e6, "Ω", "From tip to sleeve of a lead with nothing plugged in; less is dirt, damp or a whisker of braid.")
READING_JOINED = _limit("reading-joined", 1, "Ω", "Grounds that metal joins show less than this.")
READING_APART = _limit("reading-apart", 1e6, "Ω", "Grounds that are kept apart show more than this, with every mains plug pulled.")
READING_LATENCY = _limit("reading-latency", 0.5e-3, "s", "How well two recorded clicks are told apart by eye.")
LABEL_FROM = _limit("label-from", 0.200, "m", "A shorter lead shows both its ends at a glance.")

# --- hunting a fault ------------------------------------------------------------------------------------------------

JUDGEMENT = "judgement, no source"

SUSPECT_GUITAR_LEAD = _limit("suspect-guitar-lead", 6, "", "Trodden on, and pulled by a person who walks.", JUDGEMENT)
SUSPECT_AMP_LEAD = _limit("suspect-amp-lead", 5, "", "Long, rolled up every night, and lies where people walk.", JUDGEMENT)
SUSPECT_CLAMPED_PATCH = _limit("suspect-clamped-patch", 6, "", "A patch lead whose plugs are clamped on, without solder.", JUDGEMENT)
SUSPECT_PATCH = _limit("suspect-patch", 4, "", "A patch lead of which nobody says how its plugs are fixed.", JUDGEMENT)
SUSPECT_MOULDED_PATCH = _limit("suspect-moulded-patch", 2, "", "A patch lead with moulded plugs.", JUDGEMENT)
SUSPECT_BOX = _limit("suspect-box", 1, "", "A box's circuit and its sockets.", JUDGEMENT)
SUSPECT_FOOTSWITCH = _limit("suspect-footswitch", 1, "", "Added to a box that a foot can take in and out.", JUDGEMENT)
SUSPECT_SETTING = _limit("suspect-setting", 5, "", "A volume that is down, a mute that is closed, a standby switch.", JUDGEMENT)
SUSPECT_GUITAR = _limit("suspect-guitar", 1, "", "The guitar's own socket and switch.", JUDGEMENT)
SUSPECT_AMP = _limit("suspect-amp", 4, "", "An amplifier, its input socket and its loudspeaker.", JUDGEMENT)
SUSPECT_POWER_LEAD = _limit("suspect-power-lead", 3, "", "A power lead and its plug.", JUDGEMENT)
SUSPECT_BATTERY = _limit("suspect-battery", 5, "", "A battery of unknown age.", JUDGEMENT)
SUSPECT_OUTLET = _limit("suspect-outlet", 1, "", "One outlet of a supply.", JUDGEMENT)
SUSPECT_SUPPLY = _limit("suspect-supply", 1, "", "A supply altogether, its cord, or what feeds it.", JUDGEMENT)
SUSPECT_FOUND = _limit("suspect-found", 20, "", "What the board's own findings explain already.", JUDGEMENT)
POINTED_AT = _limit("pointed-at", 4, "", "How many times as likely it is, if what changes the sound points at it.", JUDGEMENT)
ELSEWHERE_GOOD = _limit("elsewhere-good", 0.1, "%", "Chance that a part is to blame although the sound is right elsewhere by way of it.", JUDGEMENT)
FALSE_PASS = _limit("false-pass", 0.5, "%", "Chance that a fault that comes and goes stays away during a test.", JUDGEMENT)
FALSE_PASS_FLEXED = _limit("false-pass-flexed", 0.1, "%", "The same while the lead is bent and the plugs are tapped.", JUDGEMENT)
HUNT_SURE = _limit("hunt-sure", 0.9, "%", "From this share on, a fault that comes and goes is taken for found.", JUDGEMENT)
TEST_TIME = _limit("test-time", 1, "min", "To move a plug or two, and listen.", JUDGEMENT)
TEST_TIME_CROWDED = _limit("test-time-crowded", 2, "min", "The same where a plug cannot be got at.", JUDGEMENT)
TEST_TIME_MEASURED = _limit("test-time-measured", 2, "min", "To get the meter out and read it.", JUDGEMENT)
TEST_TIME_LOOK = _limit("test-time-look", 0.5, "min", "To look along the board.", JUDGEMENT)
PLUG_REACH = _limit("plug-reach", 0.06, "m", "Room beside a box for a hand to pull a plug.", JUDGEMENT)
ACCESS_RUN = _limit("access-run", 6, "", "Boxes in a row without a place where fingers get at the sound.")

# --- upkeep ---------------------------------------------------------------------------------------------------------

BATTERY_CHARGE = _limit(
    "battery-charge", 0.5, "Ah", "A fresh 9 V alkaline block, at up to 20 mA.", "data sheets of alkaline 6LR61 blocks, 500 to 600 mAh (from memory)"
)
BATTERY_LIGHT = _limit("battery-light", 20e-3, "A", "Up to this current a block gives all of its charge.", "as the charge")
BATTERY_HEAVY = _limit("battery-heavy", 100e-3, "A", "At this current it gives half.", "as the charge")
UPKEEP_TOUR = _limit("upkeep-tour", 92, "days", "Between two looks at leads, fasteners and jacks on stage and on tour: three months.")
UPKEEP_HOME = _limit("upkeep-home", 365, "days", "The same at home: a year.")
UPKEEP_FANS = _limit("upkeep-fans", 184, "days", "Between two cleanings of fans and vents: six months.")
MAINS_TEST = _limit(
    "mains-test", 365, "days", "Between two tests of what has a mains cord, by a qualified person: a year, where no rule of the country says otherwise."
)
NEXT_SHOW = _limit("next-show", 4, "h", "What a battery must still last for: one show with its sound check.")
