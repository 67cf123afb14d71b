"""The network of an outlet against textbooks, a circuit simulator, a root finder, and the laws it must obey."""

import math
import random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.optimize import root

import spice
from boardwright.physics import wire
from boardwright.physics.dc import Lead, Load, constant_power_voltage, operating_point
from boardwright.physics.sources import Source, in_parallel, in_series, maximum_power
from published import published

# --- textbook examples -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("temperature, at_load, per_wire", [(20, 12.5, 0.75), (35, 12.42, 0.79)])
def test_kuphaldts_warm_wires(temperature, at_load, per_wire):
    # Two wires of 15 ohm at 20 °C with alpha = 0.004041 between a source and a load; 14 V and 250 ohm follow from the
    # printed voltages.
    source = "Kuphaldt, Lessons in Electric Circuits, DC, chapter 12, “Temperature coefficient of resistance”"
    wires = wire.resistance_at(temperature, 30, coefficient=0.004041)
    point = operating_point(Source(14, 0), [Lead("load", wires, [Load(resistance=250)])])
    assert point.voltages["load"] == published(at_load, "V", f"at a load behind long wires at {temperature} °C", source, abs=0.005)
    assert (14 - point.voltages["load"]) / 2 == published(per_wire, "V", f"lost in each wire at {temperature} °C", source, abs=0.005)


@pytest.mark.parametrize(
    "internal, load, amperes, volts, watts",
    [(0.100, 10.0, 1.188, 11.88, None), (0.100, 0.500, 20.00, 10.00, 200), (0.500, 0.500, 12.00, 6.00, 72)],
)
def test_openstax_battery(internal, load, amperes, volts, watts):
    # A 12.00 V battery. The book rounds 11.88 V up to 11.90 V.
    source, what = "OpenStax, University Physics 2, “Electromotive Force”", f"12.00 V battery with {internal} Ω on {load} Ω"
    point = operating_point(Source(12, internal), [Lead("load", 0, [Load(resistance=load)])])
    assert point.source_current == published(amperes, "A", what, source, abs=0.005)
    assert point.source_voltage == published(volts, "V", what, source, abs=0.005)
    if watts:
        assert point.source_voltage * point.source_current == published(watts, "W", what, source, rel=1e-4)


def test_openstax_mixed_batteries():
    # Three 1.58 V cells of 0.0200 ohm and a carbon-zinc cell of 1.53 V and 0.100 ohm in series on 10.0 ohm.
    source, what = "OpenStax, University Physics 2, problems of “Electromotive Force”", "four unlike cells in series on 10.0 Ω"
    battery = in_series([Source(1.58, 0.02)] * 3 + [Source(1.53, 0.1)])
    point = operating_point(battery, [Lead("load", 0, [Load(resistance=10)])])
    assert point.source_current == published(0.617, "A", what, source, abs=0.0005)
    assert point.source_voltage * point.source_current == published(3.81, "W", what, source, abs=0.005)


def test_daisy_chain_by_hand():
    # By hand: 24 AWG, 1 m there and back per hop, 100 mA and 300 mA: 9 V - 0.4 A R, then - 0.3 A R.
    hop = wire.loop_resistance(1, wire.awg_resistance(24), 0, 0)
    chain = [Lead("first", hop, [Load(current=0.1)]), Lead("second", hop, [Load(current=0.3)], start="first")]
    point = operating_point(Source(9, 0), chain)
    assert point.voltages == {"first": approx(8.9326, abs=1e-4), "second": approx(8.8821, abs=1e-4)}
    assert point.currents == {"first": approx(0.4), "second": approx(0.3)}


# --- closed form of one constant-power load --------------------------------------------------------------------------


@pytest.mark.parametrize("ohms, volts", [(0.5, 8.743), (3, 7.098), (4.5, 4.5)])
def test_constant_power_by_hand(ohms, volts):
    # Quadratic formula by hand for 4.5 W from 9 V; 4.5 ohm is the very edge, P = V^2 / 4R.
    assert constant_power_voltage(Source(9, ohms), 4.5) == approx(volts, abs=5e-4)
    point = operating_point(Source(9, 0), [Lead("load", ohms, [Load(power=4.5)])])
    assert point.voltages["load"] == approx(volts, abs=5e-4)


def test_beyond_the_edge_there_is_no_operating_point():
    assert constant_power_voltage(Source(9, 4.6), 4.5) is None
    assert operating_point(Source(9, 0), [Lead("load", 4.6, [Load(power=4.5)])]) is None


