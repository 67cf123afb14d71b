"""The ground graph against networkx and against trying every set of amplifiers, on thousands of random rigs.

The oracle below knows nothing of the package: it builds its graph from the random description itself, tries every allowed
set of amplifiers one by one, and counts loops as the difference of two circuit ranks (E − V + C, any textbook on graphs).
"""

from __future__ import annotations

import itertools
import json
import random

import networkx as nx
import pytest

from boardwright.board.assemble import assemble
from boardwright.board.ground import one_earth, smallest_sets
from boardwright.board.ground_bonds import EARTH, Bond, Via
from boardwright.board.ground_paths import Join, by_node, earth_loops, joined, rings, shortest_way
from boardwright.spec.figure import Origin
from boardwright.spec.read import read

# --- random rigs --------------------------------------------------------------------------------------------------

PE = "protective earth"


def _rig(rng: random.Random) -> dict:
    """A description of a rig, as plain choices."""
    amps = [f"amp{number}" for number in range(rng.choice([1, 2, 2, 3, 3, 4]))]
    pedals = [f"box{number}" for number in range(rng.randint(1, 5))]
    rig = {
        "amps": {name: rng.choice(["I", "I", "II", "hard", "none", "soft"]) for name in amps},
        "required": [name for name in amps if rng.random() < 0.25],
        "pedals": pedals,
        "feeds": [],
        "patches": list(itertools.pairwise(pedals)),
        "control": [],
        "usb": [],
        "metal": [],
        "frame_earthed": rng.random() < 0.2,
        "computer": rng.choice([None, None, "battery", "I", "II"]),
        "earthed_supply": rng.random() < 0.15,
        "fed": [name for name in pedals if rng.random() < 0.4],
    }
    for name in amps:
        for _ in range(rng.choice([1, 1, 1, 2])):
            rig["feeds"].append((rng.choice(pedals), name, rng.choice([None, None, "lifted", "lifted", "through"])))
        if rng.random() < 0.3:
            rig["control"].append((rng.choice(pedals), name, rng.random() < 0.5))
        if rng.random() < 0.15:
            rig["metal"].append((name, rng.choice([*pedals, "frame"])))
    if rng.random() < 0.3:
        rig["metal"].append((rng.choice(pedals), "frame"))
    if rig["computer"]:
        rig["usb"].append((rng.choice(pedals), rng.choice(["show", "service"]), rng.random() < 0.3))
    return rig


def _text(rig: dict) -> str:
    """The same as a board's text (JSON is YAML)."""
    amps = {}
    for name, bond in rig["amps"].items():
        amps[name] = {"kind": "solid-state", "class": bond} if bond in ("I", "II") else {"kind": "solid-state", "class": "I", "earth_bond": bond}
        if name in rig["required"]:
            amps[name]["required"] = "yes"
    isolators, audio = {}, [f"guitar > {rig['pedals'][0]}", *(f"{a} > {b}" for a, b in rig["patches"])]
    for number, (start, end, screen) in enumerate(rig["feeds"]):
        if screen is None:
            audio.append(f"{start} > {end}")
        else:
            isolators[f"iso{number}"] = {"kind": "transformer", "screen": screen}
            audio.append(f"{start} > iso{number} > {end}")
    board = {
        "pedals": {
            name: {"kind": "splitter", **({"needs": "9V dc centre-negative 5mA", "feed": "brick.1"} if name in rig["fed"] else {})}
            for name in rig["pedals"]
        },
        "isolators": isolators,
        "amps": amps,
        "supplies": {
            "brick": {
                "class": "I" if rig["earthed_supply"] else "II",
                "isolated": "no",
                "earthed_output": "yes" if rig["earthed_supply"] else "no",
                "outlets": {"1": "9V dc centre-negative 500mA"},
            }
        },
        "audio": audio,
        "control": [{"from": start, "to": f"{end}.channel", "isolated": "yes" if apart else "no"} for start, end, apart in rig["control"]],
        "grounds": [{"between": [a, b], "by": "bracket"} for a, b in rig["metal"]],
        "mains": {"frame_earthed": "yes" if rig["frame_earthed"] else "no"},
    }
    if rig["computer"]:
        board["computers"] = {
            "laptop": {
                "kind": "laptop",
                "power": "battery" if rig["computer"] == "battery" else "charger",
                "class": "II" if rig["computer"] == "battery" else rig["computer"],
            }
        }
        board["usb"] = [{"from": start, "to": "laptop", "when": when, "isolated": "yes" if apart else "no"} for start, when, apart in rig["usb"]]
    return json.dumps({key: value for key, value in board.items() if value})


