"""Names that lead nowhere: said once each, with the name that was most likely meant."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from boardwright.board.audio import Hop
from boardwright.board.signal.jacks import Job, is_send, job_of
from boardwright.board.signal.wiring import out_names
from boardwright.spec.fields import NOTHING, Jack
from boardwright.spec.problem import Path, Problem
from boardwright.spec.sections.switchers import END, START, Switcher
from boardwright.spec.wording import either, nearest

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

_SIDES = ("_l", "_r")


def unknown_names(board: Board) -> Iterator[Problem]:
    """Every name in a whole board that nothing declares. A fragment may use any, so do not ask there."""
    checks = (_of_audio, _of_chained_feeds, _of_switchers, _of_presets, _of_promises, _of_control)
    seen: set[tuple[Path, str]] = set()
    for check in checks:
        for problem in check(board):
            if (problem.where, problem.message) not in seen:
                seen.add((problem.where, problem.message))
                yield problem


def _problem(board: Board, path: Path, message: str, name: str, known: Collection[str], expected: str) -> Problem:
    guess = nearest(name, list(known))
    hint = f" Did you mean `{guess}`?" if guess else ""
    return Problem("name", message + hint, path, board.locate(path), expected, board.spec.edits(path, name, guess))


def _thing(board: Board, name: str, path: Path, extra: Collection[str] = ()) -> Iterator[Problem]:
    """Complain unless something is called ``name``."""
    if name in board.names or name in extra or any(board.spec.unread((key, name)) for key in board.spec.written):
        return
    known = [*board.names, *extra]
    yield _problem(board, path, f"`{name}` is not described anywhere.", name, known, "the name of something that is described")


def _of_audio(board: Board) -> Iterator[Problem]:
    for hop in board.audio.hops:
        for jack, leaves in ((hop.start, True), (hop.end, False)):
            yield from _thing(board, jack.thing, hop.path)
            yield from _jack(board, hop, jack, leaves)


def _jack(board: Board, hop: Hop, jack: Jack, leaves: bool) -> Iterator[Problem]:
    """Jacks of switchers and mixers are described; those of other boxes may have any name."""
    name = jack.jack
    if name is None or job_of(name) is not Job.AUDIO:
        return
    switcher, pedal = board.spec.switchers.get(jack.thing), board.spec.pedals.get(jack.thing)
    if switcher is not None:
        known = _jacks_of(switcher, leaves)
        described = bool(switcher.loops or switcher.outs or switcher.select or switcher.split or switcher.mix)
        if described and name not in known and name[:-2] not in known:
            side = "output" if leaves else "input"
            message = f"`{jack.thing}` has no {side} `{name}`."
            yield _problem(board, hop.path, message, name, known, either(known))
    elif pedal is not None and pedal.sends is not None and leaves and is_send(name):
        sends = [f"send_{send}" for send in pedal.sends]
        if name not in sends and name.removesuffix("_send") not in pedal.sends:
            yield _problem(board, hop.path, f"`{jack.thing}` has no send `{name}`.", name, sends, either(sends))


def _jacks_of(switcher: Switcher, leaves: bool) -> list[str]:
    loops = list(switcher.loops or ())
    ways = [*(switcher.select or ()), *(switcher.mix or ())]
    inserts = [f"insert_{tap.after}" for tap in switcher.inserts or ()]
    if leaves:
        return ["out", *out_names(switcher), *(f"send_{key}" for key in [*loops, *inserts])]
    return ["in", *ways, *(f"return_{key}" for key in [*loops, *inserts])]


def _of_chained_feeds(board: Board) -> Iterator[Problem]:
    devices = board.power.devices
    for name, device in devices.items():
        for line in device.lines:
            if line.after and line.after not in devices:
                message = f"`{name}` is chained behind `{line.after}`, which is not described anywhere."
                yield _problem(board, (*line.path, "after"), message, line.after, devices, "the name of a pedal on the same lead")


def _of_switchers(board: Board) -> Iterator[Problem]:
    """Places along a switcher, and what hangs on loops that make no lead."""
    for name, switcher in board.spec.switchers.items():
        path: Path = ("switchers", name)
        places = [START, *(switcher.loops or ()), END]
        used = [(out.tap, (*path, "outs", jack)) for jack, out in (switcher.outs or {}).items() if out.tap]
        used += [(tap, (*path, "inserts", str(tap))) for tap in switcher.inserts or ()]
        used += [(tap, (*path, "buffer")) for tap in switcher.buffer or ()]
        for tap, where in used:
            if tap.after not in places:
                message = f"`{name}` has no loop `{tap.after}` to be behind."
                yield _problem(board, where, message, tap.after, places, "`after` and the name of a loop")
        for key in ("select", "split", "mix"):
            ways = getattr(switcher, key) or {}
            for position, ends in ways.items():
                for end in ends:
                    if end != NOTHING and end not in ways:
                        yield from _thing(board, end.partition(".")[0], (*path, key, position))


def _of_presets(board: Board) -> Iterator[Problem]:
    spec = board.spec
    for name, preset in spec.presets.items():
        path: Path = ("presets", name)
        for thing, said in preset.switched.items():
            switcher, pedal = spec.switchers.get(thing), spec.pedals.get(thing)
            where = (*path, thing)
            if switcher is not None:
                if board.spec.unread(("switchers", thing)):
                    continue
                known = [*(switcher.loops or ()), *(switcher.select or ())]
                word = "loop"
            elif pedal is not None and pedal.sends:
                known, word = list(pedal.sends), "send"
            elif pedal is not None:
                known, word = ["on", "off"], "position"
            else:
                keys = ("select", "mute", "free", "quiet", "louder")
                yield from _thing(board, thing, where, keys)
                continue
            for each in said:
                if each not in known and each != NOTHING:
                    yield _problem(board, where, f"`{thing}` has no {word} `{each}`.", each, known, either(known) if known else "")
        for thing, position in (preset.select or {}).items():
            where = (*path, "select", thing)
            selector = spec.switchers.get(thing)
            if selector is None:
                yield from _thing(board, thing, where)
            elif position not in (selector.select or {}):
                known = list(selector.select or ())
                yield _problem(board, where, f"`{thing}` has no position `{position}`.", position, known, either(known) if known else "")
        for thing in preset.free or ():
            yield from _thing(board, thing, (*path, "free"))
        for place, jack in enumerate(preset.mute or ()):
            outs = [out for switcher in spec.switchers.values() for out in out_names(switcher)]
            yield from _thing(board, jack.thing, (*path, "mute", place), outs)


def _of_promises(board: Board) -> Iterator[Problem]:
    for number, promise in board.spec.promises.items():
        path: Path = ("promises", number)
        if promise.never is not None:
            for key, names in (("sound_of", promise.never.sound_of), ("reaches", promise.never.reaches)):
                for name in names or ():
                    yield from _thing(board, name, (*path, "never", key))
        if promise.always is not None:
            for key, names in (("hears", promise.always.hears), ("from", promise.always.from_)):
                for name in names or ():
                    yield from _thing(board, name, (*path, "always", key))
        for jack in promise.same_time or ():
            yield from _thing(board, jack.thing, (*path, "same_time"))


def _of_control(board: Board) -> Iterator[Problem]:
    for key in ("control", "usb"):
        for number, lead in getattr(board.spec, key).items():
            for end, jack in (("from", lead.from_), ("to", lead.to)):
                if jack is not None:
                    yield from _thing(board, jack.thing, (key, number, end))
    for number, entry in board.spec.midi.items():
        for jack in {jack.thing: jack for chain in entry.path or () for jack in chain}.values():
            yield from _thing(board, jack.thing, ("midi", number))
