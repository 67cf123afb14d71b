"""What hangs on the wall: everything with a mains cord, and each cord, inlet, block and adaptor between it and the wall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from boardwright import limits
from boardwright.board.countries import Country, country
from boardwright.board.power import Power
from boardwright.physics import mains as formulas
from boardwright.spec.fields import NOTHING, YesNo
from boardwright.spec.figure import Figure, Origin, figure, unknown, weakest
from boardwright.spec.mains_phrase import UNKNOWN_INPUT, MainsInput
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.computers import Computer
from boardwright.spec.sections.mains import Adaptor, Block, Cord, Inlet, Load, Mains
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.place import WallCircuit
from boardwright.spec.sections.supplies import Supply

WALL = "wall"
EARTHLESS_COUPLERS = ("c2", "c8", "c18")
"""Couplers without an earth contact (IEC 60320)."""


@dataclass(eq=False, slots=True)
class Item:
    """Something with a mains cord. ``section`` is ``None`` for a thing that is only mentioned."""

    name: str
    path: Path
    section: Amp | Supply | Computer | Pedal | Load | None
    output: Figure | None = None
    """For a supply: the power (W) that it can give, or that is asked of it."""

    @property
    def is_amp(self) -> bool:
        return isinstance(self.section, Amp)

    @property
    def protection(self) -> tuple[str | None, Origin]:
        """Its protection class, ``I``, ``II`` or ``III``; ``None`` where it is not known."""
        stated = self.section.class_ if self.section else None
        if stated not in (None, "unknown"):
            return stated.upper(), Origin.STATED
        if stated is None and self.kind in ("valve", "desktop"):
            return "I", Origin.ASSUMED
        return None, Origin.UNKNOWN

    @property
    def kind(self) -> str | None:
        return getattr(self.section, "kind", None)

    @property
    def input(self) -> MainsInput:
        stated = self.section.input if self.section else None
        return stated if isinstance(stated, MainsInput) else UNKNOWN_INPUT

    @property
    def says_mains(self) -> bool:
        """Whether its text says anything of the wall, so that it may be asked for the rest."""
        section = self.section
        return section is None or self.is_amp or section.class_ is not None or section.input is not None

    @property
    def marked(self) -> YesNo | None:
        return self.section.mark if self.section else None

    @property
    def has_transformer(self) -> bool:
        """Whether a mains-frequency transformer is in it, as far as its kind says."""
        return (self.kind or "") in ("valve", "solid-state", "linear-toroid", "linear-laminated")

    def apparent(self, volts: float) -> Figure:
        """What it takes from the wall (VA) at most, at ``volts``."""
        stated = None if isinstance(self.section, Pedal) else getattr(self.section, "load", None)
        if stated is not None and stated.known:
            return stated
        draw = self.input.draw
        if draw.known:
            if draw.unit == "W":
                return figure(formulas.apparent_power(draw.value, limits.POWER_FACTOR.value), "VA", Origin.STATED)
            return figure(draw.value * (volts if draw.unit == "A" else 1), "VA", draw.origin)
        if self.output is not None:
            # a rating with an assumed power factor may clear a danger: the factor is on the cautious side
            return figure(formulas.apparent_power(self.output.value, limits.POWER_FACTOR.value), "VA", self.output.origin)
        return unknown("VA")

    @property
    def leakage(self) -> Figure:
        """Its leakage current (A) to earth, measured or assumed from its class."""
        stated = None if isinstance(self.section, Pedal) else getattr(self.section, "leakage", None)
        if stated is not None and stated.known:
            return stated
        protection, _ = self.protection
        if isinstance(self.section, Supply) and protection != "I":
            value = limits.LEAKAGE_SWITCH_MODE
        else:
            value = limits.LEAKAGE_CLASS_TWO if protection == "II" else limits.LEAKAGE_CLASS_ONE
        return figure(value.value, "A", Origin.ASSUMED)


@dataclass(eq=False, slots=True)
class Link:
    """A cord, inlet, block or adaptor on the way to the wall."""

    name: str
    path: Path
    section: Cord | Inlet | Block | Adaptor
    declared: bool = True

    @property
    def lifted(self) -> bool | None:
        """Whether its protective earth is interrupted on purpose; ``None`` where that is not stated. Only cords can be."""
        return _answer(self.section.earth_lifted, absent=None) if isinstance(self.section, Cord) else False

    @property
    def lacks_earth_contact(self) -> bool | None:
        """Whether it is made without an earth contact; ``None`` where that is not known."""
        section = self.section
        if isinstance(section, Cord):
            return None if section.cores is None else section.cores == 2
        if isinstance(section, Inlet):
            has = _answer(section.earth, absent=True)
            return True if section.type in EARTHLESS_COUPLERS else not has if has is not None and self.declared else None
        if isinstance(section, Block):
            has = _answer(section.earthed, absent=True)
            return not has if has is not None and self.declared else None
        has = _answer(section.earth_contact, absent=None)
        return None if has is None else not has

    @property
    def rating(self) -> Figure:
        """The current (A) it may carry, stated or by its standard coupler."""
        section = self.section
        if isinstance(section, Adaptor):
            return unknown("A")
        if isinstance(section, Cord | Block) and section.coiled:
            if section.coiled_rating is not None and section.coiled_rating.known:
                return section.coiled_rating
            if section.rating is not None and section.rating.known:
                return figure(section.rating.value * limits.COILED.value, "A", Origin.ASSUMED)
            return unknown("A")
        if section.rating is not None:
            return section.rating
        if isinstance(section, Inlet) and section.type in ("c14", "c16", "c18"):
            return figure(limits.COUPLER_C14.value, "A", Origin.STATED)
        if isinstance(section, Inlet) and section.type in ("c6", "c8"):
            return figure(limits.COUPLER_C8.value, "A", Origin.STATED)
        return unknown("A")


def _answer(said: YesNo | None, absent: bool | None = False) -> bool | None:
    """A flag in three values: not said at all counts as ``absent``, said to be unknown as ``None``."""
    return absent if said is None else None if said is YesNo.UNKNOWN else bool(said)


@dataclass(frozen=True, slots=True)
class Nominal:
    """One mains voltage (V) that the board will meet, and how well we know it."""

    volts: float
    hertz: tuple[float, ...]
    where: str
    origin: Origin
    doubtful: bool = False
    """One table of two gives it, and we do not believe it."""


@dataclass(eq=False)
class OnTheWall:
    """Everything at mains voltage, as far as it is described."""

    spec: Spec
    section: Mains
    items: dict[str, Item]
    links: dict[str, Link]
    above: dict[str, list[str]] = field(default_factory=dict)
    """What each item or link is plugged into, towards the wall."""
    rings: list[str] = field(default_factory=list)
    """Links that are fed by themselves in the end."""

    @property
    def described(self) -> bool:
        """Whether the board's text has a section on mains."""
        return self.spec.mains is not None

    # --- ways to the wall ---------------------------------------------------------------------------------------------

    def way(self, name: str) -> list[Link]:
        """The links from an item or link to the wall, nearest first; those of all its cords, if it has several."""
        found: dict[str, None] = {}
        work = list(self.above.get(name, ()))
        while work:
            here = work.pop(0)
            if here not in found and here in self.links and here != name:
                found[here] = None
                work += self.above.get(here, ())
        return [self.links[each] for each in found]

    @cached_property
    def below(self) -> dict[str, list[str]]:
        """What is plugged into each link, or into each circuit of the place."""
        below: dict[str, list[str]] = {}
        for name, parents in self.above.items():
            for parent in parents:
                below.setdefault(parent, []).append(name)
        for name, item in self.items.items():
            if (circuit := self.circuit(name)) and not self.way(name):
                below.setdefault(circuit, []).append(item.name)
        for name, link in self.links.items():
            circuit = getattr(link.section, "circuit", None)
            if circuit and name not in below.get(circuit, ()):
                below.setdefault(circuit, []).append(name)
        return below

    def behind(self, name: str) -> list[Item]:
        """The items that get their current through a link or circuit."""
        return [self.items[each] for each in self._beneath(name) if each in self.items]

    def links_behind(self, name: str) -> list[Link]:
        """The links that are plugged into a link, and into those in turn."""
        return [self.links[each] for each in self._beneath(name) if each in self.links]

    def _beneath(self, name: str) -> list[str]:
        found: dict[str, None] = {}
        work = list(self.below.get(name, ()))
        while work:
            here = work.pop(0)
            if here not in found and here != name:
                found[here] = None
                work += self.below.get(here, ())
        return list(found)

    def circuit(self, name: str) -> str | None:
        """The wall circuit that an item is on, if it is stated anywhere on its way."""
        item = self.items.get(name)
        own = None if item is None or isinstance(item.section, Pedal) else getattr(item.section, "circuit", None)
        ways = [getattr(link.section, "circuit", None) for link in self.way(name)]
        ends = [parent for each in [name, *(link.name for link in self.way(name))] for parent in self.above.get(each, ()) if parent in self.circuits]
        return next((each for each in [own, *ways, *ends] if each), None)

    @property
    def circuits(self) -> dict[str, WallCircuit]:
        return (self.spec.place.circuits if self.spec.place else None) or {}

    # --- what is on the board -----------------------------------------------------------------------------------------

    @property
    def supplies_on_board(self) -> list[Item]:
        """Supplies with a mains cord that stand on the board or below it; all of them, where mains is said to be on it."""
        found = [item for item in self.items.values() if isinstance(item.section, Supply)]
        placed = [item for item in found if item.section.at or item.section.under]
        return placed or (found if self.section.on_board else [])

    @property
    def wired(self) -> bool:
        """Whether mains parts other than whole supplies are on the board: an inlet, an enclosure, loose wiring."""
        section = self.section
        return bool(section.loose_wiring or section.inlets or section.enclosure or section.feeds)

    @property
    def on_board(self) -> bool | None:
        """Whether anything at mains voltage is on the board: as stated, or as what is described implies."""
        if self.wired or self.supplies_on_board:
            return True
        return _answer(self.section.on_board, absent=False)

    @property
    def only_closed_units(self) -> bool:
        """Whether all mains on the board is factory-made supplies of class II or III, with nothing loose about them."""
        parts = self.supplies_on_board
        double = bool(parts) and all(part.protection[0] in ("II", "III") for part in parts)
        homemade = self.section.made_by not in (None, "factory")
        return double and not self.wired and not homemade and self.section.loose_wiring is not YesNo.UNKNOWN

    # --- the place ----------------------------------------------------------------------------------------------------

    @cached_property
    def nominals(self) -> list[Nominal]:
        """Every voltage that the place gives; none where nothing is known of the place."""
        place = self.spec.place
        if place is None:
            return []
        if place.mains:
            return [Nominal(volts, each.hertz, "at the place", Origin.STATED) for each in place.mains for volts in each.volts]
        return [nominal for code in place.country or () for nominal in _nominals(country(code))]

    @property
    def unlisted(self) -> list[str]:
        """Countries of the place that are not in the table."""
        place = self.spec.place
        return [] if place is None or place.mains else [code for code in place.country or () if country(code) is None]

    @property
    def place_known(self) -> bool:
        return bool(self.nominals) and not self.unlisted

    @property
    def least_volts(self) -> float | None:
        """The lowest voltage (V) of the place: the one at which a load of so many VA draws most."""
        sure = [each.volts for each in self.nominals if not each.doubtful]
        return min(sure) if sure and not self.unlisted else None


