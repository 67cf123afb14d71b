"""Faults of building, of what lies in the lid, and of upkeep."""

from __future__ import annotations

from random import Random
from typing import Any

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _read(rig: Rig, what: str) -> list[dict[str, Any]]:
    """Readings of one quantity."""
    return [each for each in rig.sections.get("readings", []) if each["what"] == what]


@fault("build-steps-out-of-order", "risk", "the second row wired before the first was heard")
def heard_late(rig: Rig, r: Random):
    steps = rig.sections.get("steps", [])
    if max((step["row"] for step in steps if "row" in step), default=1) < 2:
        return None
    steps.remove(heard := {"do": "listen", "row": 1})
    steps.append(heard)
    return ["audio of row 2", "listen of row 1"]


@fault("build-steps-out-of-order", "risk", "a row that was heard without having been measured")
def not_measured(rig: Rig, r: Random):
    if not (steps := rig.sections.get("steps")):
        return None
    row = r.choice([step["row"] for step in steps if step["do"] == "meter"])
    steps.remove({"do": "meter", "row": row})
    return [f"{do} of row {row}" for do in ("listen", "audio", "power", "meter")]


@fault("lead-not-proved-before-use", "risk", "a power lead that nobody measured")
def not_proved(rig: Rig, r: Random):
    # One reading is enough for a bought daisy chain: its further plugs are on the lead that was measured at the first.
    volts = [each for each in _read(rig, "volts") if not rig.is_further_plug(each["where"])]
    if not volts:
        return None
    forgotten = r.choice(volts)
    rig.sections["readings"].remove(forgotten)
    name = forgotten["where"]
    return [name, *(run["id"] for run in rig.sections.get("runs", []) if run["joins"] == f"{rig.outlet_of(name)} > {name}")]


@fault("lead-not-proved-before-use", "risk", "a hand-made lead that nobody bent")
def not_bent(rig: Rig, r: Random):
    if not (ohms := _read(rig, "ohms")):
        return None
    name = r.choice(ohms[0]["where"])
    ohms[0]["where"].remove(name)
    return [name]


@fault("reading-differs-from-prediction", "fault", "a plug at which half of the volts were read")
def too_few_volts(rig: Rig, r: Random):
    if not (volts := _read(rig, "volts")):
        return None
    odd = r.choice(volts)
    odd["got"] = f"{float(odd['got'].split()[0]) / 2:g} V"
    return [odd["where"]]


@fault("reading-differs-from-prediction", "fault", "a plug at which plus and minus have changed places")
def wrong_way_round(rig: Rig, r: Random):
    if not (volts := _read(rig, "volts")):
        return None
    odd = r.choice(volts)
    odd["got"] = f"{-float(odd['got'].split()[0]):g} V"
    return [odd["where"]]


@fault("no-spare-for-critical-lead", "risk", "no long lead in the lid")
def no_long_lead(rig: Rig, r: Random):
    if not rig.on_stage:
        return None
    rig.sections["spares"] = [spare for spare in rig.sections["spares"] if spare["carries"] != "audio" or not spare["length"].endswith(" m")]
    return [entry["path"] for entry in rig.audio if "lead" in entry]


@fault("no-rescue-path", "risk", "no lead in the lid that goes from the guitar to an amplifier")
def no_rescue(rig: Rig, r: Random):
    if not rig.on_stage:
        return None
    for spare in rig.sections["spares"]:
        spare.pop("rescue", None)
    return [*rig.supplies, "hub"]


@fault("labels-and-handover-incomplete", "advice", "a touring board without its power map")
def no_map(rig: Rig, r: Random):
    if rig.sections["board"]["for"] != "tour":
        return None
    rig.sections["papers"].remove("power-map")
    return ["papers"]


@fault("half-split-points-missing", "advice", "ten boxes in a row with their jacks between them")
def no_doorway(rig: Rig, r: Random):
    if not rig.on_stage or rig.hub or len(rig.chain) < 10:
        return None
    for name in ("runs", "openings", "steps", "readings"):
        rig.sections.pop(name, None)
    for name, box in rig.boxes().items():
        box.pop("at", None)
        if name in rig.pedals:
            box["jacks"] = "side"
    return rig.chain


@fault("upkeep-overdue", "risk", "cords that nobody tested for three years")
def not_tested(rig: Rig, r: Random):
    if "upkeep" not in rig.sections:
        return None
    rig.sections["upkeep"]["mains_test"] = "2027-05-01"
    return ["mains test"]
