"""The engine on bare graphs with rings and shared switches, against networkx and against every state."""

from __future__ import annotations

from itertools import product
from random import Random

import networkx as nx
import pytest

from boardwright.board.signal import HEARD, Edge, Graph, How, Node, Role, Signal, Stage, Switch, Switches, SwitchKind
from boardwright.board.signal.diagrams import Diagrams, TooManyStates
from boardwright.board.signal.wiring import Wiring

START, END = Node("guitar", "out"), Node("amp", HEARD)


def by_chance(random: Random, with_rings: bool = True):
    """A graph of a dozen nodes whose edges carry guards over six footswitches and a selector of three."""
    ids = [f"s{n}" for n in range(6)]
    switches = [Switch(id_, SwitchKind.FOOTSWITCH, id_, id_, ()) for id_ in ids]
    switches += [Switch(f"x={way}", SwitchKind.SELECT, "x", way, ()) for way in "abc"]
    nodes = [START, *(Node(f"n{n}", "x") for n in range(9)), END]
    stages = {"guitar": Stage("guitar", Role.SOURCE, (), None), "amp": Stage("amp", Role.AMP, (), None)}
    edges = []
    for number in range(random.randint(10, 22)):
        start, end = random.sample(range(len(nodes)), 2)
        if not with_rings and start > end:
            start, end = end, start
        if nodes[end] == START or nodes[start] == END:
            continue
        guard = dict(
            random.choice([(s.id, True), (s.id, s.kind is SwitchKind.SELECT)]) for s in random.sample(switches, random.choice([0, 0, 1, 1, 2]))
        )
        name = f"box{number}"
        stages[name] = Stage(name, Role.BOX, (), None)
        edges.append(Edge(nodes[start], nodes[end], tuple(guard.items()), stages[name], engaged=True))
    edges.append(Edge(Node("n0", "x"), Node("n0", "y")))
    return Signal(Wiring(stages, Graph(edges), Switches(switches)))


def states(signal):
    """Every possible state, by switch id and by level."""
    for on in product([False, True], repeat=6):
        for way in "abc":
            state = {f"s{n}": is_on for n, is_on in enumerate(on)} | {f"x={each}": each == way for each in "abc"}
            yield state, {signal.switches.level[id_]: is_on for id_, is_on in state.items()}


def live(signal, state):
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(signal.graph.nodes)
    graph.add_edges_from((edge.start, edge.end) for edge in signal.graph.edges if all(state[id_] is on for id_, on in edge.guard))
    return graph


@pytest.mark.parametrize("seed", range(60))
def test_reach_with_rings(seed):
    signal = by_chance(Random(seed))
    if START not in signal.graph.nodes or END not in signal.graph.nodes:
        return
    reach, back = signal.reach(), signal.reach_back(END)
    for state, levels in states(signal):
        graph = live(signal, state)
        ahead, behind = nx.descendants(graph, START) | {START}, nx.ancestors(graph, END) | {END}
        for node in signal.graph.nodes:
            assert signal.diagrams.holds(reach.get(node, 0), levels) == (node in ahead)
            assert signal.diagrams.holds(back.get(node, 0), levels) == (node in behind)


@pytest.mark.parametrize("seed", range(60))
def test_rings(seed):
    signal = by_chance(Random(1000 + seed))
    truth = [not nx.is_directed_acyclic_graph(live(signal, state)) for state, _ in states(signal)]
    assert bool(signal.rings) == any(truth)
    for ring in signal.rings:
        whole = signal.switches.complete(ring.state)
        assert all(whole[id_] is on for edge in ring.way for id_, on in edge.guard)
        assert ring.way[0].start == ring.way[-1].end == ring.node
        assert all(one.end == other.start for one, other in zip(ring.way, ring.way[1:], strict=False))


@pytest.mark.parametrize("seed", range(40))
def test_the_graph_itself_against_networkx(seed):
    signal = by_chance(Random(2000 + seed))
    graph = nx.MultiDiGraph((edge.start, edge.end) for edge in signal.graph.edges)
    rings = {frozenset(part) for part in nx.strongly_connected_components(graph) if len(part) > 1}
    found: dict[int, set[Node]] = {}
    for node, number in signal.graph.ring_of.items():
        found.setdefault(number, set()).add(node)
    assert {frozenset(nodes) for nodes in found.values()} == rings
    for node in graph.nodes:
        assert signal.graph.ahead([node]) == nx.descendants(graph, node) | {node}
        assert signal.graph.behind([node]) == nx.ancestors(graph, node) | {node}
    plain = by_chance(Random(2000 + seed), with_rings=False).graph
    assert all(plain.order[edge.start] < plain.order[edge.end] for edge in plain.edges)


