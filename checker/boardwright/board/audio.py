"""Every lead that carries sound: those of ``audio``, and those that loops, inserts, selectors, splits and mixes imply."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from boardwright.spec.fields import NOTHING, Jack, read_jack
from boardwright.spec.figure import Figure, Unreadable
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec
from boardwright.spec.sections.audio import AudioLead
from boardwright.spec.sections.switchers import Loop, Switcher

GUITAR = "guitar"


@dataclass(frozen=True, slots=True)
class Hop:
    """One lead, in the direction of the sound. A jack without a name is the thing's only one on that side."""

    start: Jack
    end: Jack
    path: Path
    """Where it stands in the text."""
    lead: AudioLead | None = None
    patch: Figure | None = None
    """Its length, where a loop states it."""
    intended_ring: bool = False
    """Whether sound is meant to come back to where it was, by this lead."""
    is_air: bool = False
    """A radio link, which has no lead."""

    @property
    def length(self) -> Figure | None:
        """Its length (m), if stated."""
        return self.patch or (self.lead.length if self.lead else None)


@dataclass(eq=False)
class Audio:
    """The leads of a board."""

    hops: list[Hop]

    @property
    def described(self) -> bool:
        return bool(self.hops)

    @cached_property
    def leaving(self) -> dict[str, list[Hop]]:
        """Hops by the thing they start from."""
        return _by(self.hops, "start")

    @cached_property
    def arriving(self) -> dict[str, list[Hop]]:
        """Hops by the thing they end at."""
        return _by(self.hops, "end")


def _by(hops: list[Hop], end: str) -> dict[str, list[Hop]]:
    found: dict[str, list[Hop]] = {}
    for hop in hops:
        found.setdefault(getattr(hop, end).thing, []).append(hop)
    return found


def assemble_audio(spec: Spec) -> Audio:
    """The leads of a board: its arrows first, then what its switchers imply and no arrow says already."""
    hops = list(_arrows(spec))
    used = {str(jack) for hop in hops for jack in (hop.start, hop.end)}
    for name, switcher in spec.switchers.items():
        hops += _loops(spec, name, switcher)
        hops += _ways(spec, name, switcher, used)
    if GUITAR not in {hop.start.thing for hop in hops}:
        hops += _radio(spec, hops)
    return Audio(hops)


def _arrows(spec: Spec) -> Iterator[Hop]:
    for number, entry in spec.audio.items():
        for chain in entry.path or ():
            for place, (start, end) in enumerate(pairwise(chain)):
                start = _way_out(start) if place else start
                end = _way_in(end) if place + 2 < len(chain) else end
                yield Hop(start, end, ("audio", number), entry.lead, intended_ring=entry.feedback == "intended")


def _way_out(jack: Jack) -> Jack:
    """In the middle of a chain one name stands for both ways: behind ``echo.in_l`` the sound leaves by ``out_l``."""
    name = jack.jack or ""
    if name in ("in", "input", "return"):
        return Jack(jack.thing)
    return Jack(jack.thing, f"out{name[2:]}") if name.startswith("in_") else jack


def _way_in(jack: Jack) -> Jack:
    """And ahead of ``echo.out_l`` it comes in by the only input."""
    name = jack.jack or ""
    return Jack(jack.thing) if name in ("out", "output", "send") or name.startswith(("out_", "send_")) else jack


def send_jack(loop: str) -> str:
    return f"send_{loop}"


def return_jack(loop: str) -> str:
    return f"return_{loop}"


def insert_name(after: str) -> str:
    """The name of an insert, beside the names of loops."""
    return f"insert_{after}"


def _loops(spec: Spec, name: str, switcher: Switcher) -> Iterator[Hop]:
    for key, loop in (switcher.loops or {}).items():
        yield from _loop(spec, name, key, loop, ("switchers", name, "loops", key))
    for tap, insert in (switcher.inserts or {}).items():
        yield from _loop(spec, name, insert_name(tap.after), insert, ("switchers", name, "inserts", str(tap)))


def _loop(spec: Spec, name: str, key: str, loop: Loop, path: Path) -> Iterator[Hop]:
    send, back = Jack(name, send_jack(key)), Jack(name, return_jack(key))
    if loop.unit:
        for side in ("_l", "_r") if loop.stereo else ("",):
            chain = [_sided(send, side), *loop.unit, _sided(back, side)]
            for place, (start, end) in enumerate(pairwise(chain)):
                if side == "_r" and not (_is_wide(spec, start, "out") and _is_wide(spec, end, "in_")):
                    continue
                patch = loop.send if place == 0 else loop.back if place == len(loop.unit) else None
                yield Hop(_sided(start, side, "out"), _sided(end, side, "in"), path, patch=patch)
        return
    if loop.send_to:
        yield Hop(send, loop.send_to, path, patch=loop.send)
    if loop.return_from:
        yield Hop(loop.return_from, back, path, patch=loop.back)


def _sided(jack: Jack, side: str, base: str | None = None) -> Jack:
    """The jack of one side of a stereo pair. A jack that is named in the text is meant as it stands."""
    if not side or (jack.jack and base is not None):
        return jack
    return Jack(jack.thing, (jack.jack or base or "") + side)


def _is_wide(spec: Spec, jack: Jack, end: str) -> bool:
    """Whether a box in a stereo loop has two channels at this end; taken for granted where it does not say."""
    channels = getattr(spec.pedals.get(jack.thing), "channels", None)
    return channels is None or getattr(channels, end) != 1


def _ways(spec: Spec, name: str, switcher: Switcher, used: set[str]) -> Iterator[Hop]:
    """The leads that ``select``, ``split`` and ``mix`` name by what is at their other end."""
    for key in ("select", "split", "mix"):
        ways: dict[str, list[str]] = getattr(switcher, key) or {}
        for position, ends in ways.items():
            jack = Jack(name, position)
            for end in ends:
                other = _thing(end)
                if other is None or end in ways or end == NOTHING or str(jack) in used:
                    continue
                path: Path = ("switchers", name, key, position)
                inwards = key == "mix" or is_source(spec, other.thing)
                yield Hop(other, jack, path) if inwards else Hop(jack, other, path)


def _thing(text: str) -> Jack | None:
    try:
        return read_jack(text)
    except Unreadable:
        return None


def is_source(spec: Spec, name: str) -> bool:
    """Whether sound begins there: the guitar, or one of ``instruments``."""
    return name == GUITAR or name in spec.instruments


def _radio(spec: Spec, hops: list[Hop]) -> Iterator[Hop]:
    """The guitar plays by radio where a receiver stands and no lead comes from the guitar."""
    fed = {hop.end.thing for hop in hops}
    playing = {hop.start.thing for hop in hops}
    for name, pedal in spec.pedals.items():
        if pedal.kind == "wireless-receiver" and name in playing and name not in fed:
            yield Hop(Jack(GUITAR), Jack(name), ("pedals", name), is_air=True)
