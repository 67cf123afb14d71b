"""Every reading that is expected, on every demo board, against the engines and against libraries that know nothing of boards.

Volts and currents are solved a second time by ngspice from a netlist of each outlet. Which grounds hang together is asked of
networkx, on the bonds without mains cords. What is heard is asked of networkx too, on the ways that conduct in each preset.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import networkx
import pytest

import spice
from boardwright import limits
from boardwright.board.assemble import Board, assemble
from boardwright.board.bench.ear_readings import SILENCE, heard_in
from boardwright.board.bench.ground_readings import BOARD, expected_between, node_of
from boardwright.board.bench.plan import rows_of
from boardwright.board.ground_bonds import Via
from boardwright.board.signal.switches import State
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.fields import Jack
from boardwright.spec.power_phrase import Flow, Polarity
from boardwright.spec.read import read

FOLDER = Path(__file__).parents[2] / "demo_boards"
NAMES = sorted(file.stem for file in FOLDER.glob("*.yaml"))


@lru_cache(maxsize=64)
def board(name: str) -> Board:
    return assemble(read((FOLDER / f"{name}.yaml").read_text("utf-8")))


def made(text: str) -> Board:
    found = assemble(read(text, fragment=True))
    assert not found.spec.problems
    return found


def expected(found: Board, where: str, what: str, condition: str | None = None, of: str | None = None):
    (only,) = [each for each in found.expected if each.where[-1] == where and (each.what, each.condition, each.of) == (what, condition, of)]
    return only


# --- volts and current --------------------------------------------------------------------------------------------


def _by_ngspice(circuit) -> dict[str, float]:
    """Volts at each device on one outlet, by ngspice."""
    outlet = circuit.outlets[0]
    full = outlet.no_load_volts
    lines = [f"V1 v 0 {full!r}", f"R1 v o {max(outlet.source.value, 1e-9)!r}"]
    number = {device.name: place for place, (device, _) in enumerate(circuit.hung)}
    for device, line in circuit.hung:
        here = f"n{number[device.name]}"
        above = f"n{number[line.after]}" if line.after in number else "o"
        lines.append(f"R{here} {above} {here} {max(line.resistance.value, 1e-9)!r}")
        load = device.load(circuit.volts)
        if load is None:
            continue
        lines.append(f"I{here} {here} 0 {load.current!r}")
        if load.power:
            lines += spice.constant_power(here, here, load.power, full)
        if load.resistance:
            lines.append(f"RL{here} {here} 0 {load.resistance!r}")
    volts = spice.node_voltages(lines, [f"n{place}" for place in number.values()])
    return {name: volts[f"n{place}"] for name, place in number.items()}


@pytest.mark.parametrize("name", NAMES)
def test_volts_at_every_plug_are_what_ngspice_finds(name):
    found = board(name)
    labels = {(lead.end.name, lead.path): lead.label for lead in found.layout.leads if lead.carries in ("dc", "ac-low")}
    seen = 0
    for circuit in found.power.circuits:
        if len(circuit.outlets) > 1 or circuit.volts is None or circuit.point is None:
            continue
        second = _by_ngspice(circuit)
        for device, line in circuit.hung:
            loaded = [each for each in found.expected if each.where == (labels[device.name, line.path],) and each.condition == "loaded" and each.what == "volts"]
            for each in loaded:
                assert abs(each.value) == pytest.approx(second[device.name], rel=1e-6)
                assert each.low < each.value < each.high
                seen += 1
    assert seen == sum(each.what == "volts" and each.condition == "loaded" and each.where[0] in labels.values() for each in found.expected)
    assert seen or not found.power.circuits


@pytest.mark.parametrize("name", NAMES)
def test_what_is_expected_is_what_the_power_engine_says(name):
    found = board(name)
    currents = {each.where[0]: each for each in found.expected if each.what == "current"}
    for circuit in found.power.circuits:
        for device, _ in circuit.hung:
            arrival = circuit.arrival(device)
            if device.name in currents:
                assert currents[device.name].value == pytest.approx(arrival.current)
    for outlet in found.power.outlets:
        if outlet.id in currents:
            assert currents[outlet.id].value == pytest.approx(found.power.current(outlet))
            assert currents[outlet.id].low == pytest.approx(0.75 * currents[outlet.id].value)
        unloaded = [each for each in found.expected if each.where == (outlet.id,) and each.condition == "no-load"]
        assert [abs(each.value) for each in unloaded] == ([outlet.no_load_volts] if outlet.no_load_volts else [])


@pytest.mark.parametrize("name", NAMES)
def test_the_sign_is_that_of_the_inside_of_the_plug(name):
    """By the words of the label alone: the plug's inside is negative for centre-negative, and a reversing lead turns that over."""
    found = board(name)
    for each in found.expected:
        if each.what != "volts":
            continue
        device = next((d for d in found.power.devices.values() for line in d.lines if line.path == each.path), None)
        line = next((line for line in device.lines if line.path == each.path), None) if device else None
        outlet = line.outlets[0] if line else next(o for o in found.power.outlets if o.id == each.where[0])
        if outlet.gives.flow is Flow.AC or outlet.gives.polarity is None:
            assert not each.signed and each.value > 0
            continue
        negative = (outlet.gives.polarity is Polarity.CENTRE_NEGATIVE) is not bool(line and line.reversals % 2)
        assert (each.value < 0) is negative and each.low < each.high


