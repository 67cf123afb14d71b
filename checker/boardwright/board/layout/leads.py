"""Every lead of the board with its two ends: sound, power, MIDI, control, and runs that say what they join."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from boardwright import limits
from boardwright.board.audio import GUITAR, Audio
from boardwright.board.layout.boxes import Box, Socket
from boardwright.board.layout.runs import Run, usual_od
from boardwright.board.power import Power
from boardwright.spec.fields import Jack, YesNo
from boardwright.spec.figure import Figure, Origin
from boardwright.spec.power_phrase import Flow
from boardwright.spec.problem import Path
from boardwright.spec.read import Spec

LETTERS = {"audio": "A", "dc": "D", "ac-low": "P", "mains": "W", "midi": "M", "usb": "U", "control": "C"}
"""The first letter of a lead's label, by what it carries."""

DATA = ("midi", "usb", "control")
POWER = ("dc", "ac-low", "mains")


class End(NamedTuple):
    """One end of a lead: the thing and jack, and where that is if it stands on the board."""

    jack: Jack
    box: Box | None
    role: str
    shape: str
    """Of its plug: ``flat``, ``angled`` or ``straight``."""
    shape_origin: Origin

    @property
    def name(self) -> str:
        return self.jack.thing

    @property
    def socket(self) -> Socket | None:
        return self.box.socket(self.jack.jack, self.role) if self.box else None

    def projection(self, carries: str, od: float) -> float:
        """How far its plug stands out of the panel (m), the bend of its cable included."""
        if carries in POWER:
            return (limits.DC_STRAIGHT if self.shape == "straight" else limits.DC_ANGLED).value
        if self.shape == "straight":
            return limits.PLUG_STRAIGHT.value + limits.PLUG_BEND.value * od
        return (limits.PLUG_ANGLED if self.shape == "angled" else limits.PLUG_FLAT).value


@dataclass(eq=False, slots=True)
class Lead:
    """A lead from one end to the other."""

    label: str
    carries: str
    start: End
    end: End
    path: Path
    length: Figure | None = None
    """From tip to tip, if stated (m)."""
    run: Run | None = None
    stays_in: tuple[bool, Origin] = (True, Origin.ASSUMED)
    anchor: YesNo | None = None
    made: str | None = None
    daisy: bool = False
    """Whether it is a piece of a daisy chain, which is bought and not cut."""
    stays_here: bool = False
    """Whether it is known to lie on the board although its ends are things of which nothing is known."""

    @property
    def ends(self) -> tuple[End, End]:
        return self.start, self.end

    @property
    def leaves_board(self) -> bool:
        """Whether one of its ends stands elsewhere: a guitar, an amplifier, a supply that has no place on the board."""
        if self.stays_here:
            return False
        return any(end.box is None or (end.box.is_supply and end.box.corner is None) for end in self.ends)

    @property
    def od(self) -> Figure:
        return self.run.od if self.run else usual_od(self.carries)

    @property
    def joins(self) -> str:
        return f"{self.start.jack} > {self.end.jack}"


def assemble_leads(spec: Spec, boxes: dict[str, Box], audio: Audio, power: Power, runs: list[Run]) -> list[Lead]:
    """The leads of a board, each labelled; a run that joins the same two things gives a lead its way."""
    leads: list[Lead] = []
    counts: dict[str, int] = {}
    waiting = [run for run in runs if run.section.joins]
    for lead in [*_sound(spec, boxes, audio), *_power(boxes, power), *_data(spec, boxes)]:
        lead.run = next((run for run in waiting if _same(run, lead)), None)
        if lead.run is not None:
            waiting.remove(lead.run)
            _tell_more(lead, lead.run)
        leads.append(lead)
    for run in waiting:
        leads.append(_of_run(run, boxes, spec.fragment))
    _spread(boxes, leads)
    for lead in leads:
        letter = LETTERS.get(lead.carries, "X")
        counts[letter] = counts.get(letter, 0) + 1
        lead.label = (lead.run.section.id if lead.run else None) or f"{letter}{counts[letter]}"
    return leads


def _sound(spec: Spec, boxes: dict[str, Box], audio: Audio) -> Iterator[Lead]:
    for hop in audio.hops:
        if hop.is_air:
            continue
        lead = hop.lead
        shapes = list(lead.ends or ()) if lead else []
        start = _end(boxes, hop.start, "out", shapes[:1], "audio")
        end = _end(boxes, hop.end, "in", shapes[-1:], "audio")
        made = Lead("", "audio", start, end, hop.path, hop.length)
        if made.length is None and GUITAR in (hop.start.thing, hop.end.thing) and spec.guitar and spec.guitar.lead:
            made.length = spec.guitar.lead.length
        if made.leaves_board:
            made.start, made.end = (_straightened(each) for each in made.ends)
            made.stays_in = (False, Origin.ASSUMED)
        if lead is not None:
            if lead.stays_in in (YesNo.YES, YesNo.NO):
                made.stays_in = (bool(lead.stays_in), Origin.STATED)
            made.anchor, made.made = lead.anchor, lead.made
        yield made


