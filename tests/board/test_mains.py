"""What hangs on the wall: labels, ways to the wall, currents."""

from __future__ import annotations

import pytest
from pytest import approx

from boardwright.board.assemble import assemble
from boardwright.rules.mains._currents import branches
from boardwright.spec.figure import Origin, Unreadable
from boardwright.spec.mains_phrase import read_fuse, read_ingress, read_mains_input, read_wall_supply
from boardwright.spec.read import read


@pytest.mark.parametrize(
    ("text", "settings", "hertz"),
    [
        ("100-240V ac 50/60Hz", ((100, 240),), (50, 60)),
        ("100–240 V~ 50-60 Hz 0.5A", ((100, 240),), (50, 60)),
        ("INPUT: AC 100 to 240 V, 50/60 Hz, 1.2 A max.", ((100, 240),), (50, 60)),
        ("230V ac 50Hz", ((230, 230),), (50,)),
        ("230 volts", ((230, 230),), ()),
        ("115/230V ac 50/60Hz", ((115, 115), (230, 230)), (50, 60)),
        ("100-120V/200-240V ac 50/60Hz 600VA", ((100, 120), (200, 240)), (50, 60)),
        ("100/120/220/240V ac", ((100, 100), (120, 120), (220, 220), (240, 240)), ()),
        ("unknown", (), ()),
    ],
)
def test_labels(text, settings, hertz):
    found = read_mains_input(text)
    assert (found.settings, found.hertz) == (settings, hertz)


@pytest.mark.parametrize(
    ("text", "value", "unit"), [("230V ac 0.5A", 0.5, "A"), ("230V ac 500mA", 0.5, "A"), ("230V ac 600VA", 600, "VA"), ("100-240V 40W", 40, "W")]
)
def test_what_a_label_says_of_its_draw(text, value, unit):
    draw = read_mains_input(text).draw
    assert (draw.value, draw.unit) == (value, unit)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("12V dc", "the wall gives ac"),
        ("12V ac 50Hz", "no mains voltage"),
        ("240-100V ac", "smaller end first"),
        ("ac 50Hz", "how many volts"),
        ("230V ac 400Hz", "50 or 60 Hz"),
        ("230V ac 50Hz blue", "`blue`"),
        ("230", "how many volts"),
    ],
)
def test_what_is_no_label_is_refused_with_a_reason(text, says):
    with pytest.raises(Unreadable, match=says):
        read_mains_input(text)


def test_what_a_wall_gives():
    assert read_wall_supply("230V 50Hz").volts == (230,)
    assert read_wall_supply("110/220V 60Hz") == read_wall_supply("110/220V 60Hz") and read_wall_supply("110/220V 60Hz").volts == (110, 220)


@pytest.mark.parametrize(
    ("text", "amps", "speed", "fitted"),
    [
        ("T2A", 2, "T", True),
        ("F500mA", 0.5, "F", True),
        ("13A", 13, "", True),
        ("T 3.15 A H 250 V", 3.15, "T", True),
        ("none", None, "", False),
        ("bridged", None, "", False),
    ],
)
def test_fuses(text, amps, speed, fitted):
    fuse = read_fuse(text)
    assert (fuse.rating.high, fuse.speed, fuse.fitted) == (amps, speed, fitted)


@pytest.mark.parametrize(
    ("text", "solid"), [("0", 0), ("4x", 4), ("IP44", 4), ("ip2x", 2), ("IPXXB", 2), ("IP1XB", 2), ("IPX4", None), ("unknown", None)]
)
def test_degrees_of_protection(text, solid):
    # IEC 60529: the first digit, or an additional letter where it says more (B: not reached by a finger)
    assert read_ingress(text).solid == solid


@pytest.mark.parametrize("text", ["IP99", "closed", "T2", "2 volts"])
def test_what_is_neither_is_refused(text):
    with pytest.raises(Unreadable):
        read_ingress(text)
    with pytest.raises(Unreadable):
        read_fuse(text)


