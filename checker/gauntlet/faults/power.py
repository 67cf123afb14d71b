"""Faults between the supply and the socket."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from random import Random
from typing import Any, TypeAlias

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig, volts, with_milliamps

Spoil: TypeAlias = "Callable[[Rig, Random, str], Iterable[str] | None]"
"""Does harm to a box in place; gives the names of what the fault sits on besides that box."""


def _alone(rig: Rig, r: Random, least: int = 0, nine: bool = True) -> str | None:
    """A box that has its outlet for itself."""
    may = [name for name in rig.alone() if rig.drawn(name) >= least and "centre-positive" not in rig.boxes()[name]["needs"]]
    may = [name for name in may if not nine or rig.boxes()[name]["needs"].startswith("9V")]
    return r.choice(may) if may else None


def one_box(rule: str, severity: str, what: str, least: int = 0) -> Callable[[Spoil], Spoil]:
    """As ``fault``, of a box for 9 V that has its outlet for itself and draws so many milliamperes at least."""

    def note(spoil: Spoil) -> Spoil:
        @fault(rule, severity, what)
        def breaks(rig: Rig, r: Random) -> list[str] | None:
            name = _alone(rig, r, least)
            return [name, *(spoil(rig, r, name) or ())] if name else None

        return spoil

    return note


def _lead(rig: Rig, name: str, **lead: Any) -> None:
    rig.boxes()[name]["feed"] = {"from": rig.outlet_of(name), "lead": lead}


@one_box("supply-voltage-outside-range", "fault", "an outlet of 18 V under a box for 9 V")
def too_high(rig: Rig, r: Random, name: str):
    rig.give(rig.outlet_of(name), rig.gives(rig.outlet_of(name)).replace("9V", "18V"))


@one_box("supply-voltage-outside-range", "fault", "a box for 18 V on an outlet of 9 V")
def too_low(rig: Rig, r: Random, name: str):
    box = rig.boxes()[name]
    box["needs"] = box["needs"].replace("9V", "18V")


@one_box("ac-dc-mismatch", "fault", "a box for DC on an outlet of AC")
def alternating(rig: Rig, r: Random, name: str):
    rig.give(rig.outlet_of(name), "9V ac 1000mA")


@one_box("plug-polarity-reversed", "fault", "a lead that swaps plus and minus under an ordinary box")
def reversed_lead(rig: Rig, r: Random, name: str):
    _lead(rig, name, reverses="yes")


@one_box("plug-polarity-reversed", "fault", "a box that wants plus inside on an outlet with minus inside")
def other_polarity(rig: Rig, r: Random, name: str):
    box = rig.boxes()[name]
    box["needs"] = box["needs"].replace("negative", "positive")


@one_box("plug-polarity-reversed", "risk", "two leads that swap plus and minus, one behind the other")
def twice_reversed(rig: Rig, r: Random, name: str):
    rig.boxes()[name]["feed"] = {"from": rig.outlet_of(name), "leads": [{"reverses": "yes"}, {"reverses": "yes"}]}


@one_box("power-plug-does-not-fit", "fault", "a 2.1 mm plug for a socket of 2.5 mm")
def plug_too_tight(rig: Rig, r: Random, name: str):
    rig.boxes()[name]["needs"] += " 5.5x2.5"
    _lead(rig, name, plug="5.5x2.1")


@one_box("power-plug-does-not-fit", "risk", "a 2.5 mm plug on a pin of 2.1 mm")
def plug_too_loose(rig: Rig, r: Random, name: str):
    rig.boxes()[name]["needs"] += " 5.5x2.1"
    _lead(rig, name, plug="5.5x2.5")


@one_box("device-not-fed-exactly-once", "fault", "no feed")
def not_fed(rig: Rig, r: Random, name: str):
    del rig.boxes()[name]["feed"]


@fault("device-not-fed-exactly-once", "fault", "two feeds")
def fed_twice(rig: Rig, r: Random):
    free = rig.free_outlets()
    if not (name := _alone(rig, r)) or not free:
        return None
    rig.boxes()[name]["feed"] = [rig.outlet_of(name), r.choice(free)]
    return [name]


@one_box("device-not-fed-exactly-once", "fault", "an outlet that does not exist")
def fed_from_nowhere(rig: Rig, r: Random, name: str):
    rig.boxes()[name]["feed"] = rig.outlet_of(name).split(".")[0] + ".99"


def _rate(rig: Rig, r: Random, share: float) -> list[str] | None:
    """Rate an outlet so that its box takes this share of it."""
    if not (name := _alone(rig, r, least=30, nine=False)):
        return None
    outlet = rig.outlet_of(name)
    rig.give(outlet, with_milliamps(rig.gives(outlet), round(rig.drawn(name) / share)))
    return [name, outlet]


@fault("outlet-current-overdrawn", "fault", "an outlet rated for less than its box draws")
def overdrawn(rig: Rig, r: Random):
    return _rate(rig, r, r.uniform(1.1, 2))


@fault("outlet-current-overdrawn", "fault", "a chain of boxes that asks for more than its outlet gives")
def overdrawn_chain(rig: Rig, r: Random):
    may = [name for name in rig.alone() if rig.drawn(name) >= 30]
    if len(may) < 2:
        return None
    first, second = r.sample(may, 2)
    outlet = rig.outlet_of(first)
    rig.give(outlet, with_milliamps(rig.gives(outlet), round((rig.drawn(first) + rig.drawn(second)) / 1.2)))
    rig.boxes()[second]["feed"] = {"from": outlet, "after": first}
    return [outlet]


@fault("outlet-headroom-thin", "risk", "a box that takes nine tenths of its outlet")
def thin(rig: Rig, r: Random):
    return _rate(rig, r, r.uniform(0.86, 0.95))


@one_box("start-up-surge-exceeds-outlet", "risk", "a stated gulp above the outlet's stated peak", least=30)
def gulp(rig: Rig, r: Random, name: str):
    outlet = rig.outlet_of(name)
    most = round(rig.drawn(name) * 1.6)
    rig.give(outlet, {"gives": rig.gives(outlet), "peak": f"{most} mA"})
    rig.boxes()[name]["start"] = f"{round(most * r.uniform(1.2, 2))} mA"
    return [outlet]


def _total(rig: Rig, r: Random, share: float) -> list[str] | None:
    may = [name for name in rig.supplies if name != "floor_unit" and rig.watts(name) > 1]
    if not may:
        return None
    name = r.choice(may)
    rig.supplies[name]["total"] = f"{rig.watts(name) / share:.2f} W"
    return [name]


@fault("supply-total-exceeded", "fault", "a supply whose total is below what its boxes take")
def total_exceeded(rig: Rig, r: Random):
    return _total(rig, r, r.uniform(1.1, 1.8))


@fault("supply-total-exceeded", "risk", "a supply of which nine tenths are taken")
def total_thin(rig: Rig, r: Random):
    return _total(rig, r, r.uniform(0.85, 0.95))


def _join_noisy(rig: Rig, r: Random) -> list[str] | None:
    """Hang a thirsty digital box behind a drive, on an outlet that is strong enough for both."""
    loud = [name for name in rig.alone() if rig.pedals.get(name, {}).get("kind") in ("overdrive", "distortion")]
    noisy = [name for name in rig.alone() if "digital" in rig.boxes()[name] and rig.drawn(name) >= 150]
    if not loud or not noisy:
        return None
    drive, digital = r.choice(loud), r.choice(noisy)
    outlet = rig.outlet_of(drive)
    rig.give(outlet, with_milliamps(rig.gives(outlet), 2 * (rig.drawn(drive) + rig.drawn(digital))))
    rig.boxes()[digital]["feed"] = {"from": outlet, "after": drive}
    return [drive, digital, outlet]


@fault("shared-outlet-carries-digital-noise", "risk", "a digital box behind a drive on one outlet")
def digital_noise(rig: Rig, r: Random):
    return _join_noisy(rig, r)


@fault("thirsty-digital-shares-outlet", "risk", "a thirsty digital box behind a drive on one outlet")
def thirsty(rig: Rig, r: Random):
    return _join_noisy(rig, r)


def _positive(rig: Rig) -> str | None:
    """A fuzz of positive ground."""
    return next((name for name, said in rig.pedals.items() if said.get("ground") == "positive"), None)


@fault("positive-ground-shorts-shared-supply", "fault", "a positive-ground fuzz on a chain with an ordinary box")
def positive_ground(rig: Rig, r: Random):
    fuzz = _positive(rig)
    other = _alone(rig, r)
    if not fuzz or not other:
        return None
    outlet = rig.outlet_of(other)
    rig.boxes()[fuzz]["feed"] = {"from": outlet, "after": other, "lead": {"reverses": "yes"}}
    rig.give(outlet, with_milliamps(rig.gives(outlet), 2 * rig.drawn(other) + 50))
    return [fuzz, other, outlet]


@fault("positive-ground-shorts-shared-supply", "fault", "a positive-ground fuzz on a supply whose outlets share their return")
def positive_ground_not_isolated(rig: Rig, r: Random):
    if not (fuzz := _positive(rig)):
        return None
    supply = rig.outlet_of(fuzz).split(".")[0]
    rig.supplies[supply]["isolated"] = "no"
    return [fuzz, rig.outlet_of(fuzz), supply]


def _combine(rig: Rig, r: Random, mode: str) -> list[str] | None:
    """Feed a box from its outlet and a free one of the same supply; in series the box then wants both voltages."""
    name = _alone(rig, r)
    free = [each for each in rig.free_outlets() if name and each.split(".")[0] == rig.outlet_of(name).split(".")[0]]
    if not name or not free:
        return None
    joined = [rig.outlet_of(name), free[0]]
    box = rig.boxes()[name]
    box["feed"] = {"from": joined, "mode": mode}
    if mode == "series":
        box["needs"] = box["needs"].replace("9V", "18V")
    return [name, *joined]


@fault("outlets-combined-without-permission", "fault", "two outlets in parallel that may not be")
def paralleled(rig: Rig, r: Random):
    return _combine(rig, r, "parallel")


@fault("outlets-combined-without-permission", "fault", "two outlets in series that share their return")
def stacked(rig: Rig, r: Random):
    if not (things := _combine(rig, r, "series")):
        return None
    rig.supplies[things[1].split(".")[0]]["isolated"] = "no"
    return things


@fault("outlets-combined-without-permission", "risk", "two isolated outlets in series that nobody says may be")
def stacked_unsaid(rig: Rig, r: Random):
    return _combine(rig, r, "series")


def _thin_wire(rig: Rig, name: str, lost: float) -> None:
    """A lead of 28 AWG (0.213 Ω for each metre of one conductor) that loses so many volts there and back."""
    metres = lost / (rig.drawn(name) / 1000) / (2 * 0.213)
    _lead(rig, name, length=f"{math.ceil(metres * 10) / 10:g} m", gauge="28 AWG")


@one_box("voltage-lost-before-device", "risk", "a lead that loses a fourteenth of the voltage", least=150)
def volts_lost(rig: Rig, r: Random, name: str):
    _thin_wire(rig, name, 0.07 * volts(rig.boxes()[name]["needs"]))


@one_box("voltage-lost-before-device", "fault", "a lead that loses a sixth of the voltage", least=150)
def too_many_volts_lost(rig: Rig, r: Random, name: str):
    _thin_wire(rig, name, 0.17 * volts(rig.boxes()[name]["needs"]))


@fault("stiff-supply-under-germanium-fuzz", "advice", "a fuzz that likes a weak battery on a strong outlet")
def stiff(rig: Rig, r: Random):
    fuzz = next((name for name, said in rig.pedals.items() if said["kind"] == "fuzz"), None)
    if not fuzz:
        return None
    rig.pedals[fuzz]["wants"] = ["direct-pickup", "weak-battery"]
    return [fuzz]


@fault("no-spare-outlet", "advice", "a stage board with every outlet taken away that was free")
def no_spare(rig: Rig, r: Random):
    if not rig.on_stage:
        return None
    for outlet in rig.free_outlets():
        supply, number = outlet.split(".")
        del rig.supplies[supply]["outlets"][number]
    return ["board", *rig.supplies]


@fault("no-spare-outlet", "risk", "a free lead whose plug hangs loose")
def loose_lead(rig: Rig, r: Random):
    outlet = r.choice([each for each in rig.free_outlets() if not each.startswith("floor")])
    rig.give(outlet, {"gives": rig.gives(outlet), "loose_lead": "open"})
    return [outlet]


@fault("supply-runs-hot", "risk", "a shut-in linear supply with plenty to do")
def hot(rig: Rig, r: Random):
    may = [name for name in rig.supplies if name != "floor_unit" and rig.watts(name) > 6]
    if not may:
        return None
    name = r.choice(may)
    rig.supplies[name] |= {"kind": "linear-toroid", "efficiency": "50 %", "ventilated": "no", "size": [140, 80, 30]}
    return [name]