@pytest.mark.parametrize("beyond", [1e-9, 1e-6, 1e-3, 1, 1e6])
@given(volts=st.floats(1, 50), ohms=st.floats(1e-3, 1e3), behind=st.floats(0, 1))
@settings(max_examples=30, deadline=None)
def test_the_edge_is_found_sharply(beyond, volts, ohms, behind):
    edge = maximum_power(Source(volts, ohms))
    source = Source(volts, ohms * (1 - behind))
    at_the_edge = operating_point(source, [Lead("load", ohms * behind, [Load(power=edge)])])
    assert at_the_edge.voltages["load"] == approx(volts / 2, rel=1e-5)
    assert operating_point(source, [Lead("load", ohms * behind, [Load(power=edge * (1 + beyond))])]) is None


@given(volts=st.floats(1, 50), ohms=st.floats(1e-3, 1e3), share=st.floats(0, 0.999), parts=st.integers(1, 5))
@settings(max_examples=100, deadline=None)
def test_closed_form_in_any_number_of_pieces(volts, ohms, share, parts):
    source = Source(volts, ohms)
    power = maximum_power(source) * share
    pieces = [Lead(n, ohms / parts, start=n - 1 if n else None) for n in range(parts - 1)]
    last = Lead(parts - 1, ohms / parts, [Load(power=power / 2)] * 2, start=parts - 2 if parts > 1 else None)
    point = operating_point(Source(volts, 0), [*pieces, last])
    assert point.voltages[parts - 1] == approx(constant_power_voltage(source, power), rel=1e-9)


# --- ngspice ---------------------------------------------------------------------------------------------------------

HOP = 0.0842 * 2 * 0.6 + 0.04  # 0.6 m of 24 AWG with two contacts of 10 milliohm in each conductor [ohm]

NETWORKS = {
    "one analogue pedal": (Source(9, 0.3), [Lead("a", HOP, [Load(current=0.1)])]),
    "one digital pedal on a long thin lead": (Source(9, 0.3), [Lead("a", 1.32, [Load(power=3.6)])]),
    "daisy chain of five, mixed": (
        Source(9, 0.3),
        [
            Lead("a", HOP, [Load(current=0.01)]),
            Lead("b", 0.1, [Load(power=0.9)], start="a"),
            Lead("c", 0.1, [Load(current=0.004)], start="b"),
            Lead("d", 0.1, [Load(power=2.7)], start="c"),
            Lead("e", 0.1, [Load(resistance=90)], start="d"),
        ],
    ),
    "branching tree": (
        Source(12, 0.1),
        [
            Lead("trunk", 0.2),
            Lead("left", 0.5, [Load(power=3), Load(current=0.05)], start="trunk"),
            Lead("right", 0.3, [Load(resistance=40)], start="trunk"),
            Lead("far left", 0.8, [Load(power=1.5)], start="left"),
            Lead("far right", 1.2, [Load(current=0.12), Load(resistance=200)], start="right"),
            Lead("twig", 0.4, [Load(power=0.5)], start="right"),
        ],
    ),
    "everything at one place": (
        Source(9, 0.5),
        [Lead("a", 0.4, [Load(current=0.1), Load(power=2), Load(resistance=60), Load(current=0.02, power=0.3)])],
    ),
    "two outlets stacked for 18 V": (
        in_series([Source(9.2, 0.3), Source(8.9, 0.35)]),
        [Lead("a", HOP, [Load(power=4)]), Lead("b", 0.2, [Load(current=0.03)], start="a")],
    ),
    "two outlets side by side, unequal": (
        in_parallel([Source(9.2, 0.3), Source(8.9, 0.5)]),
        [Lead("a", HOP, [Load(power=6)]), Lead("b", HOP, [Load(current=0.2)])],
    ),
    "tired battery under a valve heater and a converter": (
        Source(8.4, 20),
        [Lead("heater", 0.2, [Load(resistance=300)]), Lead("converter", 0.2, [Load(power=0.5)])],
    ),
    "near the edge, one load": (Source(9, 2), [Lead("a", 2.5, [Load(power=0.999 * 4.5)])]),
    "near the edge, with other loads": (
        Source(9, 1),
        [Lead("a", 1, [Load(resistance=50), Load(current=0.1)]), Lead("b", 1.5, [Load(power=4.12)], start="a")],
    ),
    "a lead without resistance": (
        Source(9, 0.3),
        [Lead("a", 0.2, [Load(current=0.1)]), Lead("b", 0.0, [Load(power=1)], start="a")],
    ),
}


