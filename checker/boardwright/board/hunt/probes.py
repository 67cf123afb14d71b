"""Tests that a player can make with two leads, two ears and a meter. None of them is at mains voltage, and none opens a box."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from boardwright import limits
from boardwright.board.hunt.access import is_accessible
from boardwright.board.hunt.causes import Cause
from boardwright.board.hunt.situation import Place, Situation
from boardwright.board.hunt.suspects import POWER, Suspect, What, above
from boardwright.board.signal import Edge, Node, Role
from boardwright.spec.figure import tell
from boardwright.spec.power_phrase import PowerPhrase
from boardwright.spec.wording import series


class ProbeKind(StrEnum):
    """What is done in a test."""

    LOOK = "look at the settings"
    LAMPS = "look at the lamps"
    MEND = "mend what the check found"
    LISTEN = "listen at an output"
    INJECT = "play into an input"
    SWAP = "swap a lead"
    AROUND = "lead the sound round a box"
    VOLTS = "measure at a plug"
    FEED = "swap a power lead"
    OUTLET = "swap an outlet"
    BATTERY = "feed from a battery"
    CAUSE = "try for a cause"


@dataclass(frozen=True, slots=True)
class Probe:
    """One test, with what it would say of every suspect."""

    id: str
    kind: ProbeKind
    do: str
    ask: str
    """A question that `good` or `bad` answers."""
    minutes: float
    covers: frozenset[str]
    """Suspects that would make the answer bad."""
    about: str
    """What it is done to: a jack, a box, a lead."""
    flexed: bool = False

    @property
    def is_cut(self) -> bool:
        """Whether it cuts the way of the sound in two."""
        return self.kind in (ProbeKind.LISTEN, ProbeKind.INJECT)


def probes(situation: Situation, found: list[Suspect], made_for: Iterable[Cause], another_amp: bool) -> list[Probe]:
    """Every test that tells something about these suspects, looks first."""
    bench = _Bench(situation, found, list(made_for), another_amp)
    heard = [] if situation.kind == "reboot" else [*bench.cuts(), *bench.swaps()]  # what starts anew is not found by listening along the way
    return [*bench.looks(), *bench.for_causes(), *heard, *bench.meter()]


class _Bench:
    """What is at hand for one hunt."""

    def __init__(self, situation: Situation, found: list[Suspect], made_for: list[Cause], another_amp: bool) -> None:
        self.situation, self.found, self.causes = situation, found, made_for
        self.all = frozenset(each.id for each in found)
        self.sound = {"silent": "Do you hear it", "reboot": "Does it run on"}.get(situation.kind, "Does it sound as it should")
        self.own_amp = situation.ends[0]
        self.listener = None if another_amp or situation.fine else self.own_amp
        self.where = f"`{situation.fine[0]}`" if situation.fine else "another amplifier" if another_amp else f"`{self.own_amp}`"
        signal = situation.board.signal
        self.source_parts = frozenset(each.id for each in found if each.thing == situation.source)
        self.amp_parts = frozenset(each.id for each in found if each.thing == self.own_amp and each.what in (What.AMP, What.SETTING))
        self.signal = signal

    # --- looking ----------------------------------------------------------------------------------------------------

    def looks(self) -> Iterator[Probe]:
        settings = [each for each in self.found if each.what is What.SETTING]
        if settings:
            named = series(each.words for each in settings)
            yield Probe("look", ProbeKind.LOOK, f"Look at {named}.", "Are they all as they should be?", limits.TEST_TIME_LOOK.value, _ids(settings), "settings")
        power = [each for each in self.found if each.what in POWER]
        if power and self.situation.kind in ("silent", "weak"):
            do = f"Look along the board {self.situation.words}. A box that is off is stepped on for a moment."
            yield Probe("lamps", ProbeKind.LAMPS, do, "Does every box light that should?", limits.TEST_TIME_LOOK.value, _ids(power), "lamps")
        if power and self.situation.kind in ("silent", "weak", "reboot"):
            yield from self._lamps_of_supplies(power)

    def _lamps_of_supplies(self, power: list[Suspect]) -> Iterator[Probe]:
        for supply in power:
            if supply.what is What.SUPPLY and len(power) > 1:
                up = self.all & above(self.situation.board, supply.thing)
                ask = f"Does at least one other thing on `{supply.thing}` light?"
                do = f"Look at what else hangs on `{supply.thing}`; plug something into a spare outlet of it if nothing does."
                yield Probe(f"lamps of {supply.thing}", ProbeKind.LAMPS, do, ask, limits.TEST_TIME_LOOK.value, up, supply.thing)

    # --- causes -----------------------------------------------------------------------------------------------------

    def for_causes(self) -> Iterator[Probe]:
        for cause in self.causes:
            own = frozenset({cause.suspect.id})
            covers = self.all - own if cause.only_this else own
            yield Probe(f"try {cause.suspect.id}", ProbeKind.CAUSE, cause.do, cause.ask, (limits.TEST_TIME_LOOK if cause.quick else limits.TEST_TIME).value, covers, cause.suspect.thing)

    # --- the way of the sound ---------------------------------------------------------------------------------------

    def cuts(self) -> Iterator[Probe]:
        """Listen at every output, play into every input. What decides is which suspects the remaining way goes through."""
        leads = [edge for edge in self.situation.live if edge.hop is not None and not edge.hop.is_air]
        heard = {jack: frozenset(found) for jack, found in self._heard([edge.start for edge in leads]).items()}
        played = {jack: frozenset(found) for jack, found in self._played([edge.end for edge in leads]).items()}
        deaf = frozenset(cause.suspect.id for cause in self.causes if not cause.listens)
        with_each_listen = self.source_parts | (self.amp_parts if self.listener else frozenset())
        done: set[str] = set()
        for edge in leads:
            jack = str(edge.hop.start) if edge.hop else ""
            if f"listen at {jack}" not in done:
                done.add(f"listen at {jack}")
                yield self._listen(edge.start, jack, heard[edge.start] | with_each_listen, deaf)
            jack = str(edge.hop.end) if edge.hop else ""
            if f"play into {jack}" not in done:
                done.add(f"play into {jack}")
                yield self._inject(edge.end, jack, played[edge.end] | self.source_parts)

    def _always(self, deaf: frozenset[str]) -> frozenset[str]:
        return frozenset(cause.suspect.id for cause in self.causes) - deaf

    def _listen(self, node: Node, jack: str, covers: frozenset[str], deaf: frozenset[str]) -> Probe:
        what = f"the sound of `{self.situation.via}`" if self.situation.via and self.situation.listened(node)[1] else f"`{self.situation.source}`"
        do = f"Good lead from the output of `{jack}` straight into {self.where}. Play."
        ask = f"{self.sound.removesuffix(' it')} {what} there?" if self.situation.goes_silent else f"{self.sound} there?"
        return Probe(f"listen at {jack}", ProbeKind.LISTEN, do, ask, self._minutes(node.thing), (covers | self._always(deaf)) & self.all, jack)

    def _inject(self, node: Node, jack: str, covers: frozenset[str]) -> Probe:
        do = f"`{self.situation.source}` with a good lead straight into the input of `{jack}`. Play."
        minutes = limits.TEST_TIME.value if self._outermost(node) else self._minutes(node.thing)
        deaf = frozenset(cause.suspect.id for cause in self.causes if cause.suspect.id == "cable at the pickup" and node.thing == self.own_amp)
        return Probe(f"play into {jack}", ProbeKind.INJECT, do, f"{self.sound} at `{self.own_amp}`?", minutes, (covers | self._always(deaf)) & self.all, jack)

    def _outermost(self, node: Node) -> bool:
        """Whether the guitar's own lead ends there: that plug is always at hand."""
        return any(edge.start in self.situation.starts() for edge in self.situation.arriving.get(node, ()))

    def _minutes(self, thing: str) -> float:
        return (limits.TEST_TIME if is_accessible(self.situation.board, thing) else limits.TEST_TIME_CROWDED).value

    def _heard(self, nodes: list[Node]) -> dict[Node, set[str]]:
        """For each jack, what would be heard wrong there."""
        situation = self.situation
        found: dict[Node, set[str]] = {node: set() for node in nodes}
        places = {node: situation.listened(node) for node in found}
        if situation.goes_silent:
            for suspect in self.found:
                ahead = situation.forward(situation.begins, suspect.edges)
                for node, place in places.items():
                    if place not in ahead:
                        found[node].add(suspect.id)
            return found
        for node in found:
            behind = situation.backward([places[node]])
            self._crossed(found[node], lambda edge, behind=behind: _on(edge, situation.ahead, behind))
        return found

    def _played(self, nodes: list[Node]) -> dict[Node, set[str]]:
        """For each jack, what would still be heard wrong at the amplifier with the guitar played straight into it."""
        situation = self.situation
        end = situation.end(self.own_amp)
        found: dict[Node, set[str]] = {node: set() for node in nodes}
        if situation.goes_silent:
            for suspect in self.found:
                behind = situation.backward([end], suspect.edges)
                for node in found:
                    if situation.listened(node) not in behind:
                        found[node].add(suspect.id)
            return found
        behind = situation.backward([end])
        for node in found:
            ahead = situation.forward([situation.listened(node)])
            self._crossed(found[node], lambda edge, ahead=ahead: _on(edge, ahead, behind))
        return found

    def _crossed(self, found: set[str], crosses) -> None:  # type: ignore[no-untyped-def]
        for suspect in self.found:
            if any(crosses(edge) for edge in suspect.edges):
                found.add(suspect.id)

    # --- taking out and swapping ------------------------------------------------------------------------------------

    def swaps(self) -> Iterator[Probe]:
        for suspect in self.found:
            others = self.all - {suspect.id}
            if suspect.what is What.LEAD:
                do = f"Swap {suspect.words} for one that you know is good."
                yield Probe(f"swap {suspect.id}", ProbeKind.SWAP, do, f"{self.sound} now?", limits.TEST_TIME.value, others, suspect.id)
                if self.situation.kind == "crackle":
                    do = f"Bend {suspect.words} at each plug, and tap the plugs."
                    yield Probe(f"bend {suspect.id}", ProbeKind.SWAP, do, "Does it stay quiet?", limits.TEST_TIME_LOOK.value, frozenset({suspect.id}), suspect.id, flexed=True)
            elif suspect.what is What.GUITAR:
                do = f"Play something else in place of `{suspect.thing}`, by the same lead."
                yield Probe(f"not {suspect.thing}", ProbeKind.SWAP, do, f"{self.sound} now?", limits.TEST_TIME_MEASURED.value, self.all - self.source_parts, suspect.id)
            elif suspect.what is What.BOX:
                if self.signal.stages[suspect.thing].role is Role.BOX:
                    do = f"Take the leads out of `{suspect.thing}`, and join what comes in to what goes out with one good lead."
                    yield Probe(f"round {suspect.thing}", ProbeKind.AROUND, do, f"{self.sound} now?", self._minutes(suspect.thing), self._round(suspect), suspect.thing)
            elif suspect.what is What.AMP and suspect.thing == self.own_amp and self.listener is None:
                own = frozenset(each.id for each in self.found if each.thing == suspect.thing)
                do = f"Take the lead out of `{suspect.thing}` and put it into {self.where}."
                yield Probe(f"not {suspect.thing}", ProbeKind.AROUND, do, f"{self.sound} now?", limits.TEST_TIME.value, self.all - own, suspect.thing)

    def _round(self, box: Suspect) -> frozenset[str]:
        """Suspects that are still heard at the amplifier with a lead in a box's place."""
        situation, own = self.situation, self.situation.end(self.own_amp)
        if not situation.goes_silent:
            return frozenset(each.id for each in self.found if each is not box and not (each.edges and each.edges <= box.edges))
        return frozenset(each.id for each in self.found if own not in situation.forward(situation.begins, each.edges - box.edges))

    # --- power ------------------------------------------------------------------------------------------------------

    def meter(self) -> Iterator[Probe]:
        power = [each for each in self.found if each.what in POWER]
        devices = self.situation.board.power.devices
        for suspect in power:
            others = self.all - {suspect.id}
            if suspect.what is What.POWER_LEAD:
                device = devices[suspect.thing]
                up = self.all & above(self.situation.board, suspect.thing)
                needs = device.needs if isinstance(device.needs, PowerPhrase) else None
                volts = f"{tell(needs.nominal, 'V')}" if needs and needs.nominal else "what the label says"
                load = "while it plays, at a splitter between plug and box" if self.situation.kind == "reboot" else "with the plug out"
                do = f"Meter on dc volts, at the plug that goes into `{suspect.thing}`, {load}."
                yield Probe(f"volts at {suspect.thing}", ProbeKind.VOLTS, do, f"Does it read {volts}, within a tenth?", limits.TEST_TIME_MEASURED.value, up, suspect.thing)
                do = f"Feed `{suspect.thing}` from the same outlet by another lead with the same plug and polarity."
                yield Probe(f"feed {suspect.thing}", ProbeKind.FEED, do, f"{self.sound} now?", limits.TEST_TIME.value, others, suspect.thing)
            elif suspect.what is What.OUTLET:
                outlet = suspect.id.removeprefix("outlet ")
                do = f"Move the lead from outlet `{outlet}` to another with the same label."
                yield Probe(f"outlet {outlet}", ProbeKind.OUTLET, do, f"{self.sound} now?", limits.TEST_TIME.value, others, outlet)
            elif suspect.what is What.BATTERY:
                do = f"Put a fresh battery into `{suspect.thing}`."
                yield Probe(f"battery in {suspect.thing}", ProbeKind.BATTERY, do, f"{self.sound} now?", limits.TEST_TIME.value, others, suspect.thing)


def _on(edge: Edge, ahead: set[Place], behind: set[Place]) -> bool:
    return any((edge.start, passed) in ahead for passed in (True, False)) and any((edge.end, passed) in behind for passed in (True, False))


def _ids(found: Iterable[Suspect]) -> frozenset[str]:
    return frozenset(each.id for each in found)
