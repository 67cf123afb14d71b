"""The amplifiers do not leave exactly one earth.

## What it finds
A set of amplifiers, among those that may be carried, with which the board has no earth at all, or two.

## Why it matters
With several amplifiers the board needs one way to earth and only one, whichever amplifiers you carry tonight. With none it
buzzes, and stops when you touch the strings. With two it hums.

## How it decides
Taking amplifiers away cannot close a loop, so it looks for loops with all of them connected. Adding amplifiers cannot cut a
way to earth, so it looks for an earth with the smallest sets: the `required` ones, or each by itself where none is. That is
as good as trying all sets. A way through a bond of {{ limit soft-bond }} or more earths the board, and is not counted as a
second earth. An amplifier of class I counts as joined to earth inside, one of class II as not, unless `earth_bond`
says otherwise. A set of class II units alone has no earth by design: an advice where there are several amplifiers, and for
a single one nothing. Two players whose leads and metal never meet are two rigs, and each is judged by itself.

## How to mend it
Choose one amplifier that is always there (`required: yes`) and gives the earth; put an isolating transformer with a lifted screen
into the lead to each of the others. Every mains earth stays in place, as the local electrical code wants it; in
doubt, ask a qualified person.

## Source
Graph theory; single-point ground at low frequency (Ott, from memory); AES48. Otherwise common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.ground import Loop, OneEarth, loop_in_words
from boardwright.rules.earth._loops import KEEP_EARTH, cure, hum_numbers, thing, things_of
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(Severity.FAULT, Severity.ADVICE, lesson="one-earth", explained_by=("isolation-bridged-by-side-path",))
def amplifiers_not_on_exactly_one_earth(board: Board) -> Iterator[Judgement]:
    ground = board.ground
    if not ground.amps:
        return
    answer = board.one_earth
    loops = [loop for loop in answer.loops if set(loop.cords) <= set(ground.amps)]
    for loop in loops:
        yield _two(board, loop)
    yield from _none(board, answer)
    doubtful = [loop for loop in answer.possible_loops if set(loop.cords) <= set(ground.amps)]
    if not loops and not answer.floating:
        if (doubtful or answer.possibly_floating) and answer.questions:
            yield cannot_tell(Severity.FAULT, [thing(board, ground.amps[-1])], _question(board, answer, doubtful))
        else:
            yield clear(*(thing(board, name) for name in ground.amps))


def _two(board: Board, loop: Loop) -> Judgement:
    return trips(
        Severity.FAULT,
        things_of(board, loop),
        f"With {listed(list(loop.cords))} connected the board has two earths: {loop_in_words(loop)}. It hums.",
        cure(board, loop),
        hum_numbers(board, loop),
        at=loop.back.path,
        witness=f"with {listed(list(loop.cords))} connected",
    )


def _none(board: Board, answer: OneEarth) -> Iterator[Judgement]:
    """Sets of amplifiers with which nothing earths the board: said once for those that could, once for those that never do."""
    ground = board.ground
    earthed = {bond.owner for bond in ground.bonds if bond.to_earth}
    cut_off = [carried for carried in answer.floating if set(carried) & earthed]
    by_design = [carried for carried in answer.floating if not set(carried) & earthed]
    if cut_off:
        sets = " or ".join(listed(list(carried)) for carried in cut_off)
        only = "connected" if ground.required else "connected and nothing else"
        yield trips(
            Severity.FAULT,
            [thing(board, name) for name in dict.fromkeys(name for carried in cut_off for name in carried)],
            f"With {sets} {only}, nothing earths the board. It buzzes, and stops when you touch the strings.",
            f"Choose one amplifier that is always there and reaches the board without an isolator, and say `required: yes`. {KEEP_EARTH}",
            witness=f"with {listed(list(cut_off[0]))} {only}",
        )
    alone = {rig.amps[0] for rig in ground.rigs if len(rig.amps) == 1}
    yield from (clear(thing(board, carried[0])) for carried in by_design if alone.issuperset(carried) and not cut_off)
    by_design = [carried for carried in by_design if not alone.issuperset(carried)]
    if by_design:
        sets = " or ".join(listed(list(carried)) for carried in by_design)
        yield trips(
            Severity.ADVICE,
            [thing(board, name) for name in dict.fromkeys(name for carried in by_design for name in carried)],
            f"With {sets} alone nothing earths the board. Double-insulated amplifiers are made to play like that; it may buzz a little.",
            "If it buzzes, let one amplifier with an earth of its own always be in the rig.",
            witness=f"with {listed(list(by_design[0]))} and no other amplifier connected",
        )


def _question(board: Board, answer: OneEarth, doubtful: list[Loop]) -> str:
    both = []
    if doubtful:
        both.append("if it is joined, there are two earths")
    if answer.possibly_floating:
        both.append(f"if it is not, nothing earths the board with {listed(list(answer.possibly_floating[0]))} alone")
    told = "; ".join(both)
    return f"{answer.questions[0]} {told[:1].upper()}{told[1:]}."