def netlist(source, leads, voltage_sources=None):
    """A network as lines for the simulator, and the simulator's name for each place."""
    node = {None: "n0"} | {lead.end: f"n{number}" for number, lead in enumerate(leads, 1)}
    lines = voltage_sources or [f"Vs s 0 {source.voltage!r}", f"Rs s n0 {max(source.resistance, 1e-9)!r}"]
    for number, lead in enumerate(leads, 1):
        here = node[lead.end]
        lines.append(f"R{number} {node[lead.start]} {here} {max(lead.resistance, 1e-9)!r}")
        for part, load in enumerate(lead.loads, 1):
            name = f"{number}_{part}"
            if load.current:
                lines.append(f"I{name} {here} 0 {load.current!r}")
            if load.power:
                lines += spice.constant_power(name, here, load.power, float(source.voltage))
            if load.resistance:
                lines.append(f"Rl{name} {here} 0 {load.resistance!r}")
    return lines, node


def assert_agrees_with_spice(source, leads, voltage_sources=None, tolerance=1e-6):
    lines, node = netlist(source, leads, voltage_sources)
    second = spice.node_voltages(lines, list(node.values()))
    point = operating_point(source, leads)
    assert point.source_voltage == approx(second["n0"], rel=tolerance)
    for end, volts in point.voltages.items():
        assert volts == approx(second[node[end]], rel=tolerance), end


@pytest.mark.parametrize("name", NETWORKS)
def test_against_ngspice(name):
    assert_agrees_with_spice(*NETWORKS[name])


def test_stacked_sources_against_ngspice_piece_by_piece():
    source, leads = NETWORKS["two outlets stacked for 18 V"]
    pieces = ["V1 p 0 9.2", "R_1 p q 0.3", "V2 t q 8.9", "R_2 t n0 0.35"]
    assert_agrees_with_spice(source, leads, pieces)


def test_sources_side_by_side_against_ngspice_piece_by_piece():
    source, leads = NETWORKS["two outlets side by side, unequal"]
    pieces = ["V1 p 0 9.2", "R_1 p n0 0.3", "V2 q 0 8.9", "R_2 q n0 0.5"]
    assert_agrees_with_spice(source, leads, pieces)


@pytest.mark.parametrize("seed", range(8))
def test_random_trees_against_ngspice(seed):
    assert_agrees_with_spice(*random_network(random.Random(seed), places=12))


def heavier(network, factor):
    """The same network with every constant-power load multiplied."""
    source, leads = network
    return source, [lead._replace(loads=[load._replace(power=load.power * factor) for load in lead.loads]) for lead in leads]


@pytest.mark.parametrize("seed", range(4))
def test_the_edge_of_a_random_tree_is_where_ngspice_loses_its_balance(seed):
    network = random_network(random.Random(500 + seed), places=10)
    light, heavy = 1.0, 1e4
    assert operating_point(*heavier(network, light)) and not operating_point(*heavier(network, heavy))
    while heavy > light * (1 + 1e-9):
        middle = (light + heavy) / 2
        light, heavy = (middle, heavy) if operating_point(*heavier(network, middle)) else (light, middle)
    assert_agrees_with_spice(*heavier(network, light * 0.999), tolerance=1e-5)
    # The simulator's load turns into a constant current below 0.3 of the source: beyond the edge it ends up there.
    source, leads = heavier(network, heavy * 1.001)
    lines, node = netlist(source, leads)
    volts = spice.node_voltages(lines, list(node.values()))
    assert min(volts.values()) < 0.3 * source.voltage


# --- a general root finder -------------------------------------------------------------------------------------------


def random_network(rng, places):
    leads = []
    for number in range(places):
        load = Load(
            current=rng.choice([0, rng.uniform(0, 0.05)]),
            power=rng.choice([0, rng.uniform(0, 0.4)]),
            resistance=rng.choice([None, rng.uniform(100, 1000)]),
        )
        start = rng.choice([None, *range(number)])
        leads.append(Lead(number, rng.uniform(0.01, 0.3), [load], start))
    return Source(9, rng.uniform(0.05, 0.5)), leads


