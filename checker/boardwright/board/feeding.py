"""How devices hang on outlets: the leads between them, and everything that takes power."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from boardwright import limits
from boardwright.board.kinds import Kind, kind_of
from boardwright.board.supply import Outlet, Supply, assemble_supplies
from boardwright.physics import wire
from boardwright.physics.dc import Load
from boardwright.spec.fields import NOTHING, Gauge, Jack, YesNo
from boardwright.spec.figure import Figure, Origin, figure, unknown, weakest
from boardwright.spec.power_phrase import UNKNOWN_POWER, PowerPhrase
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.boxes import Box
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.supplies import Feed, PowerLead
from boardwright.spec.sections.supplies import Supply as SupplySection
from boardwright.spec.sections.switchers import Switcher

BATTERY = "battery"
UNKNOWN = "unknown"
"""What stands for an outlet that nobody knows, or whose name could not be read."""


@dataclass(eq=False)
class Line:
    """One feed of a device: the outlets it starts from and the lead to the device."""

    feed: Feed
    path: Path
    outlets: list[Outlet] = field(default_factory=list)
    lost: list[Jack] = field(default_factory=list)
    """Outlets that it names and that do not exist."""

    @cached_property
    def is_battery(self) -> bool:
        return any(jack == Jack(BATTERY) for jack in self.feed.from_ or ())

    @property
    def after(self) -> str | None:
        return self.feed.after

    @cached_property
    def pieces(self) -> list[PowerLead]:
        return self.feed.leads or [self.feed.lead or PowerLead()]

    @cached_property
    def reversals(self) -> int:
        return sum(1 for piece in self.pieces if piece.reverses)

    @property
    def plug(self) -> str | None:
        """The plug at the device's end, if the lead states one."""
        return next((piece.plug for piece in reversed(self.pieces) if piece.plug), None)

    @property
    def guesses_wire(self) -> bool:
        """Whether a long piece states no wire, so that its loss is not worth guessing."""
        long = limits.LEAD_ASK.value
        return any(not p.gauge and p.length and p.length.known and p.length.value > long for p in self.pieces)

    @cached_property
    def resistance(self) -> Figure:
        """There and back, contacts included (ohm)."""
        total, origins = 0.0, []
        for piece in self.pieces:
            is_adaptor = piece.length is None and (piece.reverses or piece.plug) and len(self.pieces) > 1
            length = piece.length if piece.length is not None and piece.length.known else None
            default = 0.0 if is_adaptor else limits.LEAD_LENGTH.value
            total += wire.loop_resistance(
                length.value if length else default, per_metre(piece.gauge), contacts=2, contact_resistance=limits.CONTACT.value
            )
            origins.append(length.origin if length and piece.gauge else Origin.ASSUMED)
        return figure(total, "Ω", weakest(origins))


@lru_cache(maxsize=128)
def per_metre(gauge: Gauge | None) -> float:
    """Resistance of one conductor (ohm per metre) at 20 °C; of the assumed wire where none is stated."""
    if gauge is None:
        return wire.awg_resistance(int(limits.LEAD_GAUGE.value))
    if gauge.is_awg:
        return wire.awg_resistance(int(gauge.number))
    return wire.cord_resistance(gauge.number)


