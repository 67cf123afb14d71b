"""Two boxes answer to one MIDI channel.

## What it finds
Two listeners in one tree of MIDI leads on one channel, one that listens to all beside others, and presets that send to a
channel on which nobody listens.

## Why it matters
Channels are names. If two pedals answer to the same name, both jump when you call one.

## How it decides
The channels of all listeners in a tree are compared; sharing on purpose says `shared: yes` on both. A channel 0, or
`counts_from: 0`, means that a box numbers from 0 to 15, and is counted one up. An unknown channel is asked for.

## How to mend it
One channel for each, printed on the sheet that goes with the board.

## Source
MIDI 1.0.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import midi_of, thing
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips


@rule(Severity.RISK, lesson="control-and-midi")
def midi_channel_clash(board: Board) -> Iterator[Judgement]:
    fed = {end.thing for entry in board.spec.midi.values() for chain in entry.path or () for end in chain[1:]}
    for tree in _trees(board):
        listeners = [(name, midi_of(board, name)) for name in tree if name in fed and name not in board.spec.switchers]
        by_channel: dict[int, list[str]] = defaultdict(list)
        for name, midi in listeners:
            channel = _channel(midi)
            about = [thing(board, name)]
            if midi is not None and midi.omni and len(listeners) > 1:
                said = f"`{name}` listens on every MIDI channel, beside others: it answers to all their names."
                yield trips(Severity.RISK, about, said, "Give it a channel of its own.")
            elif channel is None:
                question = f"On which channel does `{name}` listen? The default is often 1, or all: set it, and write it down."
                yield cannot_tell(Severity.RISK, about, question)
            else:
                by_channel[channel].append(name)
        for channel, names in by_channel.items():
            yield _one_channel(board, channel, names)
        yield from _unheard(board, tree, by_channel, listeners)


def _one_channel(board: Board, channel: int, names: list[str]) -> Judgement:
    about = [thing(board, name) for name in names]
    shared = all((midi := midi_of(board, name)) is not None and midi.shared for name in names)
    if len(names) < 2 or shared:
        return clear(*about)
    return trips(
        Severity.RISK,
        about,
        f"{things.listed(names)} listen on MIDI channel {channel}: call one, and {'both jump' if len(names) == 2 else 'all of them jump'}.",
        "Give each a channel of its own; or say `shared: yes` on each, if it is meant.",
    )


def _unheard(board: Board, tree: list[str], heard: dict[int, list[str]], listeners) -> Iterator[Judgement]:
    if any(midi is None or midi.omni or _channel(midi) is None for _, midi in listeners):
        return
    for name in tree:
        switcher = board.spec.switchers.get(name)
        sends = (switcher.midi.sends or []) if switcher and switcher.midi else []
        missing = [str(channel) for channel in sends if channel is not None and channel not in heard]
        if missing:
            yield trips(
                Severity.RISK,
                [Thing(name, board.names.get(name, ("switchers", name)))],
                f"`{name}` sends on MIDI channel {', '.join(missing)}, and nobody listens there.",
                "Correct the channel at one end.",
            )


def _channel(midi) -> int | None:
    """The channel, counted from 1."""
    if midi is None or midi.channel is None:
        return None
    return midi.channel + 1 if midi.counts_from == 0 or midi.channel == 0 else midi.channel


def _trees(board: Board) -> list[list[str]]:
    """Boxes that MIDI leads join, tree by tree; boxes without a socket for it are left out."""
    joined: dict[str, set[str]] = {}
    for entry in board.spec.midi.values():
        for chain in entry.path or ():
            names = {jack.thing for jack in chain}
            together = set().union(names, *(joined[name] for name in names if name in joined))
            for name in together:
                joined[name] = together
    trees: list[list[str]] = []
    for members in joined.values():
        kept = [name for name in members if getattr(board.signal.stages.get(name), "kind_name", None) != "midi-box"]
        if sorted(kept) not in [sorted(tree) for tree in trees]:
            trees.append(sorted(kept))
    return trees
