"""Earths: every set of amplifiers that can be brought along, one after another, against the promise of one earth."""

from __future__ import annotations

from itertools import combinations
from random import Random

import networkx

from boardwright import check
from gauntlet.faults import earth
from gauntlet.good_boards import good_board
from gauntlet.rig import Rig

_WAYS = (None, None, earth.floating, earth.loop, earth.isolator_left_out, earth.bridged)


def judge(seed: int) -> tuple[int, list[str]]:
    """A board as it is built, or with its grounds changed, by chance."""
    r = Random(seed)
    while len((rig := good_board(seed)).amps) < 2:
        seed += 1
    if change := r.choice(_WAYS):
        change(rig, r)
    rig.sections["promises"] = [{"always": "one-earth"}]
    sets = list(_sets(rig))
    counts = [_earths(rig, amps) for amps in sets]
    holds = all(count == 1 for count in counts)
    told = check(rig.text()).promises[0].kept
    if told == ("holds" if holds else "broken"):
        return len(sets), []
    wrong = [f"{' and '.join(amps)}: {count}" for amps, count in zip(sets, counts, strict=True) if count != 1]
    return len(sets), [f"board {seed}: earths by set {wrong or 'all one'}, and the checker says that the promise {told}"]


def _sets(rig: Rig):
    """Every set of amplifiers that holds all those that always come along."""
    required = {name for name, said in rig.amps.items() if said.get("required") == "yes"}
    for size in range(1, len(rig.amps) + 1):
        yield from (amps for amps in combinations(rig.amps, size) if required <= set(amps))


def _earths(rig: Rig, amps: tuple[str, ...]) -> int:
    """How many earths the guitar's ground has with these amplifiers connected and no others."""
    grounds = networkx.Graph()
    away = set(rig.amps) - set(amps)
    lifted = {name for name, said in rig.section("isolators").items() if said["screen"] == "lifted"}
    for _, start, end in rig.hops():
        a, b = start.split(".")[0], end.split(".")[0]
        if not {a, b} & away:
            grounds.add_edge(a, f"{b} in" if b in lifted else b)
    if rig.hub:
        grounds.add_edges_from(("hub", unit) for loop in rig.hub["loops"].values() for unit in (loop if isinstance(loop, list) else [loop]))
    for lead in rig.sections.get("control", []):
        a, b = lead["from"].split(".")[0], lead["to"].split(".")[0]
        if lead.get("isolated") != "yes" and b not in away:
            grounds.add_edge(a, b)
    together = networkx.node_connected_component(grounds, "guitar")
    return sum(name in together and rig.amps[name]["class"] == "I" for name in amps)