@pytest.mark.parametrize("seed", range(20))
def test_against_a_general_root_finder(seed):
    source, leads = random_network(random.Random(1000 + seed), places=15)

    def imbalance(volts):
        """Kirchhoff's current law at each place, from voltages alone."""
        volts = [float(v) for v in volts]
        at = dict(enumerate(volts[1:])) | {None: volts[0]}
        into = {None: (source.voltage - volts[0]) / source.resistance} | {lead.end: 0.0 for lead in leads}
        for lead in leads:
            current = (at[lead.start] - at[lead.end]) / lead.resistance
            into[lead.start] -= current
            into[lead.end] += current - sum(load.current_at(at[lead.end]) for load in lead.loads)
        return list(into.values())

    found = root(imbalance, [source.voltage] * (len(leads) + 1), tol=1e-13)
    point = operating_point(source, leads)
    assert point.source_voltage == approx(found.x[0], rel=1e-9)
    assert [point.voltages[n] for n in range(len(leads))] == approx(list(found.x[1:]), rel=1e-9)


# --- laws that every network obeys -----------------------------------------------------------------------------------

loads = st.builds(
    Load,
    current=st.sampled_from([0.0]) | st.floats(1e-4, 0.3),
    power=st.sampled_from([0.0]) | st.floats(1e-3, 3),
    resistance=st.none() | st.floats(5, 1e5),
)


@st.composite
def networks(draw):
    source = Source(draw(st.floats(3, 24)), draw(st.sampled_from([0.0]) | st.floats(0.01, 10)))
    leads = []
    for number in range(draw(st.integers(1, 8))):
        start = draw(st.sampled_from([None, *range(number)]))
        resistance = draw(st.sampled_from([0.0]) | st.floats(0.001, 3))
        leads.append(Lead(number, resistance, draw(st.lists(loads, max_size=2)), start))
    return source, leads


def solved(network):
    point = operating_point(*network)
    assume(point is not None)
    return point


@given(networks())
@settings(max_examples=100, deadline=None)
def test_energy_balances(network):
    source, leads = network
    point = solved(network)
    given_off = source.voltage * point.source_current
    used = sum(point.voltages[lead.end] * load.current_at(point.voltages[lead.end]) for lead in leads for load in lead.loads)
    assert given_off == approx(point.source_loss + sum(point.losses.values()) + used, rel=1e-8, abs=1e-12)


@given(networks())
@settings(max_examples=100, deadline=None)
def test_kirchhoff_holds_along_every_lead(network):
    source, leads = network
    point = solved(network)
    above = point.voltages | {None: point.source_voltage}
    assert point.source_voltage == approx(source.voltage - source.resistance * point.source_current, rel=1e-8)
    for lead in leads:
        drop = lead.resistance * point.currents[lead.end]
        assert point.voltages[lead.end] == approx(above[lead.start] - drop, rel=1e-8)
        onward = sum(point.currents[other.end] for other in leads if other.start == lead.end)
        here = sum(load.current_at(point.voltages[lead.end]) for load in lead.loads)
        assert point.currents[lead.end] == approx(onward + here, rel=1e-8, abs=1e-15)


@given(networks(), st.integers(0, 7), loads)
@settings(max_examples=100, deadline=None)
def test_more_load_never_raises_a_voltage(network, place, extra):
    source, leads = network
    before = solved(network)
    place %= len(leads)
    more = [lead._replace(loads=[*lead.loads, extra]) if lead.end == place else lead for lead in leads]
    after = operating_point(source, more)
    if after is not None:
        assert after.source_voltage <= before.source_voltage * (1 + 1e-7)
        for end, volts in after.voltages.items():
            assert volts <= before.voltages[end] * (1 + 1e-7)


@given(networks(), loads)
@settings(max_examples=100, deadline=None)
def test_more_load_never_brings_back_an_operating_point(network, extra):
    source, leads = network
    lighter = operating_point(source, leads)
    heavier = operating_point(source, [*leads, Lead("extra", 0.1, [extra])])
    assert lighter is not None or heavier is None


def scaled(network, volts, ohms):
    """The same network with all voltages and all resistances multiplied."""
    (voltage, resistance), leads = network
    amperes, watts = volts / ohms, volts**2 / ohms

    def load(one):
        return Load(one.current * amperes, one.power * watts, one.resistance and one.resistance * ohms)

    return Source(voltage * volts, resistance * ohms), [
        lead._replace(resistance=lead.resistance * ohms, loads=[load(one) for one in lead.loads]) for lead in leads
    ]


