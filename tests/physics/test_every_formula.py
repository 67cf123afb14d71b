"""What must hold for every public formula: it explains itself, needs nothing, and answers anything without a crash."""

import ast
import importlib
import inspect
import math
import pkgutil
import re
import typing
from collections.abc import Hashable, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import boardwright.physics
from boardwright.physics.dc import Lead, Load
from boardwright.physics.inductance import Filament
from boardwright.physics.pickup import Pickup
from boardwright.physics.sources import Source

MODULES = [importlib.import_module(f"boardwright.physics.{found.name}") for found in pkgutil.iter_modules(boardwright.physics.__path__)]
# Needed because this code also runs in the browser, where every further import costs loading time.
ALLOWED_IMPORTS = {"math", "cmath", "collections.abc", "typing", "itertools"}

FORMULAS = {
    f"{module.__name__.rpartition('.')[2]}.{name}": function
    for module in MODULES
    for name, function in vars(module).items()
    if inspect.isfunction(function) and function.__module__ == module.__name__ and not name.startswith("_")
    if not module.__name__.endswith("._inputs")
}
RECORDS = {
    record.__name__: record
    for module in MODULES
    for record in vars(module).values()
    if inspect.isclass(record) and record.__module__ == module.__name__ and not record.__name__.startswith("_")
}


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_imports_nothing_but_mathematics(module):
    for node in ast.walk(ast.parse(inspect.getsource(module))):
        if isinstance(node, ast.Import):
            assert {alias.name for alias in node.names} <= ALLOWED_IMPORTS
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 1 or node.module in ALLOWED_IMPORTS


def section(doc, heading):
    found = re.search(rf"^{heading}:\n((?:    .*\n?|\n)+)", doc, re.MULTILINE)
    assert found, f"no section {heading}"
    return found.group(1)


@pytest.mark.parametrize("name", FORMULAS)
def test_says_what_goes_in_what_comes_out_and_where_it_is_from(name):
    function = FORMULAS[name]
    doc = inspect.getdoc(function)
    arguments = section(doc, "Args")
    hints = typing.get_type_hints(function)
    for parameter in inspect.signature(function).parameters:
        described = re.search(rf"^    {parameter}: ((?:.+\n?)(?:        .+\n?)*)", arguments, re.MULTILINE)
        assert described, f"{parameter} is not described"
        if hints[parameter] not in (bool,) and "unit" not in described.group(1):
            assert re.search(r"\[.+\]|AWG number", described.group(1)), f"{parameter} has no unit"
    returns = section(doc, "Returns")
    assert "[" in returns or "unit" in returns, "the answer has no unit"
    assert "ValueError:" in section(doc, "Raises")
    assert section(doc, "Source").strip()


@pytest.mark.parametrize("name", RECORDS)
def test_records_describe_every_field(name):
    doc = inspect.getdoc(RECORDS[name])
    for field in RECORDS[name]._fields:
        assert re.search(rf"^    {field}: .+", doc, re.MULTILINE), f"{field} is not described"