def _nominals(entry: Country | None) -> Iterator[Nominal]:
    if entry is None:
        return
    origin = Origin.ASSUMED if entry.one_source else Origin.STATED
    for volts in entry.mains.volts:
        yield Nominal(volts, entry.mains.hertz, f"in {entry.name}", origin)
    for volts in entry.doubtful:
        yield Nominal(volts, entry.mains.hertz, f"in {entry.name}", Origin.UNKNOWN, doubtful=True)


def assemble_mains(spec: Spec, power: Power) -> OnTheWall:
    """Everything on the wall. A name that a cord, feed or block mentions and nothing declares is taken for a thing of
    which nothing is known: a slip of the pen must not hide a danger."""
    section = spec.mains or Mains()
    wall = OnTheWall(spec, section, dict(_items(spec, power)), dict(_links(section)))
    _join(wall)
    return wall


def _items(spec: Spec, power: Power) -> Iterator[tuple[str, Item]]:
    for name, supply in spec.supplies.items():
        if supply.input == NOTHING or (supply.input is None and (supply.kind == "battery-pack" or supply.needs is not None or supply.feed)):
            continue
        if supply.class_ == "iii" and supply.input is None:
            continue
        yield name, Item(name, ("supplies", name), supply, _output(name, power))
    for name, pedal in spec.pedals.items():
        if pedal.input not in (None, NOTHING):
            yield name, Item(name, ("pedals", name), pedal)
    for name, amp in spec.amps.items():
        silent = amp.kind == "cabinet" or (amp.kind == "interface" and amp.class_ is None and amp.input is None)
        if amp.input != NOTHING and not silent:
            yield name, Item(name, ("amps", name), amp)
    for name, computer in spec.computers.items():
        if computer.power != "battery" and computer.input != NOTHING:
            yield name, Item(name, ("computers", name), computer)
    for name, load in ((spec.mains.loads if spec.mains else None) or {}).items():
        if load.input != NOTHING:
            yield name, Item(name, ("mains", "loads", name), load)


