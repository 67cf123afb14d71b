"""Leads whose death means silence, against taking each lead away and asking networkx, on graphs made by chance."""

from __future__ import annotations

import random
from itertools import pairwise

import networkx
import pytest

from boardwright.board.assemble import assemble
from boardwright.board.bench.lifelines import audio_lifelines, bridges, group_feeds
from boardwright.board.signal.graph import Edge, Graph, Node
from boardwright.spec.read import read


def _by_chance(seed: int) -> tuple[Graph, list[Node], set[Node]]:
    luck = random.Random(seed)
    nodes = [Node(f"n{number}", "x") for number in range(luck.randint(3, 9))]
    edges = [Edge(luck.choice(nodes), luck.choice(nodes)) for _ in range(luck.randint(3, 16))]
    return Graph(edges), luck.sample(nodes, luck.randint(1, 2)), set(luck.sample(nodes, luck.randint(1, 2)))


def _reaches(edges: list[Edge], starts: list[Node], ends: set[Node]) -> bool:
    graph = networkx.MultiDiGraph()
    graph.add_nodes_from([*starts, *ends])
    graph.add_edges_from((edge.start, edge.end) for edge in edges)
    return any(networkx.has_path(graph, start, end) for start in starts for end in ends)


def test_bridges_are_what_cuts_every_way():
    some = 0
    for seed in range(3000):
        graph, starts, ends = _by_chance(seed)
        found = bridges(graph, starts, ends, lambda edge: True)
        if not _reaches(graph.edges, starts, ends) or set(starts) & ends:
            assert found == [], seed
            continue
        cuts = [edge for edge in graph.edges if not _reaches([each for each in graph.edges if each is not edge], starts, ends)]
        assert {id(edge) for edge in found} == {id(edge) for edge in cuts}, seed
        some += bool(cuts)
    assert some > 300


def test_a_long_chain_is_all_bridges_and_takes_no_recursion():
    nodes = [Node(str(number), "x") for number in range(20_000)]
    edges = [Edge(a, b) for a, b in pairwise(nodes)]
    assert bridges(Graph(edges), nodes[:1], {nodes[-1]}, lambda edge: True) == edges


def lifelines(text: str) -> list[str]:
    return [f"{hop.start.thing} > {hop.end.thing}" for hop in audio_lifelines(assemble(read(text, fragment=True)))]


@pytest.mark.parametrize(
    ("text", "due"),
    [
        ("audio: [guitar > a > b > combo]", ["guitar > a", "a > b", "b > combo"]),
        ("audio: [guitar > a, a.out_l > one, a.out_r > two]", ["guitar > a"]),
        ("amps: {one: {kind: valve, required: yes}, two: {kind: valve}}\naudio: [guitar > a, a.out_l > one, a.out_r > two]", ["guitar > a", "a > one"]),
        ("switchers: {hub: {loops: {'1': a}}}\naudio: [guitar > hub > combo]", ["guitar > hub", "hub > combo"]),
        ("pedals: {radio: {kind: wireless-receiver}}\naudio: [radio > combo]", ["radio > combo"]),
        ("switchers: {aby: {select: {a: one, b: two}}}\naudio: [guitar > aby]", ["guitar > aby", "aby > one"]),
        ("audio: [a > b]", ["a > b"]),
    ],
)
def test_lifelines_of_small_boards(text, due):
    assert lifelines(text) == due


def test_group_feeds_are_those_of_supplies_and_of_daisy_chains():
    text = """
supplies:
  floor: {outlets: {1: 24V dc centre-positive 2A 4-pin}}
  under: {feed: floor.1, needs: 24V dc centre-positive 1A 4-pin, outlets: {1: 9V dc centre-negative 500mA, 2: 9V dc centre-negative 500mA}}
pedals:
  a: {needs: 9V dc centre-negative 20mA, feed: under.1}
  b: {needs: 9V dc centre-negative 20mA, feed: {from: under.1, after: a}}
  c: {needs: 9V dc centre-negative 20mA, feed: under.2}
"""
    assert [device.name for device, _ in group_feeds(assemble(read(text, fragment=True)))] == ["a", "under"]
