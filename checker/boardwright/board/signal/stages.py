"""Everything that sound comes from, goes through or ends in, with what is stated about it or assumed from its kind."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from boardwright.board.kinds import KINDS, Kind, kind_of
from boardwright.spec.fields import NOTHING, YesNo
from boardwright.spec.figure import Figure, Origin, assumed, figure, unknown
from boardwright.spec.power_phrase import PowerPhrase
from boardwright.spec.problem import Path
from boardwright.spec.sections.amps import Amp
from boardwright.spec.sections.boxes import JackSpec
from boardwright.spec.sections.guitar import Guitar
from boardwright.spec.sections.isolators import Isolator
from boardwright.spec.sections.pedals import Pedal
from boardwright.spec.sections.switchers import Switcher

Written = Pedal | Switcher | Isolator | Amp | Guitar | None

_AMP_INPUT, _LINE_INPUT = 1e6, 10e3
_PICKUPS = {"active": 1e3}


class Role(StrEnum):
    """What a thing is to the sound."""

    SOURCE = "source"
    BOX = "box"
    SWITCHER = "switcher"
    AMP = "amp"


@dataclass(eq=False)
class Stage:
    """One thing on the way of the sound. Every property is as stated, or assumed and says so by its origin."""

    name: str
    role: Role
    path: Path
    section: Written
    """As written; ``None`` where it is only mentioned."""
    loop: tuple[str, str] | None = None
    """The switcher and the loop that it stands in."""
    switch: str | None = None
    """The id of its own footswitch, if that can be in both positions."""

    @property
    def declared(self) -> bool:
        return self.section is not None

    @cached_property
    def pedal(self) -> Pedal | None:
        return self.section if isinstance(self.section, Pedal) else None

    @cached_property
    def kind_name(self) -> str | None:
        """Its kind as written; of a switcher, what its keys make it."""
        if isinstance(self.section, Switcher):
            return self.section.kind or ("loop-switcher" if self.section.loops else "mixer" if self.section.mix else "selector")
        return getattr(self.section, "kind", None)

    @cached_property
    def kind(self) -> Kind:
        return kind_of(self.kind_name)

    @property
    def jacks(self) -> dict[str, JackSpec]:
        return getattr(self.section, "jacks", None) or {}

    # --- how it stands in the chain ---------------------------------------------------------------------------------

    @cached_property
    def carries_sound(self) -> bool:
        """Whether sound goes through it at all; not through an expression pedal."""
        return self.kind.carries_sound

    @cached_property
    def always_on(self) -> bool:
        """Whether nothing takes it out of the chain."""
        if self.role is not Role.BOX or isinstance(self.section, Isolator):
            return True
        stated = self.pedal.bypass if self.pedal else None
        return stated == "always-on" or not self.kind.has_switch

    @cached_property
    def bypass(self) -> str | None:
        """``true-bypass``, ``relay``, ``buffered`` or ``always-on``; ``None`` where that is not known."""
        if self.always_on:
            return "always-on"
        stated = self.pedal.bypass if self.pedal else None
        return None if stated == "unknown" else stated

    @cached_property
    def drives_engaged(self) -> bool:
        """Whether, engaged, it has an output of its own, so that what follows no longer leans on what is ahead."""
        section = self.section
        if isinstance(section, Switcher):
            return bool(section.mix) and section.mixing != "passive"
        if isinstance(section, Isolator | Pedal) and section.active in (YesNo.YES, YesNo.NO):
            return bool(section.active)
        if self.pedal is not None:
            powered = isinstance(self.pedal.needs, PowerPhrase)
            if self.kind_name in ("splitter", "mixer", "volume-pedal", "di", "reamp"):
                passive = self.pedal.needs == NOTHING or self.pedal.mix == "passive"
                return not passive if self.kind.drives else powered
        return self.kind.drives

    @property
    def drives_bypassed(self) -> bool | None:
        """The same while it is bypassed; ``None`` where its bypass is not known."""
        return {"true-bypass": False, "relay": False, "buffered": True, "always-on": self.drives_engaged}.get(self.bypass or "")

    # --- loading ----------------------------------------------------------------------------------------------------

    @property
    def zin(self) -> Figure:
        """Input impedance (ohm) while engaged."""
        stated: Figure | None = getattr(self.section, "zin", None)
        if stated is not None and stated.known:
            return stated
        pot = self.pedal.pot if self.pedal else None
        if pot is not None and pot.known:
            return pot
        if self.role is Role.AMP:
            amp = self.section
            is_line = isinstance(amp, Amp) and (amp.kind in ("desk", "interface") or (amp.level or "").startswith("line"))
            return assumed(_LINE_INPUT if is_line else _AMP_INPUT, "Ω")
        return assumed(self.kind.zin, "Ω")

    @property
    def zout(self) -> Figure:
        """Output impedance (ohm) while engaged; unknown for a passive pickup, which is no plain resistance."""
        stated: Figure | None = getattr(self.section, "zout", None)
        if stated is not None and stated.known:
            return stated
        if self.role is Role.SOURCE:
            pickups = getattr(self.section, "pickups", None)
            is_player = getattr(self.section, "level", None) is not None and pickups is None and self.kind_name is not None
            return assumed(_PICKUPS.get(pickups or "", 1e3), "Ω") if pickups in _PICKUPS or is_player else unknown("Ω")
        if getattr(self.section, "buffered_out", None) is YesNo.YES:
            return assumed(1e3, "Ω")
        pot = self.pedal.pot if self.pedal else None
        if pot is not None and pot.known and self.kind_name == "volume-pedal":
            return figure(pot.value / 4, "Ω", pot.origin)
        return assumed(self.kind.zout, "Ω")

    @property
    def is_passive_pickup(self) -> bool:
        """Whether it is a source that cables and loads change the sound of. One that nobody described is taken for one."""
        if self.role is not Role.SOURCE:
            return False
        pickups = getattr(self.section, "pickups", None)
        return pickups != "active" and (self.kind_name in (None, "guitar", "bass", "acoustic") or pickups is not None)

    # --- levels -----------------------------------------------------------------------------------------------------

    @property
    def gain(self) -> Figure:
        """Small-signal gain (dB) while engaged: as stated, or what its kind usually has. The latter for noise only."""
        return self.stated_gain or assumed(self.kind.gain, "dB")

    @property
    def stated_gain(self) -> Figure | None:
        """Gain (dB) while engaged, if stated: what levels are worked out from, with unity for all others."""
        stated: Figure | None = getattr(self.section, "gain", None)
        return stated if stated is not None and stated.known else None

    # --- time and polarity ------------------------------------------------------------------------------------------

    @property
    def is_digital(self) -> bool:
        stated = getattr(self.section, "digital", None)
        return bool(stated) if stated in (YesNo.YES, YesNo.NO) else self.kind.digital

    @property
    def has_tail(self) -> bool:
        """Whether it goes on sounding after the playing stops."""
        stated = self.pedal.tail if self.pedal else None
        return bool(stated) if stated in (YesNo.YES, YesNo.NO) else self.kind.tail

    @property
    def rings_on(self) -> bool:
        """Whether its tail still comes out once its own footswitch is off. Taken for granted where nobody says."""
        if not self.has_tail or self.pedal is None:
            return False
        return self.pedal.trails != "no" and self.bypass not in ("true-bypass", "relay")

    @property
    def copies(self) -> bool:
        """Whether, engaged, a copy of what goes in comes out: not of a wet-only echo, whose sound is one of its own."""
        pedal = self.pedal
        return self.kind.dry and (pedal is None or (pedal.mix != "wet-only" and pedal.dry_through != "no"))

    @property
    def copies_bypassed(self) -> bool:
        """The same while it is bypassed. A box set to the effect alone keeps the dry sound out when it is off too, unless its
        bypass is a plain wire."""
        return self.copies or self.bypass in ("true-bypass", "relay")

    @property
    def mutes(self) -> bool:
        """Whether it is silent while engaged."""
        stated = self.pedal.mutes if self.pedal else None
        return bool(stated) if stated in (YesNo.YES, YesNo.NO) else self.kind.mutes

    @property
    def copy_latency(self) -> Figure:
        """How late (s) the copy of the sound comes out while it is engaged. A range means that nobody knows exactly."""
        stated: Figure | None = getattr(self.section, "latency", None)
        known = stated if stated is not None and stated.known else None
        usual = self.kind.latency
        if self.is_digital and usual == (0.0, 0.0) and self.kind_name not in _ANALOGUE_PATH:
            usual = KINDS["delay"].latency
        if self.pedal is not None and self.has_tail:
            if self.pedal.dry_through == "yes":
                return figure(0.0, "s")
            if self.pedal.dry_through is None or self.pedal.dry_through == "unknown":
                if not self.is_digital:
                    return assumed(0.0, "s")
                return Figure(0.0, known.value if known else usual[1], "s", Origin.ASSUMED)
        if known is not None:
            return known
        if self.role is Role.AMP:
            usual = KINDS["modeller"].latency if self.kind_name == "digital" else (0.0, 0.0)
        return Figure(*usual, "s", Origin.ASSUMED)

    @property
    def latency_bypassed(self) -> Figure:
        """How late (s) the sound comes out while it is bypassed; nothing, where nobody says otherwise."""
        stated: Figure | None = getattr(self.section, "latency_bypassed", None)
        return stated if stated is not None and stated.known else assumed(0.0, "s")

    @property
    def polarity(self) -> int | None:
        """1 if it keeps the signal the right way up while engaged, −1 if it turns it over; ``None`` if unknown.

        Passive isolators, selectors and splitters are taken to keep it.
        """
        stated = getattr(self.section, "polarity", None)
        if stated in _SIGNS:
            return _SIGNS[stated]
        if stated == "unknown":
            return None
        takes_for_granted = self.role is Role.SWITCHER or self.kind_name == "splitter" or self.role is Role.SOURCE
        return 1 if takes_for_granted or not (self.drives_engaged or self.role is Role.AMP) else None

    @property
    def polarity_bypassed(self) -> int:
        """The same while it is bypassed; a bypass is taken to keep it."""
        return _SIGNS.get(getattr(self.section, "polarity_bypassed", None) or "same", 1)


_SIGNS = {"same": 1, "inverts": -1}
_ANALOGUE_PATH = ("tuner", "loop-switcher", "mixer", "selector", "splitter")
"""Digital boxes whose sound does not go through their converters, unless they state a latency."""
