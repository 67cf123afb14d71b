"""How the sound goes, thing by thing: enough for what noise and screens need to know."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from boardwright.board.feeding import Device
from boardwright.spec.fields import Jack
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec

GUITAR = "guitar"


@dataclass(frozen=True, slots=True)
class Hop:
    """One arrow: from one jack to the next."""

    start: Jack
    end: Jack
    path: Path


@dataclass(eq=False, slots=True)
class Audio:
    """The arrows of a board."""

    hops: list[Hop]
    devices: dict[str, Device]
    amp_gain: dict[str, float]
    _next: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))

    def __post_init__(self) -> None:
        for hop in self.hops:
            self._next[hop.start.thing].append(hop.end.thing)

    @property
    def described(self) -> bool:
        return bool(self.hops)

    def gain_to_amp(self, name: str) -> float | None:
        """The most gain (dB) from a device's input to an amplifier's, its own included, whatever is switched on.

        ``None`` where its sound reaches no amplifier. A pedal that is off has no gain, so none counts below 0 dB.
        """
        best: dict[str, float | None] = {}
        pending: set[str] = set()
        work: list[tuple[str, bool]] = [(name, False)]
        while work:
            here, done = work.pop()
            following = self._next.get(here, [])
            if done:
                onward = [best[each] for each in following if best.get(each) is not None]
                own = max(0.0, self.devices[here].gain.value) if here in self.devices else 0.0
                if here in self.amp_gain:
                    onward.append(self.amp_gain[here])
                best[here] = own + max(onward) if onward else None  # type: ignore[type-var]
                pending.discard(here)
            elif here not in best and here not in pending:
                pending.add(here)
                work.append((here, True))
                work += [(each, False) for each in following if each not in pending]
        return best.get(name)


def assemble_audio(spec: Spec, devices: dict[str, Device]) -> Audio:
    """The arrows, and which of their ends are amplifiers. In a fragment, an unknown last name is an amplifier."""
    hops = list(_hops(spec))
    gains = {name: amp.gain.value if amp.gain and amp.gain.known else 0.0 for name, amp in spec.amps.items()}
    if spec.fragment:
        starts = {hop.start.thing for hop in hops}
        for hop in hops:
            if hop.end.thing not in starts and hop.end.thing not in devices:
                gains.setdefault(hop.end.thing, 0.0)
    return Audio(hops, devices, gains)


def _hops(spec: Spec) -> Iterator[Hop]:
    for number, entry in spec.audio.items():
        for chain in entry.path or ():
            for start, end in zip(chain, chain[1:], strict=False):
                yield Hop(start, end, ("audio", number))