def _metal(rig: dict, carried: tuple[str, ...]) -> tuple[nx.MultiGraph, list[tuple[str, str]]]:
    """Signal grounds of the rig with some amplifiers, and the hard and soft ways to earth as (node, kind)."""
    graph = nx.MultiGraph()
    graph.add_edge("guitar", rig["pedals"][0])
    graph.add_edges_from(rig["patches"])
    earths = []
    for number, (start, end, screen) in enumerate(rig["feeds"]):
        graph.add_edge(start, f"near{number}" if screen else end if end in carried else f"loose end {number}")
        if screen and end in carried:
            graph.add_edge(f"far{number}", end)
        if screen == "through":
            graph.add_edge(f"near{number}", f"far{number}")
    for start, end, apart in rig["control"]:
        if not apart and end in carried:
            graph.add_edge(start, end)
    for a, b in rig["metal"]:
        if all(end not in rig["amps"] or end in carried for end in (a, b)):
            graph.add_edge(a, b)
    for name in rig["fed"]:
        graph.add_edge(name, "return")
    for start, when, apart in rig["usb"]:
        if when == "show" and not apart:
            graph.add_edge(start, "laptop")
    for name in carried:
        bond = rig["amps"][name]
        if bond in ("I", "hard", "soft"):
            graph.add_node(name)
            earths.append((name, "soft" if bond == "soft" else "hard"))
    for node, there in (("frame", rig["frame_earthed"]), ("return", rig["earthed_supply"]), ("laptop", rig["computer"] == "I")):
        if there:
            graph.add_node(node)
            earths.append((node, "hard"))
    return graph, earths


def _rank(graph: nx.MultiGraph) -> int:
    return graph.number_of_edges() - graph.number_of_nodes() + nx.number_connected_components(graph)


def _exactly_one(rig: dict, carried: tuple[str, ...]) -> bool:
    """Whether this very set of amplifiers leaves exactly one earth."""
    graph, earths = _metal(rig, carried)
    without = _rank(graph)
    graph.add_edges_from((node, PE) for node, kind in earths if kind == "hard")
    loops = _rank(graph) - without  # each mains cord is one edge, so the difference is loops by two cords
    graph.add_edges_from((node, PE) for node, kind in earths if kind == "soft")
    return loops == 0 and PE in graph and nx.has_path(graph, "guitar", PE)


def _all_sets(rig: dict):
    others = [name for name in rig["amps"] if name not in rig["required"]]
    for size in range(len(others) + 1):
        for extra in itertools.combinations(others, size):
            carried = (*rig["required"], *extra)
            if carried:
                yield carried


def test_one_earth_agrees_with_trying_every_set_of_amplifiers():
    rng = random.Random(20)
    holds = broken = 0
    for _ in range(3000):
        rig = _rig(rng)
        expected = all(_exactly_one(rig, carried) for carried in _all_sets(rig))
        spec = read(_text(rig))
        assert not spec.problems, spec.problems
        answer = one_earth(assemble(spec))
        assert answer.holds is expected, (rig, answer)
        assert (answer.witness is None) is expected
        assert answer.proof
        holds, broken = holds + expected, broken + (not expected)
    assert holds > 150 and broken > 1000, (holds, broken)  # both kinds were met often