def test_every_demo_board_tells_volts_for_every_lead_that_feeds_something():
    for name in NAMES:
        found = board(name)
        # a run that feeds nothing, as where a fuzz was moved to another outlet and its drawn lead was not, is not a feed
        leads = [lead.label for lead in found.layout.leads if lead.carries in ("dc", "ac-low") and lead.path[0] != "runs"]
        told = {each.where[0] for each in found.expected if each.what == "volts" and each.condition == "no-load"}
        assert set(leads) <= told, name


UNREGULATED = "supplies: {s: {outlets: {1: {gives: 9V dc centre-negative 500mA, regulated: no}}}}\npedals: {a: {kind: chorus, needs: 9V dc centre-negative 20mA, feed: s.1}}\n"


def test_an_unregulated_adaptor_may_read_from_its_label_to_the_peak_of_the_sine():
    unloaded = expected(made(UNREGULATED), "D1", "volts", "no-load")
    assert unloaded.value == pytest.approx(-9 * 2**0.5)
    assert unloaded.high == pytest.approx(-9 * 0.95) and unloaded.low == pytest.approx(-9 * 2**0.5 * 1.05)


def test_a_daisy_chain_reads_less_at_its_end():
    text = "supplies: {s: {isolated: no, outlets: {1: 9V dc centre-negative 1A}}}\npedals:\n  a: {needs: 9V dc centre-negative 200mA, feed: {from: s.1, lead: {length: 2 m, gauge: 0.5 mm²}}}\n"
    text += "  b: {needs: 9V dc centre-negative 200mA, feed: {from: s.1, after: a, lead: {length: 2 m, gauge: 0.5 mm²}}}\n"
    found = made(text)
    ohms = 2 * (2 * 0.039 + 2 * limits.CONTACT.value)  # IEC 60228 class 5, plain copper: 39.0 ohm per km
    first, second = expected(found, "D1", "volts", "loaded"), expected(found, "D2", "volts", "loaded")
    assert first.value == pytest.approx(-(9 - 0.4 * (limits.SOURCE_LARGE.value + ohms)))
    assert second.value == pytest.approx(first.value + 0.2 * ohms)


def test_what_is_not_known_is_not_expected():
    text = "supplies: {s: {outlets: {1: 9V dc centre-negative 500mA}}}\npedals: {a: {kind: chorus, needs: 9V dc centre-negative, feed: s.1}, b: {kind: fuzz, feed: {from: s.1, lead: {length: 5 m}}}}\n"
    told = {(each.where[0], each.condition) for each in made(text).expected if each.what in ("volts", "current")}
    assert ("D1", "no-load") in told and not {each for each in told if each[1] == "loaded"}


# --- leads --------------------------------------------------------------------------------------------------------


def test_a_lead_measures_what_its_wire_has():
    """Six metres of 24 AWG are 6 · 0.0842 ohm (ASTM B258 and IEC 60028); the screen is the assumed 25 milliohm a metre."""
    found = made("audio: [{path: guitar > tuner, lead: 6 m}]")
    tip, sleeve = expected(found, "A1", "ohms", of="tip"), expected(found, "A1", "ohms", of="sleeve")
    assert tip.value == pytest.approx(6 * 0.0842 + 0.02, abs=0.002) and tip.high == pytest.approx(tip.value + 0.5)
    assert sleeve.value == pytest.approx(6 * 0.025 + 0.02)
    assert expected(found, "A1", "ohms", of="tip-to-sleeve").is_open


