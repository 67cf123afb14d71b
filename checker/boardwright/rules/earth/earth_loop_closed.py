"""An earth loop is closed.

## What it finds
A ring of metal that goes from the wall by one mains cord through signal grounds and back by another.

## Why it matters
If ground current can walk in a circle, some of it walks along your signal's own return wire, and you hear the wall: a
low hum that gets worse with every earthed box that joins.

## How it decides
It joins all grounds as the leads do: audio screens unless they are lifted, power returns, control, MIDI and computer leads,
brackets, and the protective earth of every mains cord, always. Each cord more than one in what hangs together closes a
loop, and the loop is printed. Through a bond of {{ limit soft-bond }} or more it is an advice, otherwise a risk. An amplifier
of class I that states no `earth_bond` is taken as joined to earth inside. Rings of leads on the board that
do not go through the wall are another matter (`wide-loop-near-transformer`).

The hum is an estimate: {{ limit earth-difference }} between two earths of one circuit ({{ limit earth-difference-circuits }}
between two circuits), and what a field of {{ limit room-field }} induces in a loop {{ limit loop-width }} wide, divided between the
screens ({{ limit screen-resistance }}) and {{ limit earth-way }} for the way through the wall.

## How to mend it
On the signal side: an isolating transformer with a lifted screen in one audio lead, all earthed boxes on one block. Every mains
earth stays in place; the local electrical code and a qualified person have the last word on anything beyond the plug.

## Source
Physics (Faraday's law, a voltage divider); circuit rank; AES48 for screens. The figures are orders of magnitude from the bench.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.ground import Loop, loop_in_words
from boardwright.rules.earth._loops import cure, hum_numbers, subject, thing, things_of
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(
    Severity.RISK,
    Severity.ADVICE,
    lesson="one-earth",
    explained_by=("amplifiers-not-on-exactly-one-earth", "isolation-bridged-by-side-path", "usb-closes-earth-loop"),
)
def earth_loop_closed(board: Board) -> Iterator[Judgement]:
    ground = board.ground
    for loop in ground.loops:
        yield _closed(board, loop)
    for loop in ground.possible_loops:
        asked = next(bond for bond in loop.doubts)
        yield cannot_tell(Severity.RISK, [thing(board, subject(board, loop))], f"{asked.question} If so, a loop is closed {loop_in_words(loop)}.")
    earthed = [bond.owner for bond in ground.bonds if bond.to_earth and bond.owner in ground.names]
    blamed = {subject(board, loop) for loop in [*ground.loops, *ground.possible_loops]}
    yield from (clear(thing(board, name)) for name in dict.fromkeys(earthed) if name not in blamed)


def _closed(board: Board, loop: Loop) -> Judgement:
    assumed = [bond for bond in (loop.out, loop.back) if bond.origin.word == "assumed"]
    taken = f" (`{assumed[-1].owner}` is of class I and taken as joined to earth inside)" if assumed else ""
    heard = "Through a soft bond it may hum a little." if loop.soft else "It hums, on most nights."
    return trips(
        Severity.ADVICE if loop.soft else Severity.RISK,
        things_of(board, loop),
        f"An earth loop is closed: {loop_in_words(loop)}{taken}. {heard}",
        cure(board, loop),
        hum_numbers(board, loop),
        at=loop.back.path,
    )