def test_a_witness_really_breaks_it():
    rng = random.Random(21)
    for _ in range(300):
        rig = _rig(rng)
        answer = one_earth(assemble(read(_text(rig))))
        for carried in answer.floating:
            graph, earths = _metal(rig, carried)
            graph.add_edges_from((node, PE) for node, _ in earths)
            assert PE not in graph or not nx.has_path(graph, "guitar", PE)
        for loop in answer.loops:
            names = [name for name in loop.cords if name in rig["amps"]]
            assert not _exactly_one(rig, tuple(rig["amps"])), (rig, names)


def test_what_cannot_be_told_is_never_told_wrong():
    """Screens that may be lifted or not: a verdict must be right whichever they turn out to be."""
    rng = random.Random(22)
    told = unsure = 0
    for _ in range(300):
        rig = _rig(rng)
        doubtful = [number for number, feed in enumerate(rig["feeds"]) if feed[2] and rng.random() < 0.5]
        text = json.loads(_text(rig))
        for number in doubtful:
            text["isolators"][f"iso{number}"]["screen"] = "unknown"
        answer = one_earth(assemble(read(json.dumps(text))))
        possible = set()
        for choice in itertools.product(["lifted", "through"], repeat=len(doubtful)):
            settled = json.loads(json.dumps(rig))
            for number, screen in zip(doubtful, choice, strict=True):
                settled["feeds"][number][2] = screen
            possible.add(all(_exactly_one(settled, carried) for carried in _all_sets(settled)))
        if answer.holds is None:
            unsure += 1
            assert answer.questions
        else:
            told += 1
            assert possible == {answer.holds}, (rig, doubtful)
    assert told > 100 and unsure > 20, (told, unsure)


# --- loops and rings ----------------------------------------------------------------------------------------------


def _bond(number: int, a, b, via=Via.SCREEN) -> Bond:
    return Bond(a, b, via, f"bond {number}", ("audio", number), owner=f"cord {number}" if EARTH in (a, b) else "")


def _random_bonds(rng: random.Random) -> list[Bond]:
    nodes = [("ground", str(number)) for number in range(rng.randint(2, 14))]
    bonds = [_bond(number, *rng.sample(nodes, 2), via=rng.choice([Via.SCREEN, Via.RETURN])) for number in range(rng.randint(1, 24))]
    earths = rng.sample(nodes, rng.randint(0, len(nodes)))
    return bonds + [_bond(100 + number, node, EARTH, Via.CORD) for number, node in enumerate(earths)]


def _graph(bonds) -> nx.MultiGraph:
    return nx.MultiGraph([(bond.a, bond.b) for bond in bonds])


def test_loop_counts_agree_with_the_circuit_rank():
    rng = random.Random(23)
    for _ in range(1500):
        bonds = _random_bonds(rng)
        signal = [bond for bond in bonds if not bond.to_earth]
        loops = earth_loops(bonds)
        with_earth, without = _graph(bonds), _graph(signal)
        assert len(loops) == _rank(with_earth) - _rank(without)
        assert len(rings(signal)) == _rank(without)
        assert len(rings(bonds)) == _rank(with_earth)
        assert len(nx.cycle_basis(nx.Graph(without))) <= _rank(without)
        for loop in loops:
            assert loop.out.owner != loop.back.owner
            assert _walk(loop.bonds, EARTH) == EARTH
            assert all(not bond.to_earth for bond in loop.way)
        for ring in rings(signal):
            assert _walk(ring, ring[0].a) == ring[0].a


def _walk(bonds, node):
    for bond in bonds:
        assert node in (bond.a, bond.b)
        node = bond.other(node)
    return node


def test_the_textbook_graphs():
    # Circuit rank, tutorialspoint: 5 nodes and 7 edges have 3 independent loops; a cubic graph of 6 nodes has 4.
    five = [("0", "1"), ("1", "2"), ("2", "3"), ("3", "4"), ("4", "0"), ("0", "2"), ("1", "3")]
    assert len(rings([_bond(number, ("ground", a), ("ground", b)) for number, (a, b) in enumerate(five)])) == 3
    cubic = nx.complete_bipartite_graph(3, 3)
    assert len(rings([_bond(number, ("ground", str(a)), ("ground", str(b))) for number, (a, b) in enumerate(cubic.edges)])) == 4


