"""An isolating transformer is in the wrong place.

## What it finds
A transformer that something too weak has to drive, that is driven too hard, that passes its screen where it should part it, that
cuts off the board's only earth, or that stands beside a mains transformer.

## Why it matters
An isolating transformer passes sound by magnetism and parts the grounds. It wants a strong, buffered source, moderate level,
and distance from mains transformers.

## How it decides
It trips if what is ahead drives it from more than {{ limit isolator-source }} (a passive pickup, a passive volume pedal, an
unbuffered wah), unless its own input has {{ limit isolator-input }} or more, as that of a direct box; if the greatest stated
level ahead of it exceeds its `max_level`, which rises with frequency from {{ limit isolator-rated-at }} on, at
{{ limit isolator-bass }}; if what hangs on its output is heavier than its `load_least`; if its screen passes through and so closes an earth loop; if its lifted screen leaves the board
without the one earth it would have; or if it stands within {{ limit isolator-distance }} of a mains transformer.

## How to mend it
After the last buffered pedal, one for each amplifier except the one that gives the earth. Every mains earth stays in place, as the
local electrical code wants it; in doubt, ask a qualified person.

## Source
Physics (the flux in a core is volts over hertz; a dipole's field). Otherwise common practice, no published source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.ground import floats
from boardwright.board.ground_bonds import Bond, Via, screen_of
from boardwright.board.signal import Role
from boardwright.board.signal.stages import Stage
from boardwright.rules.earth._loops import KEEP_EARTH, thing
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.fields import Jack
from boardwright.spec.figure import Figure, figure, tell
from boardwright.spec.sections.switchers import START, Tap

_IRON = ("linear-toroid", "linear-laminated")


@rule(Severity.RISK, lesson="one-earth", explained_by=("amplifiers-not-on-exactly-one-earth", "earth-loop-closed"))
def isolation_transformer_misplaced(board: Board) -> Iterator[Judgement]:
    used = dict.fromkeys(hop.end.thing for hop in board.audio.hops)
    for name in used:
        stage = board.signal.stages.get(name)
        if stage is not None and _is_transformer(stage):
            found = [
                each
                for each in (_source(board, stage), _level(board, stage), _load(board, stage), _screen(board, name), _only_earth(board, name), _near_iron(board, name))
                if each
            ]
            yield from found or [clear(thing(board, name))]


def _is_transformer(stage: Stage) -> bool:
    return stage.kind_name in ("transformer", "di", "reamp") and not stage.drives_engaged


# --- what drives it -------------------------------------------------------------------------------------------------


def _source(board: Board, stage: Stage) -> Judgement | None:
    """Whether everything that can drive it is strong enough, whatever is bypassed ahead of it."""
    unsure: str | None = None
    for driver, sure in _drivers(board, stage.name):
        if not _is_weak(driver) or stage.zin.value >= limits.ISOLATOR_INPUT.value:
            continue
        if not sure:
            unsure = unsure or driver.name
            continue
        what = "a passive pickup" if driver.is_passive_pickup else f"{driver.zout}"
        return trips(
            Severity.RISK,
            [Thing(stage.name, stage.path), Thing(driver.name, driver.path)],
            f"`{stage.name}` is driven by `{driver.name}`, which is too weak for it ({what}). Treble and bass are lost, and it may ring.",
            f"Put a buffered pedal ahead of `{stage.name}`, one that is always on.",
            [number("input", stage.zin), limit("source at most", limits.ISOLATOR_SOURCE)],
        )
    if unsure is not None:
        question = (
            f"Is there a pedal ahead of `{stage.name}` that buffers the sound even while it is off? Write the `bypass` of the pedals ahead of it."
        )
        return cannot_tell(Severity.RISK, [Thing(stage.name, stage.path)], question)
    return None


def _is_weak(driver: Stage) -> bool:
    return driver.is_passive_pickup or (driver.zout.known and over(driver.zout.value, limits.ISOLATOR_SOURCE.value))


def _drivers(board: Board, name: str) -> Iterator[tuple[Stage, bool]]:
    """Everything whose output may meet a thing's input, and whether that is sure: bypassed boxes let through what is ahead."""
    seen = {name}
    work = [(name, True)]
    while work:
        here, sure = work.pop()
        for hop in board.audio.arriving.get(here, ()):
            before = board.signal.stages.get(hop.start.thing)
            if before is None or before.name in seen or _buffers(board, hop.end):
                continue
            seen.add(before.name)
            if before.drives_engaged or before.kind_name in ("volume-pedal", "wah"):
                yield before, sure
            holds = before.drives_bypassed
            if before.role is not Role.SOURCE and not (before.drives_engaged and holds):
                work.append((before.name, sure and holds is not None))


