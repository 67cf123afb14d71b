"""Faults between the wall and the supply, as a description states them."""

from __future__ import annotations

from random import Random
from typing import Any

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _corded(rig: Rig) -> dict[str, dict[str, Any]]:
    return {name: said for name, said in {**rig.amps, **rig.supplies}.items() if "input" in said}


def _on_board(rig: Rig, made_by: str, **enclosure: Any) -> list[str]:
    rig.mains.update({"on_board": "yes", "made_by": made_by, "enclosure": enclosure})
    return ["enclosure", "mains", "board", "frame"]


@fault("mains-work-needs-qualified-person", "danger", "loose mains wiring on the board that was made at home")
def home_made(rig: Rig, r: Random):
    rig.mains.update({"on_board": "yes", "made_by": "self", "loose_wiring": "yes"})
    return ["mains"]


@fault("mains-work-needs-qualified-person", "danger", "a part without a safety mark")
def no_mark(rig: Rig, r: Random):
    name = r.choice(list(_corded(rig)))
    _corded(rig)[name]["mark"] = "no"
    return [name]


@fault("frame-without-protective-earth", "danger", "a metal enclosure without an earth")
def unearthed(rig: Rig, r: Random):
    return _on_board(rig, "self", material="metal", earthed="no", ip=40, needs_tool="yes", compartment="own")


@fault("live-parts-reachable", "danger", "an open enclosure")
def open_enclosure(rig: Rig, r: Random):
    return _on_board(rig, "self", material="wood", ip=0, needs_tool="no")


@fault("live-parts-reachable", "danger", "a damaged cord")
def damaged(rig: Rig, r: Random):
    if not (cords := rig.mains.get("cords")):
        return None
    name = r.choice(list(cords))
    cords[name]["damaged"] = "yes"
    return [name, cords[name]["to"]]


@fault("mains-supply-mismatch", "danger", "a label of 120 V alone where the wall gives 230 V")
def made_for_less(rig: Rig, r: Random):
    if rig.sections["place"]["country"] == ["US"]:
        return None
    name = r.choice(list(_corded(rig)))
    _corded(rig)[name]["input"] = "120V ac 60Hz"
    return [name]


@fault("mains-supply-mismatch", "fault", "a label of 230 V alone where the wall gives 120 V")
def made_for_more(rig: Rig, r: Random):
    if rig.sections["place"]["country"] != ["US"]:
        return None
    name = r.choice(list(_corded(rig)))
    _corded(rig)[name]["input"] = "230V ac 50Hz"
    return [name]


@fault("class-one-without-earth-contact", "danger", "an adaptor without earth contacts on the cord of a class I unit")
def adaptor(rig: Rig, r: Random):
    if not (cords := rig.mains.get("cords")):
        return None
    name = r.choice(list(cords))
    rig.mains["adaptors"] = {"travel": {"plugs_on": name, "earth_contact": "no"}}
    return [cords[name]["to"], "travel"]


@fault("class-one-without-earth-contact", "danger", "a cord of two cores on a class I unit")
def two_cores(rig: Rig, r: Random):
    if not (cords := rig.mains.get("cords")):
        return None
    name = r.choice(list(cords))
    cords[name]["cores"] = 2
    return [cords[name]["to"], name]


@fault("fuse-missing-or-wrong", "danger", "a fuse that lets more through than the cord behind it carries")
def fuse_too_great(rig: Rig, r: Random):
    if not (cords := rig.mains.get("cords")):
        return None
    name = r.choice(list(cords))
    cords[name]["rating"] = "2.5 A"
    rig.mains["blocks"]["block"]["fuse"] = "T10A"
    return ["block", name]


@fault("fuse-missing-or-wrong", "danger", "an inlet of home-made mains without a fuse")
def no_fuse(rig: Rig, r: Random):
    _on_board(rig, "self", material="wood", ip=40, needs_tool="yes", compartment="own")
    rig.mains["inlets"] = {"inlet": {"type": "C14", "rating": "10 A", "fuse": "none"}}
    return ["inlet", "mains"]


@fault("mains-current-over-rating", "danger", "an amplifier that takes more than its block may carry")
def overloaded(rig: Rig, r: Random):
    name = r.choice(list(rig.amps))
    rig.amps[name]["load"] = f"{r.randint(4000, 6000)} VA"
    return ["block", name, f"cord_{name}", "stage"]


@fault("mains-current-over-rating", "risk", "a block nearly at its rating")
def nearly(rig: Rig, r: Random):
    name = r.choice(list(rig.amps))
    others = sum(int(said["load"].split()[0]) for other, said in rig.amps.items() if other != name)
    volt = 120 if rig.sections["place"]["country"] == ["US"] else 230
    supplies = sum(int(said["total"].split()[0]) for said in _corded(rig).values() if "total" in said) / 0.6
    rig.amps[name]["load"] = f"{round(0.9 * 15 * volt - others - supplies)} VA"
    rig.mains.get("cords", {}).get(f"cord_{name}", {})["rating"] = "16 A"
    return ["block"]


@fault("mains-shares-space-with-signal", "danger", "mains in one compartment with signal, without a sheath")
def shared_space(rig: Rig, r: Random):
    return _on_board(rig, "electrician", compartment="shared", sheathed="no")


@fault("more-than-one-mains-inlet", "risk", "two mains leads to a board for the stage")
def two_inlets(rig: Rig, r: Random):
    if not rig.on_stage:
        return None
    rig.mains["inlets"] = {"left": {"type": "C14", "rating": "10 A"}, "right": {"type": "C8", "rating": "2.5 A"}}
    return ["left", "right"]


@fault("no-residual-current-protection", "danger", "outdoors without a residual-current device")
def outdoors(rig: Rig, r: Random):
    rig.sections["place"] |= {"outdoor": "yes", "rcd": "none"}
    return ["place"]


@fault("no-residual-current-protection", "danger", "in the damp behind a device that trips too late")
def damp(rig: Rig, r: Random):
    rig.sections["place"] |= {"damp": "yes", "rcd": "300 mA"}
    return ["place"]


@fault("adaptors-crowd-extension-block", "danger", "three blocks one behind the other")
def blocks_in_a_row(rig: Rig, r: Random):
    blocks = rig.mains["blocks"]
    blocks |= {"second": {"outlets": 4, "rating": "15 A", "fed_from": "third"}, "third": {"outlets": 4, "rating": "15 A", "fed_from": "stage"}}
    blocks["block"]["fed_from"] = "second"
    return ["block", "second", "third"]


@fault("adaptors-crowd-extension-block", "risk", "two blocks one behind the other")
def two_blocks(rig: Rig, r: Random):
    blocks = rig.mains["blocks"]
    blocks["second"] = {"outlets": 4, "rating": "15 A", "fed_from": "stage"}
    blocks["block"]["fed_from"] = "second"
    return ["block", "second"]