def _output(name: str, power: Power) -> Figure | None:
    """The power (W) that a supply takes in: by its rating, or by what is asked of it."""
    supply = power.supplies.get(name)
    if supply is None:
        return None
    if supply.total.known:
        given = supply.total
    else:
        given, missing, unclear = power.output(supply)
        if missing or unclear or not given.value:
            return None
    efficiency = supply.efficiency
    # an assumed efficiency is of the same sort as an assumed power factor: on the cautious side
    return figure(given.value / efficiency.value, "W", weakest([given.origin, max(efficiency.origin, Origin.STATED)]))


def _links(section: Mains) -> Iterator[tuple[str, Link]]:
    seen: set[str] = set()
    for key in ("cords", "inlets", "blocks", "adaptors"):
        for name, each in (getattr(section, key) or {}).items():
            label = f"{name} ({key})" if name in seen else name  # a name that is given twice is said to be; neither may be lost
            seen.add(name)
            yield label, Link(label, ("mains", key, name), each)


def _join(wall: OnTheWall) -> None:
    """Say what is plugged into what. A cord between two things that a feed joins too lies on that way."""
    section = wall.section
    feeds: list[tuple[str, str, Path]] = []
    for inlet, names in (section.feeds or {}).items():
        wall.links.setdefault(inlet, Link(inlet, ("mains", "feeds", inlet), Inlet(), declared=False))
        feeds += [(name, inlet, ("mains", "feeds", inlet)) for name in names]
    for name, block in (section.blocks or {}).items():
        feeds += [(each, name, ("mains", "blocks", name, "feeds")) for each in block.feeds or ()]
        if block.fed_from:
            feeds.append((name, block.fed_from, ("mains", "blocks", name, "fed_from")))
    for fed, source, path in feeds:
        _mention(wall, fed, path)
        _mention(wall, source, path, as_source=True)
        wall.above.setdefault(fed, []).append(source)
    for name, cord in (section.cords or {}).items():
        path = ("mains", "cords", name)
        if cord.from_:
            _mention(wall, cord.from_, path, as_source=True)
        if cord.to:
            _mention(wall, cord.to, path)
            parents = wall.above.setdefault(cord.to, [])
            on_this_way = [each for each in parents if cord.from_ in (None, each) and each not in (section.cords or {})]
            for each in on_this_way:
                parents.remove(each)
            parents.append(name)
            wall.above.setdefault(name, []).extend(on_this_way or ([cord.from_] if cord.from_ else []))
        elif cord.from_:
            wall.above.setdefault(name, []).append(cord.from_)
    for name, adaptor in (section.adaptors or {}).items():
        if adaptor.plugs_on:
            _mention(wall, adaptor.plugs_on, ("mains", "adaptors", name))
            plug = _plug_of(wall, adaptor.plugs_on)
            wall.above[name] = wall.above.get(plug, [])
            wall.above[plug] = [name]
    wall.rings = [name for name in wall.links if name in {each.name for each in _all_above(wall, name)}]


def _plug_of(wall: OnTheWall, name: str) -> str:
    """What the plug in an adaptor belongs to: a thing's only cord, or the thing itself."""
    cords = [each for each in wall.above.get(name, ()) if isinstance(getattr(wall.links.get(each), "section", None), Cord)]
    return cords[0] if name in wall.items and len(cords) == 1 else name


def _mention(wall: OnTheWall, name: str, path: Path, as_source: bool = False) -> None:
    if name in wall.items or name in wall.links or name in wall.circuits or name == WALL:
        return
    if as_source:
        wall.links[name] = Link(name, path, Block(), declared=False)
    else:
        wall.items[name] = Item(name, path, None)


def _all_above(wall: OnTheWall, name: str) -> list[Link]:
    found: dict[str, None] = {}
    work = list(wall.above.get(name, ()))
    while work:
        here = work.pop()
        if here not in found and here in wall.links:
            found[here] = None
            work += wall.above.get(here, ())
    return [wall.links[each] for each in found]
