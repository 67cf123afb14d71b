"""Direct current: the circuit simulator ngspice against the voltages that the checker works out."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

from boardwright import check
from gauntlet.good_boards import good_board
from gauntlet.rig import Rig, volts

sys.path.append(str(Path(__file__).parents[3] / "tests"))
import spice  # the simulator's door, shared with the tests

_WIRE = 0.0390
"""Ω per metre of flexible copper wire of 0.5 mm² at 20 °C, at most (IEC 60228, class 5)."""
_CONTACT = 0.01
"""Ω; each conductor has a contact at either end, as the checker's page on lost voltage says."""
_AGREE = 1e-4
"""V: as near as the simulator solves and the answer is written down."""


def judge(seed: int) -> tuple[int, list[str]]:
    rig = good_board(seed)
    lengths = _describe(rig, Random(seed))
    netlist, nodes = _network(rig, lengths)
    simulated = spice.node_voltages(netlist, [nodes[name] for name in nodes])
    told = {row.name: row.volts for row in check(rig.text()).power.devices}
    differs = []
    for name, node in nodes.items():
        if told.get(name) is None or abs(told[name] - abs(simulated[node])) > _AGREE:
            differs.append(f"board {seed}, `{name}`: ngspice {abs(simulated[node]):.5f} V, the checker {told.get(name)}")
    return len(nodes), differs


def _describe(rig: Rig, r: Random) -> dict[str, float]:
    """Write every lead and every outlet's resistance into the text, so that nothing is assumed; metres of lead by box."""
    lengths = {}
    for name, box in rig.boxes().items():
        if "outlets" in box:
            box["source"] = f"{r.randint(1, 6) / 10} ohm"
        if "feed" not in box:
            continue
        lengths[name] = r.randint(2, 20) / 10
        feed = box["feed"] if isinstance(box["feed"], dict) else {"from": box["feed"]}
        lead = {"length": f"{lengths[name]} m", "gauge": "0.5 mm²"}
        if "reverses" in feed.get("lead", {}):
            lead["reverses"] = "yes"
        box["feed"] = feed | {"lead": lead}
    return lengths


def _network(rig: Rig, lengths: dict[str, float]) -> tuple[list[str], dict[str, str]]:
    netlist: list[str] = []
    nodes: dict[str, str] = {}
    ohms = {name: float(said["source"].split()[0]) for name, said in rig.supplies.items()}
    boxes = rig.boxes()
    for name in lengths:
        nodes[name] = f"n{len(nodes)}"
    for outlet in {rig.outlet_of(name) for name in lengths}:
        mark = outlet.replace(".", "_")
        netlist += [f"V{mark} v{mark} 0 {volts(rig.gives(outlet))!r}", f"R{mark} v{mark} o{mark} {ohms[outlet.split('.')[0]]!r}"]
    for name, metres in lengths.items():
        feed, outlet = boxes[name]["feed"], rig.outlet_of(name)
        start = nodes[feed["after"]] if "after" in feed else "o" + outlet.replace(".", "_")
        netlist.append(f"R{nodes[name]} {start} {nodes[name]} {2 * (metres * _WIRE + 2 * _CONTACT)!r}")
        given = volts(rig.gives(outlet))
        if "outlets" in boxes[name]:
            netlist += spice.constant_power(nodes[name], nodes[name], rig.watts(name) / 0.85, given)
        elif "digital" in boxes[name]:
            netlist += spice.constant_power(nodes[name], nodes[name], given * rig.drawn(name) / 1000, given)
        else:
            netlist.append(f"I{nodes[name]} {nodes[name]} 0 {rig.drawn(name) / 1000!r}")
    return netlist, nodes