@dataclass(eq=False)
class Device:
    """Anything that takes power: a box, or a supply that another supply feeds."""

    name: str
    path: Path
    section: Box | SupplySection
    supply: Supply | None = None
    """The supply itself, if that is what is fed."""
    lines: list[Line] = field(default_factory=list)
    reflected: Figure | None = None
    """For a fed supply: the power (W) it takes in to give what its outlets give."""

    @cached_property
    def box(self) -> Box | None:
        """The pedal, switcher or isolator that it is, if it is not a supply."""
        return self.section if isinstance(self.section, Box) else None

    @cached_property
    def pedal(self) -> Pedal | None:
        return self.section if isinstance(self.section, Pedal) else None

    @cached_property
    def kind_name(self) -> str | None:
        if isinstance(self.section, Switcher):
            return self.section.kind or ("loop-switcher" if self.section.loops else "selector")
        return self.box.kind if self.box else None

    @cached_property
    def kind(self) -> Kind:
        return kind_of(self.kind_name)

    @cached_property
    def takes_nothing(self) -> bool:
        """Whether it says so, has a mains cord instead, or is of a kind that needs no power and says nothing else."""
        if self.section.needs is None and self.pedal and self.pedal.input is not None:
            return True
        if self.section.needs is None and self.box:
            return not self.kind.powered
        return self.section.needs == NOTHING

    @cached_property
    def needs(self) -> PowerPhrase:
        needs = self.section.needs
        return needs if isinstance(needs, PowerPhrase) else UNKNOWN_POWER

    @property
    def says_needs(self) -> bool:
        return isinstance(self.section.needs, PowerPhrase) and self.section.needs is not UNKNOWN_POWER

    @property
    def digital(self) -> tuple[bool, Origin]:
        if self.box is None:
            return True, Origin.ASSUMED  # a converter inside
        if self.box.digital in (YesNo.YES, YesNo.NO):
            return bool(self.box.digital), Origin.STATED
        return self.kind.digital, Origin.ASSUMED

    @property
    def clocked(self) -> bool:
        """Whether anything in it ticks: a processor, a converter, a bucket-brigade chip."""
        return self.digital[0] or bool(self.box and self.box.clock and self.box.clock.known)

    @property
    def window(self) -> tuple[float, float] | None:
        """The nominal voltages (V) that it may be fed with."""
        volts = self.needs.volts
        if volts.low is None or volts.high is None:
            return None
        if volts.low < volts.high:
            return volts.low, volts.high
        return volts.low * (1 - limits.WINDOW_BELOW.value), volts.high * (1 + limits.WINDOW_ABOVE.value)

    @property
    def least_volts(self) -> float | None:
        """The voltage (V) that must arrive. The lower end of a stated range names a supply, and supplies sag too."""
        low = self.needs.volts.low
        return None if low is None else low * (1 - limits.WINDOW_BELOW.value)

    def draw(self, volts: float | None) -> Figure:
        """Current (A) it is labelled with; of a fed supply, what its own outlets need at ``volts``."""
        if self.supply is not None:
            if self.reflected is None or not self.reflected.known or not volts:
                return unknown("A")
            return figure(self.reflected.value / volts, "A", self.reflected.origin)
        return self.needs.current

    def load(self, volts: float | None) -> Load | None:
        """How it loads an outlet of ``volts``; ``None`` where its draw is unknown."""
        draw = self.draw(volts)
        nominal = self.needs.nominal or volts
        if not draw.known or not nominal:
            return None
        if self.supply is not None:
            assert self.reflected is not None
            return Load(power=self.reflected.value)
        how = self.box.load if self.box else None
        if how == "heater" or (how is None and self.kind.heater):
            return Load(resistance=nominal / draw.value) if draw.value else Load()
        if how == "power" or (how is None and self.digital[0]):
            return Load(power=nominal * draw.value)
        return Load(current=draw.value)

    @property
    def start(self) -> Figure:
        """Current (A) at switch-on, stated or assumed from its kind."""
        if self.box and self.box.start and self.box.start.known:
            return self.box.start
        draw = self.needs.current
        if not draw.known:
            return unknown("A")
        heater = self.kind.heater or bool(self.box and self.box.load == "heater")
        factor = limits.START_HEATER if heater else limits.START_DIGITAL if self.digital[0] else limits.START_ANALOGUE
        return figure(draw.value * factor.value, "A", Origin.ASSUMED)

    @property
    def ripple(self) -> Figure:
        """Audio-band ripple (A) in its current, stated or assumed."""
        if self.box and self.box.noise and self.box.noise.known:
            return self.box.noise
        if not self.clocked:
            return figure(0.0, "A", Origin.ASSUMED)
        draw = self.needs.current
        return figure(draw.value * limits.RIPPLE_SHARE.value, "A", Origin.ASSUMED) if draw.known else unknown("A")

    @property
    def gain(self) -> Figure:
        """Small-signal gain (dB) at its most."""
        if self.pedal and self.pedal.gain and self.pedal.gain.known:
            return self.pedal.gain
        return figure(self.kind.gain, "dB", Origin.ASSUMED)

    @property
    def outlets(self) -> list[Outlet]:
        return [outlet for line in self.lines for outlet in line.outlets]


def assemble_feeding(spec: Spec) -> tuple[dict[str, Supply], dict[str, Device]]:
    """Supplies and devices, joined by their feeds. In a fragment, a supply that is only mentioned exists too."""
    supplies = assemble_supplies(spec)
    devices: dict[str, Device] = {}
    for key in ("pedals", "switchers", "isolators"):
        for name, box in getattr(spec, key).items():
            if not isinstance(box, Isolator) or box.needs is not None or box.feed:
                devices[name] = Device(name, (key, name), box)
    for name, supply in supplies.items():
        if supply.section.needs is not None or supply.section.feed:
            devices[name] = Device(name, supply.path, supply.section, supply=supply)
    for device in devices.values():
        for number, feed in enumerate(device.section.feed or ()):
            path: Path = (*device.path, "feed")
            if spec.tree.locate((*path, number)) != spec.tree.locate(path):
                path = (*path, number)
            device.lines.append(_line(feed, path, supplies, spec.fragment))
    return supplies, devices


def _line(feed: Feed, path: Path, supplies: dict[str, Supply], fragment: bool) -> Line:
    line = Line(feed, path)
    for jack in feed.from_ or ():
        if jack in (Jack(BATTERY), Jack(UNKNOWN)):
            continue
        supply = supplies.get(jack.thing)
        if supply is None and fragment:
            supply = supplies[jack.thing] = Supply(jack.thing, SupplySection(), declared=False)
        outlet = supply.outlets.get(jack.jack or "") if supply else None
        if outlet is None and supply and not supply.declared and jack.jack:
            outlet = supply.outlets[jack.jack] = _implied(supply, jack.jack)
        if outlet is None:
            line.lost.append(jack)
        else:
            line.outlets.append(outlet)
    return line


def _implied(supply: Supply, name: str) -> Outlet:
    from boardwright.spec.sections.supplies import Outlet as OutletSection

    path = (*supply.path, "outlets", name)
    return Outlet(supply, name, UNKNOWN_POWER, OutletSection(), path, supply.name, Origin.ASSUMED)


def total(figures: Iterable[Figure], unit: str) -> tuple[Figure, int]:
    """The sum of the known figures, and how many are unknown."""
    figures = list(figures)
    known = [each for each in figures if each.known]
    value = sum(each.value for each in known)
    return figure(value, unit, weakest(each.origin for each in known)), len(figures) - len(known)