WAYS = """
place: {mains: 230V 50Hz, circuits: {hall: {rating: 16A}}}
amps: {combo: {kind: valve, class: I, load: 460 VA}, other: {class: I, load: 230 VA, circuit: hall}}
supplies: {brick: {class: II, input: 100-240V ac 50/60Hz, load: 115 VA}}
mains:
  inlets: {main: {type: C14, fuse: T4A}}
  feeds: {main: [brick]}
  cords:
    c1: {from: strip, to: combo, cores: 3, earth_lifted: no}
    c2: {to: main, from: strip, rating: 6A}
    c3: {from: main, to: brick, rating: 2.5A}
  blocks: {strip: {outlets: 4, rating: 10A, fed_from: hall}}
  adaptors: {travel: {plugs_on: strip, earth_contact: yes}}
"""


def test_ways_to_the_wall():
    wall = assemble(read(WAYS)).wall
    assert [link.name for link in wall.way("combo")] == ["c1", "strip", "travel"]
    assert [link.name for link in wall.way("brick")] == ["c3", "main", "c2", "strip", "travel"]
    assert wall.circuit("combo") == wall.circuit("brick") == wall.circuit("other") == "hall"
    assert {item.name for item in wall.behind("strip")} == {"combo", "brick"}
    assert {item.name for item in wall.behind("hall")} == {"combo", "brick", "other"}
    assert {link.name for link in wall.links_behind("main")} == {"c3"}


def test_currents_by_hand():
    # 460 VA and 115 VA on the strip at 230 V are 2.5 A; with 230 VA more on the circuit 3.5 A; 0.5 A through the inlet
    amps = {branch.name: branch.most for branch in branches(assemble(read(WAYS)))}
    assert amps == {"strip": approx(2.5), "hall": approx(3.5), "main": approx(0.5), "c2": approx(0.5), "c3": approx(0.5)}


def test_a_supply_that_states_watts():
    # 30 W at 0.8 and a power factor of 0.6: 62.5 VA
    board = assemble(
        read("supplies: {s: {class: II, kind: switch-mode, input: 100-240V ac 50/60Hz, total: 30 W, outlets: {1: 9V dc centre-negative 500mA}}}\n")
    )
    load = board.wall.items["s"].apparent(230)
    assert load.value == approx(62.5) and load.origin is Origin.STATED


def test_a_ring_of_blocks_ends_and_is_said():
    spec = read("mains: {blocks: {a: {fed_from: b}, b: {fed_from: a, feeds: [lamp]}}, loads: {lamp: {load: 40 VA}}}\n")
    board = assemble(spec)
    assert [link.name for link in board.wall.way("lamp")] == ["b", "a"]
    assert {problem.where for problem in spec.problems} == {("mains", "blocks", "a"), ("mains", "blocks", "b")}


def test_a_name_that_is_given_twice_loses_nothing():
    spec = read("amps: {combo: {kind: valve, class: I}}\nmains: {cords: {x: {to: combo, cores: 3, earth_lifted: yes}}, blocks: {x: {outlets: 4}}}\n")
    board = assemble(spec)
    assert any(link.lifted for link in board.wall.links.values())
    assert [problem.kind for problem in spec.problems] == ["name"]


def test_what_has_no_mains_cord_is_no_item():
    text = """
supplies:
  wall: {class: II, input: 230V ac 50Hz}
  converter: {needs: 12V dc centre-positive 500mA, feed: wall.1}
  pack: {kind: battery-pack}
amps: {combo: {class: I}, box: {kind: cabinet}, bus: {kind: interface}, little: {input: none}}
computers: {laptop: {power: battery}, tower: {kind: desktop, power: mains}}
pedals: {echo: {kind: delay, input: 230V ac 50Hz 15VA}, drive: {kind: overdrive}}
"""
    assert set(assemble(read(text, fragment=True)).wall.items) == {"wall", "combo", "tower", "echo"}


def test_a_pedal_with_a_mains_cord_wants_no_other_power():
    device = assemble(read("pedals: {echo: {kind: delay, class: I, input: 230V ac 50Hz 15VA}}\n")).power.devices["echo"]
    assert device.takes_nothing
