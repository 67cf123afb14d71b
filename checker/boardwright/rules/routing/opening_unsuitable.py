"""Opening unsuitable.

## What it finds
Holes with a bare metal edge, holes that a plug does not pass, holes that are stuffed, holes that sound and power share, and holes
that a lead is said to pass and does not come near.

## Why it matters
A bare metal edge is a slow knife. Line every hole, and check that the plug fits through before you solder.

## How it decides
A bare metal edge is a risk, and a danger where a mains cord passes it. The slimmer of a lead's two plugs, with
{{ limit hole-clear }} of air, must pass (a fault): an audio plug's body is {{ limit plug-body }} thick, a power plug's
{{ limit dc-plug-body }}, DIN {{ limit din-body }}, XLR {{ limit xlr-body }}, a mains connector's {{ limit iec-body }}. Only
leads that state their `ends`, or are `moulded`, are asked; others are passed bare. Advice if the cables fill more than
{{ limit hole-fill }} of the hole (squares of diameters), if sound and power pass one hole, or if the drawn way of a lead stays
more than {{ limit hole-near }} from the edge of a hole that it is said to pass. On a metal frame an edge that
is not stated is taken for metal.

## How to mend it
A grommet or edge strip; pass the bare cable and fit the plug afterwards; a second hole.

## Source
Common practice. For mains: the safety standards for appliances and the wiring rules of the country.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.geometry import distance_to, segments
from boardwright.board.layout.leads import POWER
from boardwright.board.layout.runs import Run
from boardwright.limits import Limit
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, over, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.figure import tell
from boardwright.spec.sections.openings import Opening

BODIES: dict[str, Limit] = {"xlr": limits.XLR_BODY, "din": limits.DIN_BODY, "usb": limits.USB_BODY, "iec": limits.IEC_BODY}
BY_USE: dict[str, Limit] = {
    "dc": limits.DC_BODY, "ac-low": limits.DC_BODY, "mains": limits.IEC_BODY, "midi": limits.DIN_BODY, "usb": limits.USB_BODY,
}  # fmt: skip
SHAPES = ("straight", "angled", "flat")


@rule(Severity.DANGER, Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="leads-and-routes")
def opening_unsuitable(board: Board) -> Iterator[Judgement]:
    for name, opening in board.spec.openings.items():
        passing = [run for run in board.layout.runs if name in (run.section.holes or ())]
        thing = Thing(name, ("openings", name))
        found = [_edge(board, thing, opening, passing), *_plugs(thing, opening, passing), _fill(thing, opening, passing), _shared(thing, passing)]
        found += _missed(thing, opening, passing)
        judged = [each for each in found if each is not None]
        yield from judged
        if not judged:
            yield clear(thing)


def _edge(board: Board, thing: Thing, opening: Opening, passing: list[Run]) -> Judgement | None:
    metal_frame = board.layout.deck.frame.material == "metal"
    edge = opening.edge if opening.edge not in (None, "unknown") else "metal" if metal_frame else None
    mains = [run for run in passing if run.carries == "mains"]
    severity = Severity.DANGER if mains else Severity.RISK
    if opening.grommet is YesNo.YES or edge in ("wood", "plastic"):
        return None
    about = [thing, *(of_run(run) for run in mains or passing)]
    if edge is None or opening.grommet is not YesNo.NO:
        if not passing and edge is None:
            return None
        return cannot_tell(severity, about, f"Is the edge of the opening `{thing.name}` lined with a grommet or edge strip?")
    assumed = "" if opening.edge == "metal" else ", since the frame is metal"
    if mains:
        return trips(
            Severity.DANGER,
            about,
            f"The mains cord `{mains[0].name}` passes the bare metal edge of `{thing.name}`{assumed}: it cuts through to the live conductor.",
            "Do not use it. Line the hole with a grommet, and have the cord looked at by a qualified person if it was ever used there.",
        )
    return trips(
        Severity.RISK,
        about,
        f"`{thing.name}` has a bare metal edge{assumed}: every knock in transport saws at what passes it.",
        "Line it with a grommet or edge strip, and write `grommet: yes`.",
    )


def _plugs(thing: Thing, opening: Opening, passing: list[Run]) -> Iterator[Judgement]:
    if opening.dia is None or not opening.dia.known:
        return
    for run in passing:
        bodies = _bodies(run)
        if bodies and over(min(bodies) + limits.HOLE_CLEAR.value, opening.dia.value):
            yield trips(
                Severity.FAULT,
                [thing, of_run(run)],
                f"`{thing.name}` is {mm(opening.dia.value)} wide and the plug on `{run.name}` is about {mm(min(bodies))}: it does not pass.",
                "Make the hole larger, or pass the bare cable and fit the plug afterwards.",
                [size("hole", opening.dia.value, opening.dia.origin), size("plug", min(bodies)), limit("air", limits.HOLE_CLEAR)],
            )


def _bodies(run: Run) -> list[float]:
    """Diameters of the ends that are on before the lead is laid; a bare end is as thick as the cable."""
    usual = BY_USE.get(run.carries or "audio", limits.PLUG_BODY)
    if run.section.ends:
        return [run.od.value if end == "bare" else (usual if end in SHAPES else BODIES.get(end, usual)).value for end in run.section.ends]
    return [usual.value] if run.section.made == "moulded" else []


def _missed(thing: Thing, opening: Opening, passing: list[Run]) -> Iterator[Judgement]:
    """Leads that say that they pass the hole, and whose drawn way does not come near it."""
    if opening.at is None or not all(each.known for each in opening.at):
        return
    middle = (opening.at[0].value, opening.at[1].value)
    half = opening.dia.value / 2 if opening.dia is not None and opening.dia.known else 0.0
    for run in passing:
        if not run.has_way:
            continue
        apart = min(distance_to(middle, part) for part in segments(run.points)) - half
        if over(apart, limits.HOLE_NEAR.value):
            yield trips(
                Severity.ADVICE,
                [thing, of_run(run)],
                f"`{run.name}` is said to pass `{thing.name}`, and its drawn way stays {mm(apart)} from the edge of the hole.",
                "Draw the way through the hole, or correct `holes` or where the hole is.",
                [size("from the edge", apart), limit("passes within", limits.HOLE_NEAR)],
            )


def _fill(thing: Thing, opening: Opening, passing: list[Run]) -> Judgement | None:
    if opening.dia is None or not opening.dia.known or opening.dia.value <= 0:
        return None
    fill = sum(run.od.value**2 for run in passing) / opening.dia.value**2
    if not over(fill, limits.HOLE_FILL.value):
        return None
    origin = min((run.od.origin for run in passing), default=opening.dia.origin)
    return trips(
        Severity.ADVICE,
        [thing, *(of_run(run) for run in passing)],
        f"{len(passing)} cables fill {tell(fill, '%')} of `{thing.name}`: the next one does not go in, and none comes out.",
        "Make a second hole.",
        [Number("filled", tell(fill, "%"), fill, "%", origin.word), limit("at most", limits.HOLE_FILL)],
    )


def _shared(thing: Thing, passing: list[Run]) -> Judgement | None:
    sound = [run for run in passing if run.carries == "audio"]
    power = [run for run in passing if run.carries in POWER]
    if not sound or not power:
        return None
    return trips(
        Severity.ADVICE,
        [thing, of_run(sound[0]), of_run(power[0])],
        f"`{sound[0].name}` carries sound and `{power[0].name}` carries power, and both pass `{thing.name}`.",
        "Make a second hole, and lead them apart from there.",
    )
