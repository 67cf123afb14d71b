"""Everything on the way that can be to blame, with how likely it is before anything has been tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.feeding import Device
from boardwright.board.hunt.situation import Situation
from boardwright.board.signal import Edge, Role, Stage
from boardwright.board.supply import Outlet, Supply
from boardwright.limits import Limit
from boardwright.spec.problem import Path

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

ASK = "a qualified person"
MOST = 400
"""More suspects than this are not hunted: no board that a person plays has them."""


class What(StrEnum):
    """What sort of thing a suspect is."""

    LEAD = "lead"
    BOX = "box"
    SETTING = "setting"
    POWER_LEAD = "power lead"
    BATTERY = "battery"
    OUTLET = "outlet"
    SUPPLY = "supply"
    GUITAR = "guitar"
    AMP = "amplifier"
    CAUSE = "cause"
    FOUND = "found by the check"


POWER = (What.POWER_LEAD, What.BATTERY, What.OUTLET, What.SUPPLY)


@dataclass(frozen=True, slots=True)
class Suspect:
    """One thing that can be to blame, as large as what a person swaps, turns up or plays without."""

    id: str
    what: What
    words: str
    """As it stands in a sentence."""
    weight: float
    """How likely, against the others."""
    mend: str
    path: Path
    thing: str
    """What it belongs to."""
    edges: frozenset[Edge] = frozenset()
    """The ways of the sound that go through it or die with it."""
    stop: bool = False
    """Whether nobody but a qualified person may look further."""


FACTORS: dict[str, dict[What, float]] = {
    "silent": {},
    "weak": {What.LEAD: 0.5, What.BATTERY: 2, What.OUTLET: 0.5, What.SUPPLY: 0.5},
    "dull": {What.LEAD: 0.2, What.BOX: 0.3, What.SETTING: 0.5, What.AMP: 0.3, What.POWER_LEAD: 0, What.BATTERY: 0.5, What.OUTLET: 0, What.SUPPLY: 0},
    "crackle": {What.SETTING: 0.4, What.POWER_LEAD: 0.5, What.BATTERY: 0.3, What.OUTLET: 0.2, What.SUPPLY: 0.2, What.BOX: 1.5},
    "hum": {What.LEAD: 0.1, What.BOX: 0.1, What.SETTING: 0, What.GUITAR: 0.2, What.POWER_LEAD: 0, What.BATTERY: 0, What.OUTLET: 0, What.AMP: 0.3},
    "buzz": {What.LEAD: 0.3, What.BOX: 0.1, What.SETTING: 0, What.POWER_LEAD: 0, What.BATTERY: 0, What.OUTLET: 0, What.AMP: 0.3},
    "whine": {What.LEAD: 0, What.BOX: 0.3, What.SETTING: 0, What.GUITAR: 0, What.BATTERY: 0, What.POWER_LEAD: 0, What.OUTLET: 0.3, What.AMP: 0.2},
    "hiss": {What.LEAD: 0.1, What.BOX: 3, What.POWER_LEAD: 0.1, What.OUTLET: 0.2, What.SUPPLY: 0.2},
    "oscillation": {What.LEAD: 0.1, What.BOX: 0.3, What.POWER_LEAD: 0, What.BATTERY: 0.2, What.OUTLET: 0, What.SUPPLY: 0.2},
    "reboot": {What.LEAD: 0, What.GUITAR: 0, What.SETTING: 0, What.AMP: 0, What.BOX: 0.5, What.OUTLET: 2, What.SUPPLY: 3},
}
"""What a symptom makes of the weights, by judgement: a lead goes silent more often than it hisses."""

POINTS_AT: dict[str, tuple[What, ...]] = {
    "wiggling": (What.LEAD, What.POWER_LEAD), "stepping": (What.BOX,), "after-warm-up": (What.SUPPLY, What.AMP),
}  # fmt: skip
"""Sorts of parts that what changes a symptom (of ``changes_with``) points at; all else that can change it gives away a cause that is no part."""


def suspects(situation: Situation, good: Iterable[str] = (), changes: Iterable[str] = ()) -> list[Suspect]:
    """Every suspect in the order in which the sound meets it; what cannot be to blame, or is known to be good, is left out."""
    factors = FACTORS[situation.kind]
    pointed_at = {what for change in changes for what in POINTS_AT.get(change, ())}
    known = set(good)
    whole = [*_on_the_way(situation), *_power(situation)]
    elsewhere: set[str] = set()
    if situation.kind == "reboot" and situation.via:  # one box starts anew: only what feeds it, and itself
        elsewhere = {each.id for each in whole} - above(situation.board, situation.via) - {f"{situation.via} itself"}
    found = []
    for each in whole:
        if each.thing in known or each.id in known or each.id in elsewhere:
            continue
        weight = each.weight * factors.get(each.what, 1.0) * _alibi(situation, each)
        if each.what in pointed_at:
            weight *= limits.POINTED_AT.value
        if weight > 0:
            found.append(replace(each, weight=weight))
    return found


def _alibi(situation: Situation, suspect: Suspect) -> float:
    """0 where it cannot be: what does not silence every amplifier that is silent. Little, where the sound passes it elsewhere."""
    if not situation.goes_silent:
        return 1.0
    ahead = situation.forward(situation.begins, suspect.edges)
    if any(situation.end(amp) in ahead for amp in situation.ends):
        return 0.0
    if any(situation.end(amp) not in ahead for amp in situation.fine):
        return limits.ELSEWHERE_GOOD.value
    for positions in situation.elsewhere:
        for amp in situation.ends:
            if situation.heard_in(positions, amp, ()) and not situation.heard_in(positions, amp, suspect.edges):
                return limits.ELSEWHERE_GOOD.value
    return 1.0


# --- on the way of the sound ----------------------------------------------------------------------------------------


def _on_the_way(situation: Situation) -> Iterator[Suspect]:
    signal = situation.board.signal
    through = signal.edges_of
    met: set[str] = set()
    seen: set[int] = set()
    start = signal.stages[situation.source]
    yield from _source(start, [edge for edge in situation.live if edge.start in situation.starts()])
    for edge in situation.live:
        if edge.hop is not None and id(edge.hop) not in seen:
            seen.add(id(edge.hop))
            yield _lead(situation, edge)
        elif edge.stage is not None and edge.stage.name not in met:
            met.add(edge.stage.name)
            live = set(situation.live)
            yield from _box(edge.stage, frozenset(each for each in through[edge.stage.name] if each in live or not situation.goes_silent))


def _source(stage: Stage, edges: list[Edge]) -> Iterator[Suspect]:
    name = stage.name
    ways = frozenset(edges)
    yield Suspect(f"{name} itself", What.GUITAR, f"`{name}` itself", limits.SUSPECT_GUITAR.value, f"Play another one in place of `{name}`.", stage.path, name, ways)
    yield _setting(stage, f"the volume of `{name}`", f"Turn `{name}` up.", ways)


def _setting(stage: Stage, words: str, mend: str, edges: frozenset[Edge]) -> Suspect:
    return Suspect(f"setting of {stage.name}", What.SETTING, words, limits.SUSPECT_SETTING.value, mend, stage.path, stage.name, edges)


def _lead(situation: Situation, edge: Edge) -> Suspect:
    hop = edge.hop
    assert hop is not None
    stages = situation.board.signal.stages
    if hop.is_air:
        weight, words, mend = limits.SUSPECT_BATTERY, f"the radio link to `{hop.end.thing}`", "Fresh battery in the transmitter, same channel at both ends."
    else:
        words, mend = f"the lead from `{hop.start}` to `{hop.end}`", "Swap it for a good one, and tie a knot into the bad one."
        if stages[hop.start.thing].role is Role.SOURCE:
            weight = limits.SUSPECT_GUITAR_LEAD
        elif stages[hop.end.thing].role is Role.AMP:
            weight = limits.SUSPECT_AMP_LEAD
        else:
            weight = _patch(hop.lead.made if hop.lead else None)
    return Suspect(f"lead {hop.start} > {hop.end}", What.LEAD, words, weight.value, mend, hop.path, f"{hop.start.thing} > {hop.end.thing}", frozenset({edge}))


def _patch(made: str | None) -> Limit:
    return {"clamped": limits.SUSPECT_CLAMPED_PATCH, "moulded": limits.SUSPECT_MOULDED_PATCH}.get(made or "", limits.SUSPECT_PATCH)


def _box(stage: Stage, edges: frozenset[Edge]) -> Iterator[Suspect]:
    name = stage.name
    if stage.role is Role.AMP:
        mend = f"Play through another amplifier. Nobody but {ASK} opens `{name}`."
        yield Suspect(f"{name} itself", What.AMP, f"`{name}` itself", limits.SUSPECT_AMP.value, mend, stage.path, name, edges)
        yield _setting(stage, f"volume, input and standby of `{name}`", f"Set `{name}` right: input, volume, standby.", edges)
        return
    stepped = stage.switch is not None and not stage.mutes
    weight = limits.SUSPECT_BOX.value + (limits.SUSPECT_FOOTSWITCH.value if stepped else 0)
    words = f"`{name}`: its sockets, its switch or its inside" if stepped else f"`{name}`: its sockets or its inside"
    yield Suspect(f"{name} itself", What.BOX, words, weight, f"Lead the sound round `{name}` and play without it.", stage.path, name, edges)
    if stage.mutes and stage.switch is not None:
        yield _setting(stage, f"the mute of `{name}`", f"Step on `{name}` once, so that it lets the sound through.", edges)
    elif stage.kind_name == "volume-pedal":
        yield _setting(stage, f"the treadle of `{name}`", f"Bring `{name}` forward.", edges)


# --- power ----------------------------------------------------------------------------------------------------------


def above(board: Board, name: str) -> set[str]:
    """Ids of everything that stands between a device (or supply) and the wall, the supplies on the way included."""
    power = board.power
    found: set[str] = set()
    seen: set[str] = set()
    stack = [name]
    while stack:
        here = stack.pop()
        if here in seen:
            continue
        seen.add(here)
        if here in power.supplies:
            found.add(f"{here} itself")
        device = power.devices.get(here)
        for line in device.lines if device else ():
            found |= {f"power lead of {here}", f"battery of {here}", *(f"outlet {outlet.id}" for outlet in line.outlets)}
            stack += [outlet.supply.name for outlet in line.outlets]
            stack += [line.after] if line.after else []
    return found


def needs_power(situation: Situation, name: str) -> bool:
    """Whether a box on the way must have power to let the sound through, as its switches stand."""
    stage, device = situation.board.signal.stages.get(name), situation.board.power.devices.get(name)
    if stage is None or device is None or device.takes_nothing or (device.box and device.box.unpowered == "passes"):
        return False
    live = [edge for edge in situation.live if edge.stage is stage]
    off = bool(live) and stage.switch is not None and not any(edge.engaged for edge in live)
    return bool(live) and not (off and stage.bypass in ("true-bypass", "relay"))


def _power(situation: Situation) -> Iterator[Suspect]:
    power = situation.board.power
    tree = _Tree(situation, power.devices, power.supplies)
    for device in power.devices.values():
        line = device.lines[0] if len(device.lines) == 1 else None
        if line is None or not (edges := tree.behind_device(device.name)):
            continue
        name = device.name
        if line.is_battery:
            yield Suspect(f"battery of {name}", What.BATTERY, f"the battery in `{name}`", limits.SUSPECT_BATTERY.value, f"Put a fresh battery into `{name}`.", device.path, name, edges)
        elif line.outlets or line.after:
            words, mend = f"the power lead of `{name}`", "Swap it for a good one with the same plug and polarity."
            yield Suspect(f"power lead of {name}", What.POWER_LEAD, words, limits.SUSPECT_POWER_LEAD.value, mend, line.path, name, edges)
    for supply in power.supplies.values():
        for outlet in supply.outlets.values() if len(supply.outlets) > 1 else ():  # of a supply with one, it is the supply
            if edges := tree.behind_outlet(outlet):
                mend = f"Use another outlet of `{supply.name}` with the same label."
                yield Suspect(f"outlet {outlet.id}", What.OUTLET, f"outlet `{outlet.id}`", limits.SUSPECT_OUTLET.value, mend, outlet.path, supply.name, edges)
        if edges := tree.behind_supply(supply):
            mend = (
                f"Switch off at the wall and use another supply with the same labels. What lies between `{supply.name}` and the wall, "
                f"and the inside of `{supply.name}`, are for {ASK}."
            )
            words = f"`{supply.name}` altogether, or what feeds it"
            yield Suspect(f"{supply.name} itself", What.SUPPLY, words, limits.SUSPECT_SUPPLY.value, mend, supply.path, supply.name, edges, stop=True)


@dataclass(eq=False)
class _Tree:
    """Which ways of the sound die with a lead, an outlet or a supply."""

    situation: Situation
    devices: dict[str, Device]
    supplies: dict[str, Supply]

    def behind_device(self, name: str, seen: frozenset[str] = frozenset()) -> frozenset[Edge]:
        """A device and what is chained behind it."""
        if name in seen:
            return frozenset()
        seen |= {name}
        edges = set(self._own(name, seen))
        for other in self.devices.values():
            if len(other.lines) == 1 and other.lines[0].after == name:
                edges |= self.behind_device(other.name, seen)
        return frozenset(edges)

    def _own(self, name: str, seen: frozenset[str]) -> frozenset[Edge]:
        device = self.devices[name]
        if device.supply is not None:
            return self.behind_supply(device.supply, seen)
        if not needs_power(self.situation, name):
            return frozenset()
        return frozenset(edge for edge in self.situation.live if edge.stage is not None and edge.stage.name == name)

    def behind_outlet(self, outlet: Outlet, seen: frozenset[str] = frozenset()) -> frozenset[Edge]:
        hung = [device.name for device in self.devices.values() if len(device.lines) == 1 and outlet in device.lines[0].outlets]
        return frozenset().union(*(self.behind_device(name, seen) for name in hung))

    def behind_supply(self, supply: Supply, seen: frozenset[str] = frozenset()) -> frozenset[Edge]:
        return frozenset().union(*(self.behind_outlet(outlet, seen) for outlet in supply.outlets.values()))