def test_a_power_lead_measures_half_of_what_it_has_there_and_back():
    """2 m of 0.5 mm²: 39.0 ohm per km (IEC 60228, class 5, plain copper), and two contacts of 10 milliohm in each conductor."""
    text = "supplies: {s: {outlets: {1: 9V dc centre-negative 500mA}}}\npedals: {a: {kind: chorus, needs: 9V dc centre-negative 20mA, feed: {from: s.1, lead: {length: 2 m, gauge: 0.5 mm²}}}}\n"
    found = made(text)
    for contact in ("tip", "sleeve"):
        assert expected(found, "D1", "ohms", of=contact).value == pytest.approx(2 * 0.0390 + 0.02)
    assert "swaps" in expected(made(text.replace("0.5 mm²}", "0.5 mm², reverses: yes}")), "D1", "ohms", of="tip").how


def test_a_screen_at_one_end_is_open_from_end_to_end():
    found = made("audio: [{path: mixer > desk, lead: {length: 6 m, screen: one, balanced: yes}}]")
    assert expected(found, "A1", "ohms", of="sleeve").is_open
    unknown = made("audio: [{path: mixer > desk, lead: {length: 6 m, screen: unknown}}]")
    assert not [each for each in unknown.expected if each.of == "sleeve"]


# --- grounds ------------------------------------------------------------------------------------------------------


def _metal(found: Board, sure: bool) -> networkx.Graph:
    graph = networkx.Graph()
    graph.add_edges_from((bond.a, bond.b) for bond in found.ground.bonds if bond.via is not Via.CORD and (bond.sure or not sure))
    graph.add_nodes_from(("ground", name) for name in [*found.ground.amps, *found.names])
    return graph


@pytest.mark.parametrize("name", NAMES)
def test_grounds_are_joined_where_networkx_finds_a_way(name):
    found = board(name)
    certain, possible = _metal(found, sure=True), _metal(found, sure=False)
    things = [*found.spec.pedals, *found.spec.switchers, *found.spec.isolators, *found.spec.amps, *found.spec.computers]
    here = node_of(found, Jack(BOARD))
    assert here in certain
    told = 0
    for thing in things:
        each, node = expected_between(found, Jack(BOARD), Jack(thing)), node_of(found, Jack(thing))
        if networkx.has_path(certain, here, node):
            assert each is not None and each.high is not None and each.high >= 1
        elif networkx.has_path(possible, here, node):
            assert each is None
        else:
            assert each is not None and each.is_open and each.low == 1e6
        told += each is not None
    assert told
    listed = {each.where[1] for each in found.expected if each.condition == "unplugged"}
    assert listed == {amp for amp in found.ground.amps if expected_between(found, Jack(BOARD), Jack(amp)) is not None}


def test_the_isolated_amplifiers_of_the_touring_rig_are_apart():
    """By hand: `iso_l` and `iso_r` have lifted screens and nothing goes round them; `centre` is on the dry lead."""
    found = board("saltmarsh-tour")
    apart = {each.where[1]: each.is_open for each in found.expected if each.condition == "unplugged"}
    assert apart == {"centre": False, "left": True, "right": True}
    (right,) = [each for each in board("saltmarsh-tour-before-screen-through").expected if each.where == (BOARD, "right") and each.what == "ohms"]
    assert not right.is_open


def test_mains_cords_join_nothing_once_they_are_pulled():
    text = "amps: {one: {kind: valve, class: I}, two: {kind: valve, class: I}}\naudio: [guitar > tuner > one, {path: tuner.out_b > two, lead: {screen: one, balanced: yes}}]\n"
    found = made(text)
    assert not expected(found, "one", "ohms", "unplugged").is_open and expected(found, "two", "ohms", "unplugged").is_open


# --- what is heard ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_what_is_heard_in_each_preset_is_what_networkx_finds(name):
    found = board(name)
    signal = found.signal
    for preset in (None, *found.spec.presets):
        state = State({}, preset, "") if preset else None
        positions = signal.switches.complete(state)
        graph = networkx.DiGraph()
        graph.add_nodes_from(signal.graph.nodes)
        live = [edge for edge in signal.graph.edges if all(positions[id_] is on for id_, on in edge.guard)]
        graph.add_edges_from((edge.start, edge.end) for edge in live)
        for amp, (heard, through) in heard_in(found, state).items():
            end = signal.heard(amp)
            sources = [source for source in signal.sources if any(networkx.has_path(graph, start, end) for start in signal.starts(source))]
            assert heard == sources
            played = set(signal.sources) and set().union(*(networkx.descendants(graph, start) | {start} for source in signal.sources for start in signal.starts(source)))
            boxes = {
                edge.stage.name
                for edge in live
                if edge.engaged and edge.stage and edge.stage.role == "box" and (edge.stage.loop or not edge.stage.always_on) and edge.start in played and networkx.has_path(graph, edge.end, end)
            }
            assert set(through) == boxes
            told = [each for each in found.expected if each.where == (amp,) and each.what == "sound" and each.preset == preset]
            assert len(told) == 1 and (told[0].word == SILENCE) is not bool(sources)
            assert all(box in told[0].word for box in boxes) or not sources