# One good call of each formula.
A_SOURCE, A_PICKUP = Source(9, 0.3), Pickup(2.5, 6e3, 1e-10)
A_RUN, ANOTHER_RUN = Filament((0, 0, 0), (1, 0, 0)), Filament((0, 0, 1), (1, 1, 1))
GOOD_CALLS = {
    "balance.centre_of_gravity": ([1, 2], [(0, 0), (1, 1)]),
    "balance.tip_angle": (0.05, 0.2),
    "battery.two_pulse_resistance": (0.005, 1.485, 0.505, 1.378),
    "battery.voltage_drop_resistance": (9, 8, 100),
    "battery.terminal_voltage": (9, 2, 100),
    "battery.running_time": (2000, 0.01),
    "comb.response": (1e3, 1e-3, 6, False),
    "comb.notches": (1e-3, 3, False),
    "comb.ripple": (6,),
    "comb.air_delay": (0.1,),
    "coupling.capacitive_voltage": (50, 1e-11, 1e5, 230),
    "coupling.capacitive_current": (50, 1e-11, 230),
    "coupling.wire_capacitance": (0.01, 0.001),
    "coupling.earth_loop_voltage": (1e-3, 1e-2, 0.1, 0.3),
    "dc.operating_point": (A_SOURCE, [Lead("a", 0.1, [Load(power=1)])]),
    "dc.constant_power_voltage": (A_SOURCE, 4.5),
    "fields.loop_emf": (50, 1, 1e-6, 1, 0.3),
    "fields.step_emf": (1, 0.2, 0.1, 1),
    "fields.dipole_field": (0.2, 20e-6, 0.1),
    "fields.long_wire_field": (1, 0.1),
    "fields.pair_field": (1, 0.005, 0.05),
    "heat.conversion_loss": (24, 0.8),
    "heat.box_area": (0.2, 0.1, 0.05),
    "heat.temperature_rise": (5, 0.05, 10, 0.5),
    "impedance.parallel": (1e3, 2e3),
    "impedance.bridging_loss": (1e3, 1e4),
    "impedance.rc_corner": (1e3, 1e-9),
    "impedance.lc_resonance": (2.5, 1e-9),
    "impedance.rc_time": (1e3, 1e-6),
    "impedance.capacitor_energy": (1e-6, 9),
    "inductance.parallel_filaments": (0.3, 0.01),
    "inductance.crossing_filaments": (0.3, 0.3, 0.01, 1.0),
    "inductance.mutual_inductance": (A_RUN, ANOTHER_RUN),
    "inductance.parallel_pairs": (0.01, 0.012, 0.008, 0.011),
    "inductance.coplanar_pairs": (0.003, 0.002, 0.01),
    "inductance.wire_beside_loop": (1, 0.05, 0.06),
    "inductance.induced_voltage": (1e-8, 50, 1),
    "lengths.bend_saving": (1.0, 0.01),
    "lengths.path_length": ([(0, 0), (0.3, 0), (0.3, 0.2)], 0.01),
    "lengths.wanted_length": (0.5, 0.05, 0.04, 2),
    "lengths.cut_length": (0.605, 0.01, 0.01, 0.005),
    "lengths.length_tolerance": (0.5,),
    "levels.decibels_of": (2,),
    "levels.ratio_of": (6,),
    "levels.dbv": (1,),
    "levels.dbu": (1,),
    "levels.volts_from_dbv": (-10,),
    "levels.volts_from_dbu": (4,),
    "levels.effective_from_peak": (1,),
    "levels.peak_ceiling": (9, 2),
    "lifting.horizontal_multiplier": (0.3,),
    "lifting.vertical_multiplier": (0.3,),
    "lifting.distance_multiplier": (0.3,),
    "lifting.asymmetry_multiplier": (0.3,),
    "lifting.recommended_weight_limit": (0.3, 0.05, 0.7, 0.1, 0.9, 0.9),
    "lifting.lifting_index": (20, 13),
    "mains.apparent_power": (60, 0.6),
    "mains.line_current": (100, 230),
    "mains.saturation_index": (120, 50, 120, 60),
    "midi.message_time": (3,),
    "midi.skew_in_bits": (4, 2e-6),
    "noise.common_impedance_voltage": (0.01, 0.05, 0.04),
    "noise.level_after": (1e-4, 35),
    "noise.johnson_noise": (1e3, 20e3, 300),
    "noise.noise_sum": ([1e-6, 2e-6],),
    "noise.clock_beats": (100e3, 101e3, 20, 15e3, 3),
    "pickup.response": (1e3, A_PICKUP, 6e-10, 2e5),
    "pickup.level": (5e3, 100, A_PICKUP, 6e-10, 2e5),
    "pickup.resonance": (A_PICKUP, 6e-10),
    "pickup.quality": (A_PICKUP, 6e-10, 2e5),
    "pickup.peak": (A_PICKUP, 6e-10, 2e5),
    "search.half_split": ([1, 2, 3], [1, 1]),
    "search.one_by_one_cost": ([1, 2, 3], [1, 1]),
    "search.after_test": ([1, 2, 3], 1, True, 0.5),
    "search.entropy": ([1, 2, 3],),
    "search.equal_split_tests": (5,),
    "sources.in_series": ([A_SOURCE, Source(8, 1)],),
    "sources.in_parallel": ([A_SOURCE, Source(8, 1)],),
    "sources.shares": ([A_SOURCE, Source(8, 1)], 0.1),
    "sources.sagged_voltage": (A_SOURCE, 0.1),
    "sources.maximum_power": (A_SOURCE,),
    "sources.converter_input_power": (4.5, 0.85),
    "sources.unregulated_no_load": (9,),
    "wire.awg_diameter": (24,),
    "wire.round_area": (5e-4,),
    "wire.conductor_resistance": (1, 1e-6, 1.7e-8),
    "wire.resistance_at": (35, 15, 0.004),
    "wire.awg_resistance": (24, False),
    "wire.cord_resistance": (0.75, False),
    "wire.loop_resistance": (1, 0.08, 2, 0.01),
}
# Where a number may be below zero. All other numbers are amounts.
SIGNED = {
    "balance.centre_of_gravity": {"points"},
    "comb.response": {"level_difference"},
    "fields.loop_emf": {"angle"},
    "fields.step_emf": {"field_change"},
    "inductance.crossing_filaments": {"angle"},
    "inductance.mutual_inductance": {"first", "second"},
    "inductance.induced_voltage": {"mutual"},
    "lengths.path_length": {"points"},
    "levels.ratio_of": {"level"},
    "levels.volts_from_dbv": {"level"},
    "levels.volts_from_dbu": {"level"},
    "noise.level_after": {"gain"},
    "wire.awg_diameter": {"gauge"},
    "wire.awg_resistance": {"gauge"},
    "wire.resistance_at": {"temperature", "coefficient"},
}