def test_contradictions_name_just_the_switches_they_need():
    kinds = set()
    for seed in range(45):
        signal = by_chance(Random(3000 + seed), with_rings=False)
        if START not in signal.graph.nodes or END not in signal.graph.nodes:
            continue
        heard = _heard(signal)
        for box in list(signal.stages)[2:]:
            proof = signal.never_reaches(box, "amp")
            kinds.add(proof.how)
            assert (box in heard) == (proof.how is How.WITNESS)
            if proof.how is How.CONTRADICTION:
                others = set(signal.switches.level) - set(proof.because)
                assert box not in _heard(signal, others), "the named switches must be enough"
                for id_ in proof.because:
                    assert box in _heard(signal, others | {id_}), "none of them may be idle"
    assert kinds == {How.WIRING, How.CONTRADICTION, How.WITNESS}


def _heard(signal, left_out=frozenset()):
    """The boxes that can be heard in some state, if guards did not ask for the switches that are left out."""
    found = set()
    for state, _ in states(signal):
        open_ = [edge for edge in signal.graph.edges if all(id_ in left_out or state[id_] is on for id_, on in edge.guard)]
        graph = nx.DiGraph((edge.start, edge.end) for edge in open_)
        graph.add_nodes_from([START, END])
        ahead, behind = nx.descendants(graph, START) | {START}, nx.ancestors(graph, END) | {END}
        found |= {edge.stage.name for edge in open_ if edge.stage and edge.start in ahead and edge.end in behind}
    return found


# --- diagrams -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(30))
def test_diagrams_against_truth_tables(seed):
    """A set of states over eight switches as a diagram and as the bits of one number."""
    random, diagrams, count = Random(seed), Diagrams(), 8
    rows = range(1 << count)
    whole = (1 << (1 << count)) - 1
    pool = [(0, 0), (1, whole)]
    for level in range(count):
        pool.append((diagrams.literal(level), sum(1 << row for row in rows if row >> level & 1)))
    for _ in range(45):
        (a, bits_a), (b, bits_b) = random.choice(pool), random.choice(pool)
        pool.append(random.choice([
            (diagrams.both(a, b), bits_a & bits_b), (diagrams.either(a, b), bits_a | bits_b),
            (diagrams.not_(a), whole & ~bits_a), (diagrams.without(a, b), bits_a & ~bits_b),
        ]))  # fmt: skip
    seen: dict[int, int] = {}
    for diagram, bits in pool:
        assert seen.setdefault(bits, diagram) == diagram, "equal sets must have equal numbers"
        for row in random.sample(rows, 20):
            assert diagrams.holds(diagram, {level: bool(row >> level & 1) for level in range(count)}) == bool(bits >> row & 1)
        witness = diagrams.witness(diagram)
        assert (witness is None) == (bits == 0)
        if witness is not None:
            row = sum(1 << level for level, is_on in witness.items() if is_on)
            fewest = min(bin(row).count("1") for row in rows if bits >> row & 1)
            assert bits >> row & 1 and bin(row).count("1") == fewest
            fixed = {level: bool(random.getrandbits(1)) for level in random.sample(range(count), 3)}
            rest = diagrams.fix(diagram, fixed)
            assert not diagrams.switches_of(rest) & set(fixed)
            for row in random.sample(rows, 20):
                state = {level: bool(row >> level & 1) for level in range(count)} | fixed
                assert diagrams.holds(rest, state) == diagrams.holds(diagram, state)


def test_exactly_one():
    diagrams = Diagrams()
    found = diagrams.exactly_one([0, 2, 5])
    for bits in product([False, True], repeat=3):
        assert diagrams.holds(found, dict(zip([0, 2, 5], bits, strict=True))) == (sum(bits) == 1)


def test_a_diagram_may_be_as_deep_as_a_board_is_long():
    diagrams = Diagrams()
    every = diagrams.cube((level, True) for level in range(5000))
    other = diagrams.cube((level, level % 2 == 0) for level in range(5000))
    assert diagrams.both(every, other) == 0
    assert diagrams.not_(diagrams.not_(every)) == every
    assert len(diagrams.witness(every)) == 5000
    assert diagrams.both(every, diagrams.not_(other)) == every


def test_too_many_states_are_said_and_not_gone_through():
    """Pairs of switches that lie far apart make diagrams that double with every pair: the worst order there is."""
    diagrams, found = Diagrams(most=2000), 1
    with pytest.raises(TooManyStates):
        for level in range(20):
            pair = diagrams.cube([(level, True), (level + 20, True)])
            found = diagrams.both(found, diagrams.not_(pair))