def test_the_tuning_preset_of_the_touring_rig_is_silent_and_the_lead_is_not():
    words = {(each.where[0], each.preset): each.word for each in board("saltmarsh-tour").expected if each.what == "sound"}
    assert words["centre", "tune"] == words["left", "tune"] == SILENCE
    assert words["centre", "lead"] == "the guitar through push, dist, lift"
    assert words["centre", "sweep"] == "the guitar through treadle, warmdrive"
    # the reverbs and echoes hang on the mixer's sends and keep their own footswitches
    assert words["left", "clean"] == "the guitar through comp; switched on by foot, also room, airverb, again"


def test_hum_is_expected_where_the_earth_engine_closes_a_loop():
    for name in NAMES:
        found = board(name)
        looped = {owner for loop in found.ground.loops if not loop.soft for owner in loop.cords}
        humming = {each.where[0] for each in found.expected if each.what == "hum" and each.word != "no hum"}
        assert humming == looped & set(found.ground.amps), name


# --- the plan -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_lays_every_lead_once_and_places_every_box(name):
    found = board(name)
    laid = [lead for step in found.plan if step.do not in ("label", "meter") for lead in step.leads]
    due = [f"{lead.label} {lead.joins}" for lead in found.layout.leads if lead.carries != "mains"]
    assert sorted(laid) == sorted(due)
    placed = [thing for step in found.plan if step.do == "place" for thing in step.things]
    assert sorted(placed) == sorted(rows_of(found))
    assert [step.number for step in found.plan] == list(range(1, len(found.plan) + 1))


@pytest.mark.parametrize("name", NAMES)
def test_a_board_that_is_built_by_its_plan_breaks_no_rule_of_order(name):
    """The plan, written back as `steps`, is in order."""
    found = board(name)
    lines = [f"  - {{do: {step.do}{f', row: {step.row}' if step.row else ''}{f', of: {step.of}' if step.of else ''}}}" for step in found.plan]
    text = (FOLDER / f"{name}.yaml").read_text("utf-8")
    without = text.partition("\n# What was done at the bench")[0] if "\nsteps:" in text else text
    again = assemble(read(without + "\nsteps:\n" + "\n".join(lines) + "\n"))
    assert not again.spec.problems
    judged = [each for _, each in run(again, ["build-steps-out-of-order"]).judgements]
    assert [each.verdict for each in judged] == [Verdict.CLEAR]
    assert all(step.done for step in again.plan)


@pytest.mark.parametrize("name", NAMES)
def test_every_power_lead_is_measured_before_it_is_used(name):
    found = board(name)
    measured: set[str] = set()
    for step in found.plan:
        if step.do in ("listen", "loop", "preset", "amp"):
            fed = {lead.label for lead in found.layout.leads if lead.carries in ("dc", "ac-low") and rows_of(found).get(lead.end.name, 0) == (step.row or 0)}
            assert fed <= measured
        measured |= {each.where[0] for each in step.readings if each.what == "volts" and each.condition == "no-load"}


def test_rows_are_built_from_the_front():
    rows = [step.row for step in board("builders-bench").plan if step.do == "place"]
    assert rows == [1, 2, 3]
    front = next(step for step in board("builders-bench").plan if step.do == "place")
    assert {"tuner", "push", "treadle"} <= set(front.things) and "hall" not in front.things


def test_no_step_is_at_mains_voltage():
    for name in NAMES:
        for step in board(name).plan:
            assert all(abs(each.value or 0) < 50 for each in step.readings if each.what == "volts")
            assert not any(lead.startswith("W") for lead in step.leads)
    (frame,) = [step for step in board("saltmarsh-tour").plan if step.do == "frame"]
    assert "qualified person" in frame.note and "electrical code" in frame.note


def test_a_board_of_which_nothing_is_described_has_no_plan():
    assert made("board: {for: home}").plan == [] and made("board: {for: home}").expected == []