def spoilt(value, bad):
    """The value with each number in it, one after another, replaced by a bad one."""
    if isinstance(value, (list, tuple)):
        rebuild = value._make if hasattr(value, "_make") else type(value)
        for place, part in enumerate(value):
            for worse in spoilt(part, bad):
                yield rebuild([*value[:place], worse, *value[place + 1 :]])
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield bad


@pytest.mark.parametrize("name", FORMULAS)
def test_no_number_that_cannot_be_gets_in(name):
    function, arguments = FORMULAS[name], GOOD_CALLS[name]
    parameters = inspect.signature(function).parameters.values()
    names = [p.name for p in parameters for _ in (arguments if p.kind is p.VAR_POSITIONAL else [None])]
    by_name = {p.name for p in parameters if p.kind is p.KEYWORD_ONLY}

    def call(values):
        keywords = {n: v for n, v in zip(names, values, strict=False) if n in by_name}
        return function(*values[: len(values) - len(keywords)], **keywords)

    assert_ordinary(call(arguments))
    for place, (parameter, good) in enumerate(zip(names, arguments, strict=False)):
        for bad in (math.nan, math.inf, -math.inf, "9 V", *([] if parameter in SIGNED.get(name, ()) else [-1e-3, -1])):
            for worse in spoilt(good, bad):
                with pytest.raises(ValueError, match="must be"):
                    pytest.fail(f"{parameter} = {worse!r} gave {call([*arguments[:place], worse, *arguments[place + 1 :]])}")


# Ordinary numbers, extreme ones, and things that are no numbers at all but may come out of careless text.
odd_numbers = (
    st.floats(0, 1000)
    | st.integers(0, 30)
    | st.floats(-30, 30).map(lambda exponent: 10**exponent)
    | st.floats(allow_nan=True, allow_infinity=True)
    | st.sampled_from([0, -0.0, 1, -1, 5e-324, 1e-30, 1e30, 1e308, 10**400, math.pi / 2, math.pi, None, "9V"])
)
short_lists = st.lists(odd_numbers, max_size=4)
odd_points = st.lists(odd_numbers, min_size=2, max_size=3).map(tuple)
odd_sources = st.builds(Source, odd_numbers, odd_numbers)
odd_loads = st.builds(Load, odd_numbers, odd_numbers, odd_numbers)
odd_places = st.integers(0, 3)
odd_leads = st.builds(Lead, odd_places, odd_numbers, st.lists(odd_loads, max_size=2), st.none() | odd_places)
odd_vectors = st.tuples(odd_numbers, odd_numbers, odd_numbers)
ODD = {
    float: odd_numbers,
    int: odd_numbers,
    bool: st.booleans(),
    Source: odd_sources,
    Pickup: st.builds(Pickup, odd_numbers, odd_numbers, odd_numbers),
    Filament: st.builds(Filament, odd_vectors, odd_vectors),
    Sequence[float]: short_lists,
    Sequence[Source]: st.lists(odd_sources, max_size=3),
    Sequence[Lead]: st.lists(odd_leads, max_size=4),
    Sequence[Sequence[float]]: st.lists(odd_points, max_size=4),
}


def assert_ordinary(answer):
    """Only numbers that can be printed and compared, names, nothing, or records and lists of these."""
    if isinstance(answer, complex):
        assert math.isfinite(answer.real) and math.isfinite(answer.imag)
    elif isinstance(answer, dict):
        for key, value in answer.items():
            assert isinstance(key, Hashable)
            assert_ordinary(value)
    elif isinstance(answer, (list, tuple)):
        for value in answer:
            assert_ordinary(value)
    else:
        assert answer is None or (isinstance(answer, (int, float)) and math.isfinite(answer)), answer


@pytest.mark.parametrize("name", FORMULAS)
@given(data=st.data())
@settings(max_examples=40, deadline=None)
def test_any_input_gives_a_number_nothing_or_a_plain_refusal(name, data):
    function = FORMULAS[name]
    hints = typing.get_type_hints(function)
    positional, named = [], {}
    for parameter in inspect.signature(function).parameters.values():
        values = ODD[hints[parameter.name]]
        if parameter.kind is parameter.VAR_POSITIONAL:
            positional += data.draw(st.lists(values, max_size=3), label=parameter.name)
        elif parameter.kind is parameter.KEYWORD_ONLY:
            named[parameter.name] = data.draw(values, label=parameter.name)
        else:
            positional.append(data.draw(values, label=parameter.name))
    try:
        answer = function(*positional, **named)
    except ValueError as refusal:
        assert str(refusal)
    else:
        assert_ordinary(answer)
