"""Send without its return.

## What it finds
A loop whose sound goes out and does not come home to the same loop, two loops whose returns are crossed, a return that is
fed and has no send, and an empty loop that gives silence when it is engaged.

## Why it matters
A loop is a there-and-back ticket. If the sound goes out and has no way home, engaging the loop gives silence; if the
returns are swapped, the wrong pedal lights up.

## How it decides
For each loop, insert and amplifier loop there must be a way from its own send to its own return while it is engaged.
Two loops that have changed returns are told once.
A box that is meant to hang on a send alone says `send_only: yes`; a return that is used as an input says `mode: input`.
A loop that stands empty for a visitor is fine if the switcher closes empty loops by itself (`normalled: yes`).

## How to mend it
Complete the pair, and label both leads with the loop's number.

## Source
Graph property.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.audio import insert_name, return_jack, send_jack
from boardwright.board.signal import ALWAYS, NEVER, Node
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.problem import Path
from boardwright.spec.sections.switchers import Loop


@rule(Severity.FAULT, lesson="loops-and-presets")
def send_without_return(board: Board) -> Iterator[Judgement]:
    for name, switcher in board.spec.switchers.items():
        whole = {**(switcher.loops or {})}
        inserts = {insert_name(tap.after): insert for tap, insert in (switcher.inserts or {}).items()}
        for kind, loops in (("loops", whole), ("inserts", inserts)):
            for key, loop in loops.items():
                path: Path = ("switchers", name, kind, key)
                yield from _loop(board, name, key, loop, Thing(f"{name} loop {key}", path if kind == "loops" else ("switchers", name, kind)))
    yield from _amp_loops(board)


def _loop(board: Board, name: str, key: str, loop: Loop, about: Thing) -> Iterator[Judgement]:
    sides = ["_l", "_r"] if loop.stereo else [""]
    nodes = board.signal.graph.leaving
    for side in sides:
        send, back = Node(name, send_jack(key) + side), Node(name, return_jack(key) + side)
        sends, returns = bool(nodes.get(send)), back in nodes and bool(board.signal.graph.arriving.get(back))
        if loop.send_only or loop.mode == "input":
            yield clear(about)
        elif not sends and not returns:
            yield _empty(about, key, name, loop)
        elif not sends:
            yield trips(
                Severity.FAULT,
                [about],
                f"The return of loop {key} of `{name}` is fed, and nothing hangs on its send: engaged, the loop plays something else.",
                "Lead the loop's send out too; or say `mode: input`, if the return is used as an input.",
            )
        else:
            yield from _there_and_back(board, name, key, send, back, about)


def _empty(about: Thing, key: str, name: str, loop: Loop) -> Judgement:
    if loop.normalled is YesNo.YES:
        return clear(about)
    if loop.normalled is YesNo.NO:
        return trips(
            Severity.FAULT,
            [about],
            f"Loop {key} of `{name}` stands empty, and the switcher does not close empty loops: engaged, it is silent.",
            "Put a patch lead from its send to its return while nobody visits.",
        )
    question = f"Does `{name}` pass the sound when the empty loop {key} is engaged? Write `normalled: yes` or `no`."
    return cannot_tell(Severity.FAULT, [about], question)


def _there_and_back(board: Board, name: str, key: str, send: Node, back: Node, about: Thing) -> Iterator[Judgement]:
    """Whether what leaves by the send comes to this loop's return and to no other's, by ways outside the switcher."""
    reached = _comes_to(board, send)
    if reached.get(back, NEVER) != NEVER and board.signal.switches.can_be(reached[back]):
        yield clear(about)
        return
    side = send.jack.removeprefix(send_jack(key))
    loops = board.spec.switchers[name].loops or {}
    swapped = [
        other
        for other in loops
        if Node(name, return_jack(other) + side) in reached and back in _comes_to(board, Node(name, send_jack(other) + side))
    ]
    if swapped and about.path[2] == "loops":
        other = swapped[0]
        if list(loops).index(key) < list(loops).index(other):
            yield trips(
                Severity.FAULT,
                [about, Thing(f"{name} loop {other}", ("switchers", name, "loops", other))],
                f"Loops {key} and {other} of `{name}` are crossed: what leaves by the send of one comes back at the return of the other.",
                "Swap the two returns, and label both leads of each loop with its number.",
            )
        return
    others = [node for node in reached if node.thing == name and node != send]
    if others:
        where = others[0].jack.replace("_", " ")
        yield trips(
            Severity.FAULT,
            [about],
            f"Loop {key} of `{name}`: what leaves by its send comes back at `{where}` instead of its own return. The leads are crossed.",
            "Swap the two returns, and label both leads of each loop with its number.",
        )
        return
    hung = [node.thing for node in reached if node != send]
    ends = f" and ends in `{hung[-1]}`" if hung else ""
    yield trips(
        Severity.FAULT,
        [about],
        f"Loop {key} of `{name}` has a send and no way back: the sound goes out{ends}. Engaged, the loop is silent.",
        "Lead it back to the loop's return; or say `send_only: yes`, if nothing is meant to come back.",
    )


def _comes_to(board: Board, send: Node) -> dict[Node, int]:
    """Where the sound of a send comes to, and in which states, by ways outside of its own box."""
    return board.signal.spread({send: ALWAYS}, along=lambda edge: edge.stage is None or edge.stage.name != send.thing)


def _amp_loops(board: Board) -> Iterator[Judgement]:
    for amp in board.signal.amps:
        sends = [node for node in board.signal.graph.nodes if node.thing == amp and "send" in node.jack]
        returns = [node for node in board.signal.graph.nodes if node.thing == amp and "return" in node.jack]
        for send in sends:
            reached = _comes_to(board, send)
            if any(node in reached for node in returns):
                yield clear(thing(board, amp))
            elif board.signal.graph.leaving.get(send):
                yield trips(
                    Severity.FAULT,
                    [thing(board, amp)],
                    f"The send of `{amp}` is used and nothing comes back to its return: most amplifiers are silent then.",
                    "Lead the last box of the loop to the amplifier's return.",
                )