@pytest.mark.parametrize("count", range(1, 9))
def test_amplifiers_on_one_board_close_one_loop_less_than_they_are(count):
    # Derived, and checked by the circuit rank: edges board to amplifier and amplifier to earth give n - 1 loops.
    amps = "\n".join(f"  a{number}: {{kind: valve, class: I}}" for number in range(count))
    audio = ", ".join(f"split > a{number}" for number in range(count))
    board = assemble(read(f"pedals: {{split: {{kind: splitter}}}}\namps:\n{amps}\naudio: [guitar > split, '{audio}']\n"))
    assert len(board.ground.loops) == count - 1
    assert one_earth(board).holds is (count == 1)


def test_shortest_ways_are_as_short_as_networkx_finds_them():
    rng = random.Random(24)
    for _ in range(500):
        bonds = _random_bonds(rng)
        graph = _graph(bonds)
        a, b = rng.sample(sorted(graph.nodes), 2)
        way = shortest_way(by_node(bonds), a, [b])
        if nx.has_path(graph, a, b):
            assert way is not None and len(way) == nx.shortest_path_length(graph, a, b) and _walk(way, a) == b
        else:
            assert way is None
        assert (joined(bonds).find(a) == joined(bonds).find(b)) is (way is not None)


def test_a_chain_of_any_length_is_joined():
    length = 100_000
    join = Join()
    assert all(join.join(number, number + 1) for number in range(length))
    assert not join.join(0, length)


def test_a_doubtful_bond_is_blamed_only_for_what_it_adds():
    node = [("ground", str(number)) for number in range(3)]
    bonds = [_bond(0, node[0], node[1]), _bond(1, node[1], node[2])]
    earths = [_bond(10 + number, each, EARTH, Via.CORD) for number, each in enumerate(node)]
    unsure = Bond(**{field: getattr(earths[0], field) for field in Bond.__slots__} | {"origin": Origin.UNKNOWN, "question": "Is it?"})
    loops = earth_loops([*bonds, unsure, *earths[1:]])
    assert [bool(loop.doubts) for loop in loops] == [False, True]


def test_smallest_sets():
    assert smallest_sets(["a", "b", "c"], ["b"]) == [("b",)]
    assert smallest_sets(["a", "b"], []) == [("a",), ("b",)]


# --- what joins grounds -------------------------------------------------------------------------------------------

TWO = """
pedals: {split: {kind: splitter}}
amps: {one: {kind: valve, class: I}, two: {kind: valve, class: I}}
"""


@pytest.mark.parametrize(
    ("lead", "loops"),
    [
        ("{length: 5 m}", 1),
        ("{screen: both}", 1),
        ("{screen: one}", 0),
        ("{screen: one, cores: 2}", 1),
        ("{screen: one, balanced: yes}", 0),
        ("{screen: none, balanced: yes}", 0),
        ("{cable: loudspeaker, screen: none}", 1),
        ("{screen: unknown}", 0),
    ],
)
def test_what_a_leads_screen_does(lead, loops):
    board = assemble(read(TWO + f"audio: [guitar > split > one, {{path: split > two, lead: {lead}}}]\n"))
    assert len(board.ground.loops) == loops
    assert len(board.ground.possible_loops) == ("unknown" in lead)


@pytest.mark.parametrize(
    ("isolator", "loops", "possible"),
    [
        ("{kind: transformer, screen: lifted}", 0, 0),
        ("{kind: transformer, screen: through}", 1, 0),
        ("{kind: transformer}", 0, 1),
        ("{kind: di, isolating: yes}", 0, 0),
        ("{kind: di, screen: unknown}", 0, 1),
    ],
)
def test_only_a_lifted_screen_keeps_grounds_apart(isolator, loops, possible):
    board = assemble(read(TWO + f"isolators: {{iso: {isolator}}}\naudio: [guitar > split > one, split > iso > two]\n"))
    assert (len(board.ground.loops), len(board.ground.possible_loops)) == (loops, possible)