@given(networks(), st.floats(1e-6, 1e6), st.floats(1e-3, 1e3))
@settings(max_examples=100, deadline=None)
def test_scaling_all_quantities_alike_changes_nothing(network, volts, ohms):
    plain, large = operating_point(*network), operating_point(*scaled(network, volts, ohms))
    assume(plain is not None or not nearly_solvable(network))
    assert (plain is None) == (large is None)
    if plain is not None:
        for end in plain.voltages:
            assert large.voltages[end] == approx(plain.voltages[end] * volts, rel=1e-4)
            assert large.currents[end] == approx(plain.currents[end] * volts / ohms, rel=1e-4, abs=1e-15)


def nearly_solvable(network):
    """Whether a trillionth less load would give an operating point: there rounding decides."""
    source, leads = network
    return operating_point(source._replace(voltage=source.voltage * (1 + 1e-9)), leads) is not None


@given(networks(), st.randoms(use_true_random=False))
@settings(max_examples=100, deadline=None)
def test_the_order_of_the_leads_does_not_matter(network, rng):
    source, leads = network
    point = solved(network)
    shuffled = leads[:]
    rng.shuffle(shuffled)
    again = operating_point(source, shuffled)
    assert again.voltages == {end: approx(volts, rel=1e-5) for end, volts in point.voltages.items()}


@given(st.lists(st.tuples(st.floats(1e-30, 1e30), st.floats(1e-30, 1e30)), min_size=1, max_size=6))
@settings(max_examples=100, deadline=None)
def test_resistors_of_any_size_always_settle_or_leave_nothing(chain):
    leads = [Lead(n, lead, [Load(resistance=load)], start=n - 1 if n else None) for n, (lead, load) in enumerate(chain)]
    point = operating_point(Source(9, 0), leads)
    if point is None:  # a divider so steep that no voltage worth the name arrives
        assert steepest_share(chain) < 1.001e-12
    else:
        assert all(0 < volts <= 9 and math.isfinite(volts) for volts in point.voltages.values())


def steepest_share(chain):
    """Share of the source's voltage left at the end of a chain of (lead, load), by folding it up from its tip."""
    seen, share = math.inf, 1.0
    for lead, load in reversed(chain):
        seen = 1 / (1 / load + 1 / seen)
        share *= seen / (lead + seen)
        seen += lead
    return share


# --- what cannot be --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "source, leads, words",
    [
        (Source(0, 1), [], "voltage"),
        (Source(9, -1), [], "resistance"),
        (Source(math.nan, 1), [], "voltage"),
        (Source(9, 1), [Lead("a", -1)], "resistance of a lead"),
        (Source(9, 1), [Lead("a", math.inf)], "resistance of a lead"),
        (Source(9, 1), [Lead("a", 1, [Load(current=-0.1)])], "current of a load"),
        (Source(9, 1), [Lead("a", 1, [Load(power=math.nan)])], "power of a load"),
        (Source(9, 1), [Lead("a", 1, [Load(resistance=0)])], "short circuit"),
        (Source(9, 1), [Lead("a", 1), Lead("a", 2)], "same place"),
        (Source(9, 1), [Lead("a", 1, start="b")], "no lead joins 'b'"),
        (Source(9, 1), [Lead("a", 1, start="b"), Lead("b", 1, start="a")], "no lead joins"),
        (Source(9, 1), [Lead("a", 1), Lead("b", 1, start="a"), Lead("a", 1, start="b")], "same place"),
    ],
)
def test_what_cannot_be_is_refused(source, leads, words):
    with pytest.raises(ValueError, match=words):
        operating_point(source, leads)


@pytest.mark.parametrize("voltage", [0, -1, math.nan])
def test_a_load_without_voltage_draws_no_known_current(voltage):
    with pytest.raises(ValueError, match="voltage must be"):
        Load(power=1).current_at(voltage)


def test_a_source_alone_keeps_its_voltage():
    point = operating_point(Source(9, 0.3), [])
    assert point == (9, 0, 0, {}, {}, {})


def test_constant_current_beyond_what_the_lead_can_bring():
    # Ohm's law: 9 V through 10 ohm brings at most 0.9 A.
    assert operating_point(Source(9, 4), [Lead("a", 6, [Load(current=0.89)])]) is not None
    assert operating_point(Source(9, 4), [Lead("a", 6, [Load(current=0.91)])]) is None
