"""Faults of leads in their places."""

from __future__ import annotations

from random import Random
from typing import Any

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _run(rig: Rig, r: Random, carries: str = "audio", cut: bool = True) -> dict[str, Any] | None:
    may = [run for run in rig.sections.get("runs", []) if run["carries"] == carries and ("cut" in run or not cut)]
    return r.choice(may) if may else None


def _across(rig: Rig) -> tuple[int, int] | None:
    """Width of the frame and a line across it where nothing runs, in front of all boxes."""
    if not rig.rows:
        return None
    return rig.sections["board"]["frame"]["size"][0], 4


@fault("audio-beside-power", "risk", "mains along a lead with sound")
def beside_mains(rig: Rig, r: Random):
    if not (found := _across(rig)):
        return None
    wide, y = found
    if wide < 450:
        return None
    rig.runs.append({"id": "quiet_one", "carries": "audio", "path": [[10, y], [wide - 10, y]]})
    rig.runs.append({"id": "mains_one", "carries": "mains", "path": [[10, y + 15], [wide - 10, y + 15]]})
    return ["quiet_one", "mains_one"]


@fault("bend-too-tight", "risk", "a bend of 5 mm")
def tight(rig: Rig, r: Random):
    if not (run := _run(rig, r)):
        return None
    run["bends"] = [5]
    return [run["id"]]


@fault("crossing-not-square", "advice", "sound that crosses low-voltage AC at a slant")
def slant(rig: Rig, r: Random):
    if not rig.rows:
        return None
    rig.runs.append({"id": "slanting", "carries": "audio", "path": [[100, 0], [220, 120]]})
    rig.runs.append({"id": "heating", "carries": "ac-low", "path": [[100, 60], [220, 60]]})
    return ["slanting", "heating"]


@fault("cut-list-without-allowance", "fault", "a cable cut to the length of the finished lead")
def no_allowance(rig: Rig, r: Random):
    if not (run := _run(rig, r, r.choice(("audio", "dc")))):
        return None
    run["cut"] = run["length"]
    return [run["id"]]


@fault("hot-output-beside-high-gain-input", "risk", "the lead to a fuzz, without a screen, along the lead from it")
def squeal(rig: Rig, r: Random):
    drives = [name for name, said in rig.pedals.items() if said["kind"] in ("overdrive", "distortion") and name in rig.chain]
    if not rig.rows or not drives:
        return None
    name = r.choice(drives)
    rig.pedals[name]["gain"] = "0 to 60 dB"
    into = rig.hop_into(name)["path"]
    onward = next(entry["path"] for entry, start, _ in rig.hops() if start == name)
    rig.sections["runs"] = [run for run in rig.sections.get("runs", []) if run["joins"] not in (into, onward)]
    for name in ("steps", "readings"):  # which tell of leads that are not there any more
        rig.sections.pop(name, None)
    rig.runs.append({"id": "in_1", "carries": "audio", "joins": into, "screen": "none", "path": [[0, 2], [300, 2]], "ties": [50, 200]})
    rig.runs.append({"id": "out_1", "carries": "audio", "joins": onward, "path": [[0, 8], [300, 8]], "ties": [50, 200]})
    return ["in_1", "out_1"]


@fault("lead-length-does-not-suit-path", "fault", "a lead that is shorter than its way")
def too_short(rig: Rig, r: Random):
    if not (run := _run(rig, r, r.choice(("audio", "dc")))):
        return None
    (ax, ay), (bx, by) = run["path"]
    run["length"] = f"{round(0.8 * (abs(ax - bx) + abs(ay - by)))} mm"
    return [run["id"]]


@fault("lead-length-does-not-suit-path", "risk", "a lead with nothing to spare for lifting a box")
def no_slack(rig: Rig, r: Random):
    if not (run := _run(rig, r, "audio")):
        return None
    (ax, ay), (bx, by) = run["path"]
    run["length"] = f"{abs(ax - bx) + abs(ay - by) + 40} mm"
    return [run["id"]]


@fault("no-strain-relief", "risk", "a lead that leaves the board without an anchor")
def no_anchor(rig: Rig, r: Random):
    run = next((run for run in rig.sections.get("runs", []) if run["id"] == "way_in"), None)
    if not run:
        return None
    run["anchor"] = "no"
    rig.hop_from("guitar")["lead"]["anchor"] = "no"
    return [run["id"]]


@fault("no-strain-relief", "risk", "a lead of half a metre that nothing holds")
def untied(rig: Rig, r: Random):
    if not rig.rows or not (found := _across(rig)) or found[0] < 560:
        return None
    rig.runs.append({"id": "dangling", "carries": "audio", "path": [[10, found[1]], [510, found[1]]], "ties": [60]})
    return ["dangling"]


@fault("opening-unsuitable", "risk", "a hole with a bare metal edge")
def bare_edge(rig: Rig, r: Random):
    if "openings" not in rig.sections:
        return None
    rig.sections["openings"]["hole"]["grommet"] = "no"
    return ["hole", "power_1"]


@fault("opening-unsuitable", "fault", "a hole that no plug passes")
def too_narrow(rig: Rig, r: Random):
    if "openings" not in rig.sections:
        return None
    rig.sections["openings"]["hole"]["dia"] = 8
    run = next(run for run in rig.runs if run["id"] == "power_1")
    run["ends"] = ["straight", "straight"]
    return ["hole", "power_1"]


@fault("transformer-near-coil", "risk", "an iron transformer below a wah")
def coil(rig: Rig, r: Random):
    wah = next((said for said in rig.pedals.values() if said["kind"] == "wah" and "at" in said), None)
    may = [name for name, said in rig.supplies.items() if name != "floor_unit"]
    if not wah:
        return None
    name = r.choice(may)
    rig.supplies[name] |= {"kind": "linear-laminated", "under": "yes", "at": [wah["at"][0] - 60, wah["at"][1] + 60], "held_by": "brackets"}
    return [name]
