"""Sound: going through the states of the switches one by one, against promises that the checker proves for all at once."""

from __future__ import annotations

from itertools import pairwise, product
from random import Random

import networkx

from boardwright import check
from gauntlet.good_boards import good_board
from gauntlet.rig import Rig

_MOST = 512
"""States that are gone through; boards with more switches are left to their neighbours."""


def judge(seed: int) -> tuple[int, list[str]]:
    """A board with some of its leads moved by chance, and promises about its amplifiers and boxes."""
    r = Random(seed)
    while _count(rig := good_board(seed)) > _MOST or rig.shape == "desk":
        seed += 1
    _move_leads(rig, r)
    tails = [name for name, said in rig.pedals.items() if said["kind"] in ("delay", "reverb", "looper")]
    boxes = [name for name, said in rig.pedals.items() if said["kind"] not in ("expression-pedal", "tuner", "splitter", "di", *tails)]
    wanted = [({"always": {"hears": amp, "from": "guitar", "unless": "quiet"}}, None, amp) for amp in rig.amps]
    wanted += [({"never": {"sound_of": [box], "reaches": amp}}, box, amp) for box in r.sample(boxes, min(4, len(boxes))) for amp in rig.amps]
    rig.sections["promises"] = [promise for promise, _, _ in wanted]
    report = check(rig.text())
    states = [_live(rig, state) for state in _states(rig)]
    differs = []
    for (_, box, amp), answer in zip(wanted, report.promises, strict=True):
        if box is None:
            holds = all(_reach(live, "guitar", amp) for live in states)
        else:
            holds = not any(_on(rig, box, live) and _reach(live, "guitar", box) and _reach(live, box, amp) for live in states)
        if answer.kept == "cannot tell" and box is None and not holds and _wet_only(rig):
            continue  # whether an echo without its dry sound is silent while it is off hangs on the box, and is asked
        if answer.kept != ("holds" if holds else "broken"):
            differs.append(f"board {seed}, {answer.promise} By going through the states it {'holds' if holds else 'is broken'}; the checker says: {answer.kept}")
    return len(wanted), differs


def _loops(rig: Rig) -> dict[int, list[str]]:
    return {number: unit if isinstance(unit, list) else [unit] for number, unit in (rig.hub["loops"].items() if rig.hub else ())}


def _wet_only(rig: Rig) -> list[str]:
    return [name for name, said in rig.pedals.items() if said.get("mix") == "wet-only"]


def _ways(rig: Rig) -> list[str]:
    return list(rig.section("switchers").get("aby", {}).get("select", {})) or [""]


def _count(rig: Rig) -> int:
    return 2 ** (len(_loops(rig)) + len(_wet_only(rig))) * len(_ways(rig))


def _states(rig: Rig):
    """Which loops are in, which boxes that give their effect alone are on, which way is chosen: everything else passes the sound in both positions."""
    loops, wet = list(_loops(rig)), _wet_only(rig)
    for bits in product((False, True), repeat=len(loops) + len(wet)):
        on = dict(zip([*loops, *wet], bits, strict=True))
        for way in _ways(rig):
            yield on, way


def _live(rig: Rig, state) -> networkx.DiGraph:
    on, way = state
    live = networkx.DiGraph()
    live.add_nodes_from(["guitar", *rig.amps, *rig.pedals])
    for _, start, end in rig.hops():
        box, _, jack = start.partition(".")
        if box == "aby" and jack != way:
            continue
        live.add_edge("hub out" if box == "hub" else f"{box} out" if box in on else box, "hub in" if end == "hub" else end.split(".")[0])
    for box in _wet_only(rig):
        if on[box]:
            live.add_edge(box, f"{box} out")
    at = "hub in"
    for number, units in _loops(rig).items():
        after = f"hub {number}"
        if on[number]:
            steps = [at, *units, after]
            live.add_edges_from(pairwise(steps))
        else:
            live.add_edge(at, after)
        at = after
    if rig.hub:
        live.add_edge(at, "hub out")
    return live


def _on(rig: Rig, box: str, live: networkx.DiGraph) -> bool:
    """A box in a loop sounds while the loop is in; any other can be switched on."""
    looped = {unit for units in _loops(rig).values() for unit in units}
    return box not in looped or live.in_degree(box) > 0


def _reach(live: networkx.DiGraph, start: str, end: str) -> bool:
    return networkx.has_path(live, start, end)


def _move_leads(rig: Rig, r: Random) -> None:
    """Sometimes leave a lead out, or plug it in one box further on."""
    what = r.choice(("nothing", "out", "on"))
    inner = [entry for entry, start, end in rig.hops() if start in rig.chain and end in rig.chain]
    if what == "out" and inner:
        rig.audio.remove(r.choice(inner))
    elif what == "on" and inner:
        entry = r.choice(inner)
        start, end = entry["path"].split(" > ")
        after = rig.chain.index(end) + 1
        if after < len(rig.chain):
            entry["path"] = f"{start} > {rig.chain[after]}"
            rig.audio[:] = [each for each in rig.audio if each["path"] != f"{end} > {rig.chain[after]}"]