def _buffers(board: Board, jack: Jack) -> bool:
    """Whether a lead ends at a switcher's buffer, so that nothing behind the switcher leans on it."""
    switcher = board.spec.switchers.get(jack.thing)
    return switcher is not None and Tap(START) in (switcher.buffer or ()) and not (jack.jack or "").startswith("return")


def _level(board: Board, stage: Stage) -> Judgement | None:
    most: Figure | None = getattr(stage.section, "max_level", None)
    if most is None or not most.known:
        return None
    allowed = most.value + 20 * math.log10(limits.ISOLATOR_BASS.value / limits.ISOLATOR_RATED_AT.value)
    for driver, _ in _drivers(board, stage.name):
        loudest: Figure | None = getattr(driver.section, "max_out", None)
        if loudest is not None and loudest.known and over(loudest.value, allowed):
            return trips(
                Severity.RISK,
                [Thing(stage.name, stage.path), Thing(driver.name, driver.path)],
                f"`{driver.name}` gives up to {loudest}, and at the lowest note `{stage.name}` takes {tell(allowed, 'dBu')}. Loud bass "
                "notes saturate its core and tear.",
                f"Turn the level down ahead of `{stage.name}`, or use a bigger transformer.",
                [number("greatest level ahead", loudest), number("takes", most), limit("lowest note", limits.ISOLATOR_BASS)],
            )
    return None


def _load(board: Board, stage: Stage) -> Judgement | None:
    """Whether what hangs on its output is heavier than it is rated for."""
    least: Figure | None = getattr(stage.section, "load_least", None)
    if least is None or not least.known:
        return None
    for hop in board.audio.leaving.get(stage.name, ()):
        load = board.signal.stages.get(hop.end.thing)
        if load is not None and over(least.value, load.zin.value):
            return trips(
                Severity.RISK,
                [Thing(stage.name, stage.path), Thing(load.name, load.path)],
                f"`{stage.name}` is rated for {least} and more at its output, and `{load.name}` has {load.zin}: it loses treble and level.",
                f"Put a buffer between them, or lead `{stage.name}` into an input of higher impedance.",
                [number("load", load.zin), number("rated for", least)],
                at=hop.path,
            )
    return None


# --- what its screen does -------------------------------------------------------------------------------------------


def _screen(board: Board, name: str) -> Judgement | None:
    if screen_of(board.spec, name) != "through":
        return None
    isolator = thing(board, name)
    if any(bond.path == isolator.path for loop in board.ground.loops for bond in loop.way if bond.via is Via.SCREEN):
        return trips(
            Severity.RISK,
            [isolator],
            f"`{name}` passes its screen through, so it parts nothing, and an earth loop goes through it.",
            f"Set its screen to lifted. {KEEP_EARTH}",
        )
    return None


def _only_earth(board: Board, name: str) -> Judgement | None:
    """Whether the board would have an earth if this passed its screen, and has none as it is."""
    ground = board.ground
    far = [node for each, node in ground.isolated if each == name]
    sure = [bond for bond in ground.bonds if bond.sure]
    if not floats(ground, ground.bonds):
        return None
    closed = [Bond(("ground", name), node, Via.SCREEN, "", ()) for node in far]
    if floats(ground, [*sure, *closed]):
        return None
    return trips(
        Severity.RISK,
        [thing(board, name)],
        f"`{name}` sits on the only way by which the board would reach earth, and its screen is lifted. The board floats, and buzzes.",
        f"Let one amplifier reach the board without an isolator, or pass the screen at this one. {KEEP_EARTH}",
    )


def _near_iron(board: Board, name: str) -> Judgement | None:
    placed = {box.name: box for box in board.layout.placed}
    if name not in placed:
        return None
    box = placed[name]
    for supply in placed.values():
        if getattr(supply.section, "kind", None) not in _IRON:
            continue
        assert box.footprint is not None and supply.footprint is not None
        apart = figure(box.footprint.distance(supply.footprint), "m", min(box.size_origin, supply.size_origin))
        if over(limits.ISOLATOR_DISTANCE.value, apart.value):
            return trips(
                Severity.RISK,
                [thing(board, name), Thing(supply.name, supply.path)],
                f"`{name}` stands {apart} from the mains transformer in `{supply.name}`, and hears it.",
                "Move it away or turn it: twice the distance is 18 dB quieter.",
                [number("distance", apart), limit("at least", limits.ISOLATOR_DISTANCE)],
            )
    return None
