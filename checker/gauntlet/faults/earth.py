"""Faults of earth, on the signal side and the wall's."""

from __future__ import annotations

from random import Random

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _isolated(rig: Rig, r: Random) -> tuple[str, str] | None:
    """An isolator, and the amplifier behind it."""
    isolators = list(rig.section("isolators"))
    if not isolators:
        return None
    iso = r.choice(isolators)
    return iso, next(end for _, start, end in rig.hops() if start == iso)


@fault("mains-earth-lifted", "danger", "a cord whose earth is interrupted")
def lifted(rig: Rig, r: Random):
    cords = rig.mains.get("cords")
    if not cords:
        return None
    name = r.choice(list(cords))
    cords[name]["earth_lifted"] = "yes"
    return [name, cords[name]["to"]]


@fault("amplifiers-not-on-exactly-one-earth", "fault", "no amplifier that is always there, and one that is isolated from every earth")
def floating(rig: Rig, r: Random):
    if not rig.section("isolators"):
        return None
    for said in rig.amps.values():
        said.pop("required", None)
    return [name for name in rig.amps if name != "amp_1"]


@fault("earth-loop-closed", "risk", "an isolator whose screen passes through")
def loop(rig: Rig, r: Random):
    if not (found := _isolated(rig, r)):
        return None
    rig.section("isolators")[found[0]]["screen"] = "through"
    return [*found, "amp_1"]


@fault("earth-loop-closed", "risk", "an isolator left out")
def isolator_left_out(rig: Rig, r: Random):
    if not (found := _isolated(rig, r)):
        return None
    iso, amp = found
    into, onward = rig.hop_into(iso), rig.hop_from(iso)
    onward["path"] = f"{into['path'].split(' > ')[0]} > {amp}"
    rig.audio.remove(into)
    del rig.section("isolators")[iso]
    return [amp, "amp_1"]


@fault("isolation-bridged-by-side-path", "fault", "a channel lead that joins the grounds on both sides of an isolator")
def bridged(rig: Rig, r: Random):
    if not rig.section("isolators") or not rig.hub:
        return None
    iso, amp = _isolated(rig, r)
    rig.hub.setdefault("relays", {})["r9"] = {"contact": "normally-open", "floating": "no"}
    rig.sections.setdefault("control", []).append({"from": "hub.r9", "to": f"{amp}.channel", "plug": "TS", "isolated": "no", "length": "6 m"})
    return [iso, amp]


@fault("isolation-transformer-misplaced", "risk", "an isolator straight behind the pickup")
def isolator_first(rig: Rig, r: Random):
    if rig.sections["guitar"]["pickups"] == "active":
        return None
    rig.insert(rig.hop_from("guitar"), "iso_early", {"kind": "transformer", "ratio": "1:1", "zin": "10k", "screen": "through"}, "isolators")
    return ["iso_early"]


@fault("usb-closes-earth-loop", "risk", "an earthed computer that stays plugged in during the show")
def computer(rig: Rig, r: Random):
    digital = [name for name, said in rig.pedals.items() if "digital" in said]
    if not digital or next(iter(rig.amps.values()))["class"] != "I" or rig.shape == "desk":
        return None
    name = r.choice(digital)
    rig.section("computers")["laptop"] = {"kind": "laptop", "power": "charger", "class": "I", "earth_bond": "hard"}
    rig.sections.setdefault("usb", []).append({"from": name, "to": "laptop", "when": "show"})
    return ["laptop", name]


@fault("amplifiers-on-different-circuits", "risk", "two amplifiers on two circuits, and no isolator between them")
def two_circuits(rig: Rig, r: Random):
    if not (found := _isolated(rig, r)):
        return None
    iso, amp = found
    rig.section("isolators")[iso]["screen"] = "through"
    rig.mains["blocks"]["block"]["feeds"].remove(amp)
    rig.sections["place"]["circuits"]["far_side"] = {"rating": "16 A", "dimmer": "no"}
    rig.mains["cords"][f"cord_{amp}"]["from"] = "wall"
    rig.amps[amp]["circuit"] = "far_side"
    return [amp, "amp_1"]


@fault("amplifiers-on-different-circuits", "risk", "a circuit with a dimmer")
def dimmer(rig: Rig, r: Random):
    rig.sections["place"]["circuits"]["stage"]["dimmer"] = "yes"
    return ["stage", *rig.amps]


@fault("screen-left-open", "fault", "a plain lead whose screen ends at one side")
def screen_open(rig: Rig, r: Random):
    entry = r.choice([entry for entry, _, end in rig.hops() if not end.startswith("desk")])
    entry.setdefault("lead", {}).update({"balanced": "no", "screen": "one", "cores": 1})
    return [entry["path"]]