def _straightened(end: End) -> End:
    """A lead to the guitar or an amplifier has straight plugs unless it says otherwise."""
    return End(end.jack, end.box, end.role, "straight", end.shape_origin) if end.shape_origin is Origin.ASSUMED else end


def _power(boxes: dict[str, Box], power: Power) -> Iterator[Lead]:
    for name, device in power.devices.items():
        if device.takes_nothing:
            continue
        for line in device.lines:
            if line.is_battery:
                continue
            first = Jack(line.after) if line.after else Jack(line.outlets[0].supply.name, line.outlets[0].name) if line.outlets else None
            if first is None:
                continue
            carries = "ac-low" if line.outlets and line.outlets[0].gives.flow is Flow.AC else "dc"
            lengths = [piece.length for piece in line.pieces]
            length = lengths[0] if len(lengths) == 1 and lengths[0] is not None and lengths[0].known else None
            start = _end(boxes, first, "dc" if line.after else "out", [], "dc")
            yield Lead("", carries, start, _end(boxes, Jack(name, "dc"), "dc", [], "dc"), line.path, length, daisy=bool(line.after))


def _data(spec: Spec, boxes: dict[str, Box]) -> Iterator[Lead]:
    for number, entry in spec.midi.items():
        for chain in entry.path or ():
            for start, end in itertools.pairwise(chain):
                yield _plain("midi", boxes, start, end, ("midi", number), entry.length)
    for number, lead in spec.control.items():
        if lead.from_ and lead.to:
            yield _plain("control", boxes, lead.from_, lead.to, ("control", number), lead.length)
    for number, usb in spec.usb.items():
        if usb.from_ and usb.to and usb.when != "service":
            yield _plain("usb", boxes, usb.from_, usb.to, ("usb", number), None)


def _plain(carries: str, boxes: dict[str, Box], start: Jack, end: Jack, path: Path, length: Figure | None) -> Lead:
    return Lead("", carries, _end(boxes, start, "data", [], carries), _end(boxes, end, "data", [], carries), path, length)


def _end(boxes: dict[str, Box], jack: Jack, role: str, shapes: list[str], carries: str) -> End:
    stated = shapes[0] if shapes and shapes[0] != "unknown" else None
    shape = stated or ("flat" if carries == "audio" else "angled")
    return End(jack, boxes.get(jack.thing), role, shape, Origin.STATED if stated else Origin.ASSUMED)


def _same(run: Run, lead: Lead) -> bool:
    """Whether a run is the way of this lead: the same things, and the same jacks where both name them."""
    assert run.section.joins is not None
    if run.carries is not None and run.carries != lead.carries:
        return False
    return all(
        a.thing == b.thing and (a.jack is None or b.jack in (None, "dc") or a.jack == b.jack)
        for a, b in zip(run.section.joins, (lead.start.jack, lead.end.jack), strict=True)
    )


def _tell_more(lead: Lead, run: Run) -> None:
    section = run.section
    if section.length is not None and section.length.known:
        lead.length = section.length
    lead.made = section.made or lead.made
    lead.anchor = section.anchor if section.anchor is not None else lead.anchor


def _of_run(run: Run, boxes: dict[str, Box], fragment: bool) -> Lead:
    """A lead that only ``runs`` tells of."""
    assert run.section.joins is not None
    carries = run.carries or "audio"
    shapes = [each if each in ("straight", "angled", "flat") else "unknown" for each in run.section.ends or ()]
    roles = ("out", "in") if carries == "audio" else ("out", "dc") if carries in POWER else ("data", "data")
    start, end = run.section.joins
    lead = Lead("", carries, _end(boxes, start, roles[0], shapes[:1], carries), _end(boxes, end, roles[1], shapes[-1:], carries), run.path)
    lead.run = run
    lead.stays_here = fragment and not run.section.leaves_board and GUITAR not in (start.thing, end.thing)
    _tell_more(lead, run)
    return lead


_NUMBER = re.compile(r"(\d+)")


def _spread(boxes: dict[str, Box], leads: list[Lead]) -> None:
    """Sockets of one side whose places nobody states lie evenly along it: inputs to the right, outputs to the left."""
    used: dict[str, dict[tuple[str | None, str], None]] = {}
    for lead in leads:
        for end in lead.ends:
            if end.box is not None:
                used.setdefault(end.name, {})[end.jack.jack, end.role] = None
    for name, sockets in used.items():
        box = boxes[name]
        by_side: dict[str, list[tuple[str | None, str]]] = {}
        for jack, role in sockets:
            side, stated = box.side_of(jack, role)
            if not stated:
                by_side.setdefault(side, []).append((jack, role))
        for side, group in by_side.items():
            if len(group) > 1:
                order = sorted(group, key=_from_the_right, reverse=side in ("front", "rear"))
                box.shares.update({key: (number + 1) / (len(order) + 1) for number, key in enumerate(order)})


def _from_the_right(socket: tuple[str | None, str]) -> tuple[int, int, str]:
    """Inputs, then loops by their number with send and return side by side, power, and outputs last."""
    jack, role = socket
    number = _NUMBER.search(jack or "")
    if number and role in ("in", "out"):
        return 1, int(number[1]), jack or ""
    return {"in": 0, "dc": 2, "data": 2}.get(role, 3), 0, jack or ""