def test_a_direct_box_hands_its_link_on_without_parting_it():
    text = TWO + "isolators: {box: {kind: di, screen: lifted}}\naudio: [guitar > split > one, split > box, {audio}]\n"
    assert len(assemble(read(text.replace("{audio}", "box.link > two"))).ground.loops) == 1
    assert len(assemble(read(text.replace("{audio}", "box.out > two"))).ground.loops) == 0


def test_a_switcher_with_a_transformer_at_one_output():
    text = """
switchers: {hub: {loops: {1: drive}, outs: {main: after 1, second: {tap: after 1, screen: lifted}}}}
pedals: {drive: {kind: overdrive}}
amps: {one: {kind: valve, class: I, required: yes}, two: {kind: valve, class: I}}
audio: [guitar > hub, hub.main > one, hub.second > two]
"""
    assert one_earth(assemble(read(text))).holds is True
    assert one_earth(assemble(read(text.replace(", screen: lifted", "")))).holds is False


def test_a_splitter_that_isolates_does_not_say_which_output():
    text = """
pedals: {split: {kind: splitter, isolating: yes}}
amps: {one: {kind: valve, class: I, required: yes}, two: {kind: valve, class: I}}
audio: [guitar > split, split.a > one, split.b > two]
"""
    answer = one_earth(assemble(read(text)))
    assert answer.holds is None and "output `a` of `split`" in " ".join(answer.questions)
    switcher = text.replace(
        "pedals: {split: {kind: splitter, isolating: yes}}", "switchers: {split: {kind: splitter, split: [a, b], isolating: yes}}"
    )
    assert one_earth(assemble(read(switcher))).holds is None


def test_radio_has_no_screen():
    text = """
pedals: {rx: {kind: wireless-receiver, needs: none}}
amps: {one: {kind: valve, class: I}}
audio: [rx > one]
"""
    board = assemble(read(text))
    assert not any(bond.hop and bond.hop.is_air for bond in board.ground.screens)
    assert one_earth(board).holds is True


def test_a_lifted_mains_earth_changes_nothing_in_the_graph():
    plain = TWO + "audio: [guitar > split > one, split > two]\n"
    lifted = plain + "mains: {cords: {c2: {to: two, cores: 3, earth_lifted: yes}}}\n"
    for text in (plain, lifted):
        board = assemble(read(text))
        assert len(board.ground.loops) == 1 and one_earth(board).holds is False


def test_midi_screens_join_only_where_the_receiver_joins_them():
    text = """
pedals: {a: {kind: delay}, b: {kind: reverb}}
isolators: {iso: {kind: transformer, screen: lifted}}
amps: {one: {kind: valve, class: I, required: yes}, two: {kind: valve, class: I}}
audio: [guitar > a > one, a > iso > b > two]
midi: [MIDI]
"""
    apart = assemble(read(text.replace("MIDI", "{path: a.midi_out > b.midi_in}")))
    joined_ = assemble(read(text.replace("MIDI", "{path: a.midi_out > b.midi_in, screen: both}")))
    assert not apart.ground.loops and len(joined_.ground.loops) == 1
    assert joined_.ground.side_path(("ground", "iso", "out")) is not None
    assert apart.ground.side_path(("ground", "iso", "out")) is None


@pytest.mark.parametrize(("lifted", "said"), [("yes", True), ("no", False)])
def test_a_promise_of_one_earth_beside_a_lifted_one_says_what_it_counts_with(lifted, said):
    board = assemble(read(f"""
        amps: {{combo: {{kind: valve, class: I, earth_bond: hard}}}}
        audio: [guitar > combo]
        mains: {{cords: {{c1: {{to: combo, cores: 3, earth_lifted: {lifted}}}}}}}
    """))
    answer = one_earth(board)
    assert answer.holds
    assert any("as if every mains earth were in place" in line for line in answer.proof) is said
