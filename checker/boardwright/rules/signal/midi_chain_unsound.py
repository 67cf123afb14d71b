"""MIDI chain that cannot work.

## What it finds
A ring of MIDI leads, an input fed by two, a box without thru in the middle of a chain, a chain of too many hands, and a
lead that is too long.

## Why it matters
MIDI is passed hand to hand. Each hand smudges it a little; after four it may be unreadable. And never tie the last hand to
the first.

## How it decides
The leads must form trees, each with one beginning. A ring, an input with two sources (unless it `merges`) and a box that
hands nothing on in mid-chain are faults. More than {{ limit midi-depth }} hops of hardware thru are a risk, as is a lead
above {{ limit midi-length }}. A processor that hands messages on takes about {{ limit midi-soft }}; more than
{{ limit midi-late }} in all is an advice. How a box in mid-chain hands messages on is asked, if it does not say.

## How to mend it
A thru or split box: a star instead of a chain.

## Source
MIDI 1.0 electrical specification (IEC 63035): 31.25 kbaud, 15 m.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import midi_leads, midi_of, thing
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import tell
from boardwright.spec.problem import Path


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="control-and-midi")
def midi_chain_unsound(board: Board) -> Iterator[Judgement]:
    onward: dict[str, list[str]] = defaultdict(list)
    sources: dict[str, list[tuple[str, Path]]] = defaultdict(list)
    for index, entry in board.spec.midi.items():
        path: Path = ("midi", index)
        if entry.length is not None and entry.length.known and over(entry.length.value, limits.MIDI_LENGTH.value):
            names = [jack.thing for chain in entry.path or () for jack in chain]
            between = f" between {things.listed(names)}" if names else ""
            yield trips(
                Severity.RISK,
                [thing(board, name) for name in names] or [Thing("midi", path)],
                f"A MIDI lead{between} is {entry.length} long.",
                "Keep it below the standard's length, or use a repeater.",
                [number("length", entry.length), limit("at most", limits.MIDI_LENGTH)],
                at=path,
            )
    for start, end, index in midi_leads(board):
        onward[start.thing].append(end.thing)
        sources[end.thing].append((start.thing, ("midi", index)))
    ring = _ring(onward)
    if ring:
        yield trips(
            Severity.FAULT,
            [thing(board, name) for name in ring],
            f"The MIDI leads form a ring: {' > '.join([*ring, ring[0]])}. A message can go round for ever.",
            "Take out the lead that closes the ring.",
            at=sources[ring[0]][0][1],
        )
        return
    for name in sources:
        yield from _listener(board, name, sources[name], onward)


def _ring(onward: dict[str, list[str]]) -> list[str]:
    """The names on one ring, or none."""
    done: set[str] = set()
    for first in list(onward):
        way: list[str] = []
        stack = [(first, iter(onward.get(first, ())))] if first not in done else []
        while stack:
            name, rest = stack[-1]
            if name not in way:
                way.append(name)
            following = next(rest, None)
            if following is None:
                done.add(name)
                way.pop()
                stack.pop()
            elif following in way:
                return way[way.index(following) :]
            elif following not in done:
                stack.append((following, iter(onward.get(following, ()))))
    return []


def _listener(board: Board, name: str, fed: list[tuple[str, Path]], onward: dict[str, list[str]]) -> Iterator[Judgement]:
    about, midi, path = thing(board, name), midi_of(board, name), fed[0][1]
    if len(fed) > 1 and not (midi and midi.merges):
        names = things.listed([source for source, _ in fed])
        yield trips(Severity.FAULT, [about], f"The MIDI input of `{name}` is fed by {names} at once.", "Put a merger between.", at=fed[1][1])
        return
    if onward.get(name) and midi is not None and midi.thru == "none":
        yield trips(
            Severity.FAULT,
            [about],
            f"`{name}` hands no MIDI on, and {things.listed(onward[name])} {'hangs' if len(onward[name]) == 1 else 'hang'} behind it: deaf.",
            f"Put `{name}` last, or use a thru box.",
            at=path,
        )
        return
    if onward.get(name) and (midi is None or midi.thru in (None, "unknown")):
        question = f"How does `{name}` hand MIDI on: by wire (`thru: hard`), by its processor (`soft`), or not (`none`)?"
        yield cannot_tell(Severity.FAULT, [about], question, at=path)
        return
    depth, late = _depth(board, fed[0][0], "hard"), _depth(board, fed[0][0], "soft") * limits.MIDI_SOFT.value
    if over(depth, limits.MIDI_DEPTH.value):
        yield trips(
            Severity.RISK,
            [about],
            f"MIDI comes to `{name}` through {depth} hands. Each smudges it a little: it may be unreadable.",
            "Use a thru box, and make it a star.",
            [limit("hops at most", limits.MIDI_DEPTH)],
            at=path,
        )
    elif over(late, limits.MIDI_LATE.value):
        yield trips(
            Severity.ADVICE,
            [about],
            f"MIDI comes to `{name}` through processors that hand it on, about {tell(late, 's')} late: clock and tapped tempo drag.",
            "Use a thru box, and make it a star.",
            [limit("each adds", limits.MIDI_SOFT), limit("late from", limits.MIDI_LATE)],
            at=path,
        )
    else:
        yield clear(about)


def _depth(board: Board, source: str, thru: str) -> int:
    """How many boxes with this kind of thru lie between the beginning of the chain and ``source``, itself included."""
    fed = {end.thing: start.thing for start, end, _ in midi_leads(board)}
    depth, here, seen = 0, source, set()
    while here in fed and here not in seen:
        seen.add(here)
        midi = midi_of(board, here)
        depth += (midi.thru if midi else "hard") == thru
        here = fed[here]
    return depth
