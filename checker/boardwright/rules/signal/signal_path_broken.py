"""Sound does not get through.

## What it finds
An amplifier that never hears the guitar, a box that no sound ever gets into, and a box whose sound never gets out.

## Why it matters
Follow the sound with a finger from guitar to speaker. If the finger gets stuck, so does the sound.

## How it decides
It works out, for every state of every switch at once, where the sound can get. A fault if no amplifier hears anything in
any state, or one that is `required` does not; a risk for any other amplifier, and for a box that no sound reaches or
whose sound reaches no amplifier. Where several boxes in a row hang on one missing lead, it is told once, at the box beside
the gap. A box that stands unplugged on purpose says `parked: yes`; a tuner, and whatever says `send_only: yes`, may be the
end of its way.

## How to mend it
Add the missing lead, or mark the box as parked.

## Source
Graph reachability.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import Edge, Graph, Node, Stage
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import boxes, gets_out, outputs, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(Severity.FAULT, Severity.RISK, lesson="follow-the-sound", explained_by=("expression-and-audio-jacks-crossed",))
def signal_path_broken(board: Board) -> Iterator[Judgement]:
    if not board.audio.described:
        return
    signal = board.signal
    deaf, stuck = [], []
    for stage in boxes(board):
        if not _is_plugged(board, stage.name):
            yield _idle(board, stage)
        elif not signal.switches.can_be(signal.arrives(stage.name)):
            deaf.append(stage.name)
        elif not _may_end(board, stage) and not signal.switches.can_be(gets_out(board, stage.name)):
            stuck.append(stage.name)
        else:
            yield clear(thing(board, stage.name))
    graph = signal.graph
    ends = _beside_the_gap({name: outputs(board, name) for name in stuck}, graph.leaving, "end")
    begins = _beside_the_gap({name: [edge.start for edge in signal.edges_of.get(name, ())] for name in deaf}, graph.arriving, "start")
    silent = [amp for amp in signal.amps if not signal.switches.can_be(signal.hears(amp))]
    yield from (clear(thing(board, amp)) for amp in signal.amps if amp not in silent)
    yield from _amplifiers(board, silent, ends, begins)
    if not silent or len(silent) < len(signal.amps):
        yield from _gaps(board, ends, begins)


def _beside_the_gap(starts: dict[str, list[Node]], edges: dict[Node, list[Edge]], end: str) -> list[str]:
    """Of boxes that are cut off, those from which no other one lies further towards the gap; of a ring of them, the first."""
    met = {name: _next_met(name, starts, edges, end) for name in starts}
    rings = Graph([Edge(Node(name, ""), Node(other, "")) for name, others in met.items() for other in others]).ring_of
    ring_of = {node.thing: number for node, number in rings.items()}
    leads_on = {ring_of.get(name) for name, others in met.items() if any(ring_of.get(other) != ring_of.get(name) for other in others)}
    beside: dict[str | int, str] = {}
    for name, others in met.items():
        ring = ring_of.get(name)
        if not others or (ring is not None and ring not in leads_on):
            beside.setdefault(name if ring is None else ring, name)
    return list(beside.values())


def _next_met(name: str, starts: dict[str, list[Node]], edges: dict[Node, list[Edge]], end: str) -> set[str]:
    """The other boxes among those that are cut off to which a way leads from ``name`` past none of them."""
    met, seen, stack = set(), set(starts[name]), list(starts[name])
    while stack:
        fresh = {getattr(edge, end) for edge in edges.get(stack.pop(), ())} - seen
        seen |= fresh
        for node in fresh:
            if node.thing == name or node.thing not in starts:
                stack.append(node)
            else:
                met.add(node.thing)
    return met


def _crossed(board: Board, ends: Iterable[str], begins: Iterable[str]) -> list[str]:
    """What stands in a gap and carries no sound, such as an expression pedal: it is the cause, and has a rule of its own."""
    beside = [hop.end.thing for name in ends for hop in board.audio.leaving.get(name, ())]
    beside += [hop.start.thing for name in begins for hop in board.audio.arriving.get(name, ())]
    return list(dict.fromkeys(name for name in beside if name in board.signal.stages and not board.signal.stages[name].carries_sound))


def _amplifiers(board: Board, silent: list[str], ends: list[str], begins: list[str]) -> Iterator[Judgement]:
    everything = len(silent) == len(board.signal.amps)
    where = f" It ends at {things.listed(ends)}." if everything and ends else ""
    for amp in silent:
        required = bool(getattr(board.signal.stages[amp].section, "required", None))
        about = [*_crossed(board, ends, begins), amp, *ends, *begins] if everything else [amp]
        yield trips(
            Severity.FAULT if required or everything else Severity.RISK,
            [thing(board, name) for name in about],
            f"No sound gets to `{amp}`, however the switches stand.{where}",
            f"Follow the leads from the guitar to `{amp}` and add the one that is missing.",
            at=thing(board, amp).path,
        )


def _gaps(board: Board, ends: list[str], begins: list[str]) -> Iterator[Judgement]:
    for name in begins:
        yield trips(
            Severity.RISK,
            [thing(board, each) for each in (*_crossed(board, [], [name]), name)],
            f"No sound ever gets into `{name}`.",
            f"Lead something into `{name}`, or say `parked: yes`.",
            at=thing(board, name).path,
        )
    for name in ends:
        yield trips(
            Severity.RISK,
            [thing(board, each) for each in (*_crossed(board, [name], []), name)],
            f"The sound that goes into `{name}` never comes out at an amplifier.",
            f"Lead the output of `{name}` on; or say `send_only: yes`, if it is meant to end there.",
            at=thing(board, name).path,
        )


def _idle(board: Board, stage: Stage) -> Judgement:
    about = thing(board, stage.name)
    if stage.pedal and stage.pedal.parked:
        return clear(about)
    question = f"`{stage.name}` is on the board and nothing is plugged into it. Is it parked on purpose (`parked: yes`)?"
    return cannot_tell(Severity.RISK, [about], question)


def _is_plugged(board: Board, name: str) -> bool:
    return bool(board.signal.edges_of.get(name)) or name in board.audio.leaving or name in board.audio.arriving


def _may_end(board: Board, stage: Stage) -> bool:
    """Whether the sound may end there: a tuner, or a box on a send from which nothing is meant to come back."""
    if stage.kind.mutes or (stage.pedal and stage.pedal.send_only):
        return True
    return any(
        loop.send_only
        for switcher in board.spec.switchers.values()
        for loop in (switcher.loops or {}).values()
        for end in (*(loop.unit or ()), loop.send_to)
        if end is not None and end.thing == stage.name
    )
