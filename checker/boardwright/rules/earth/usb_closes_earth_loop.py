"""A computer lead closes a loop.

## What it finds
A USB, network or display lead that is plugged in during a show and joins the board to an earthed computer, or to a computer that
is joined to the board by another lead as well.

## Why it matters
A laptop joined to the board brings its own earth and its own chatter. Fine for updates at home, trouble on stage: hum, and
chirps that change with the picture on the screen.

## How it decides
Leads with `when: show` are part of the ground graph. If one of them is in a loop through the wall, or in a ring with another lead,
it trips. With `when: service` it is clear, as long as you unplug it; with `isolated: yes` as well. When it is not said, or
whether the computer is earthed is not known, it is asked.

## How to mend it
A laptop on its battery, an isolator in the lead, MIDI through an optocoupler, sound through a direct box with a transformer.

## Source
Physics; common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.ground import Loop, loop_in_words
from boardwright.board.ground_bonds import Bond, Via
from boardwright.board.ground_paths import by_node, shortest_way
from boardwright.rules.earth._loops import cure, hum_numbers, subject, thing, things_of
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.spec.sections.usb import UsbLead


@rule(Severity.RISK, lesson="one-earth", explained_by=("isolation-bridged-by-side-path",))
def usb_closes_earth_loop(board: Board) -> Iterator[Judgement]:
    bonds = {bond.path: bond for bond in board.ground.bonds if bond.via is Via.USB}
    told: set[Bond] = set()
    for number, lead in board.spec.usb.items():
        bond = bonds.get(("usb", number))
        if lead.from_ and lead.to and bond not in told:
            if bond is None:
                yield clear(*_about(board, lead))
            else:
                yield _judged(board, bond, told)


def _about(board: Board, lead: UsbLead) -> list[Thing]:
    assert lead.from_ and lead.to
    names = sorted({lead.from_.thing, lead.to.thing}, key=lambda name: name not in board.spec.computers)
    return [thing(board, name) for name in names]


def _judged(board: Board, bond: Bond, told: set[Bond]) -> Judgement:
    """What is to be said about a lead; ``told`` gains the other computer leads of a ring that it is in, which is told once."""
    things = _about(board, board.spec.usb[bond.path[1]])  # type: ignore[index]
    if (loop := _through(board.ground.loops, bond)) is not None:
        return trips(
            Severity.RISK,
            [*dict.fromkeys([thing(board, subject(board, loop)), *things, *things_of(board, loop)])],
            f"The computer brings a second earth to the board: {loop_in_words(loop)}. It hums, and you may hear the computer think.",
            cure(board, loop),
            hum_numbers(board, loop),
            at=bond.path,
        )
    if bond.sure and (way := _other_way(board, bond)) is not None:
        others = [each for each in way if each.via is Via.USB]
        told.update(others)
        too = (each for other in others for each in _about(board, board.spec.usb[other.path[1]]))  # type: ignore[index]
        return trips(
            Severity.RISK,
            [*dict.fromkeys([*things, *too])],
            f"The computer is joined to the board twice: by {bond.says}, and by {', '.join(dict.fromkeys(each.says for each in way))}. Its chatter "
            "runs along the sound's own return.",
            "Put an isolator into the computer lead, or a direct box with a transformer into the audio lead.",
            at=bond.path,
        )
    if (loop := _through(board.ground.possible_loops, bond)) is not None:
        return cannot_tell(Severity.RISK, things, loop.doubts[0].question, at=bond.path)
    if not bond.sure:
        return cannot_tell(Severity.RISK, things, bond.question, at=bond.path)
    return clear(*things)


def _through(loops: list[Loop], bond: Bond) -> Loop | None:
    return next((loop for loop in loops if bond in loop.way), None)


def _other_way(board: Board, bond: Bond) -> list[Bond] | None:
    others = [each for each in board.ground.signal_bonds if each.sure and each is not bond]
    return shortest_way(by_node(others), bond.a, [bond.b])
