"""The rig is spread over different wall circuits.

## What it finds
Earthed gear that a screen joins and that is plugged into different circuits; sound on a circuit with dimmers or big motors;
a desk with microphones on another circuit than the guitar amplifier.

## Why it matters
Two wall sockets can be two streets, electrically. Between their earths there is a voltage, and the screen of your lead is
the wire that joins them. Who holds the strings and touches the microphone joins them too.

## How it decides
The circuit of each unit is what it states, or what the block it is plugged into states. Two earthed units on different circuits
in one piece of signal ground are a risk; so is a circuit with `dimmer: yes`. A desk on another circuit than an amplifier is an
advice, unless a reading between microphone and strings is stated: up to {{ limit touch-expected }} it is clear, above
that a risk, above {{ limit touch-volts }} a danger. A rig for the stage with several amplifiers that states no circuits is
counted and not asked about.

## How to mend it
Take all power for the rig from one circuit, by one factory-made block that is rated for the sum. A voltage between microphone and
strings is for a licensed electrician, under the local electrical code, and nobody touches both until it is found.

## Source
Physics; IEC 60364 for the touch voltage (the lower limit, from memory). Otherwise common practice, no published source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.ground_bonds import EARTH
from boardwright.board.ground_paths import joined
from boardwright.rules.earth._loops import thing
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.rules.wall import defer


@rule(Severity.DANGER, Severity.RISK, Severity.ADVICE, lesson="one-earth")
def amplifiers_on_different_circuits(board: Board) -> Iterator[Judgement]:
    yield from _touch(board)
    yield from _dimmed(board)
    yield from _joined(board)
    yield from _microphones(board)


def _touch(board: Board) -> Iterator[Judgement]:
    tests = board.wall.section.tests
    touch = tests.touch if tests else None
    if touch is None:
        return
    at = Thing("mains", ("mains", "tests", "touch"))
    if not touch.known:
        yield cannot_tell(
            Severity.DANGER,
            [at],
            "What does a meter show between microphone and strings? Have a qualified person measure it before anybody touches both.",
        )
    elif over(touch.value, limits.TOUCH_EXPECTED.value):
        danger = over(touch.value, limits.TOUCH_VOLTS.value)
        means = "That can kill." if danger else "Something is not earthed as it should be, or two circuits differ."
        yield trips(
            Severity.DANGER if danger else Severity.RISK,
            [at],
            f"There are {touch} between two things that a player touches at once. {means}",
            defer(
                "Switch everything off at the wall, let nobody touch both, and call a licensed electrician."
                if danger
                else "Find out why before the show: have a licensed electrician look at it."
            ),
            [number("measured", touch), limit("expected at most", limits.TOUCH_EXPECTED), limit("danger above", limits.TOUCH_VOLTS)],
        )
    else:
        yield clear(at)


def _dimmed(board: Board) -> Iterator[Judgement]:
    wall = board.wall
    for name, circuit in wall.circuits.items():
        items = [item for item in wall.items.values() if wall.circuit(item.name) == name]
        if circuit.dimmer and items:
            yield trips(
                Severity.RISK,
                [Thing(item.name, item.path) for item in items],
                f"{listed([item.name for item in items])} {'share' if len(items) > 1 else 'shares'} the circuit `{name}` with dimmers "
                "or big motors, and will buzz with them.",
                defer("Use a circuit that nothing else is on; ask the house which one that is."),
            )
        elif circuit.dimmer is not None and items:
            yield clear(*(Thing(item.name, item.path) for item in items))


def _joined(board: Board) -> Iterator[Judgement]:
    """Earthed things in one piece of signal ground, and the circuits that they are on."""
    ground = board.ground
    islands = joined(bond for bond in ground.signal_bonds if bond.sure)
    by_island: dict[Hashable, dict[str, str | None]] = defaultdict(dict)
    for bond in ground.bonds:
        if bond.to_earth and bond.sure and bond.owner in board.wall.items:
            by_island[islands.find(bond.other(EARTH))][bond.owner] = board.wall.circuit(bond.owner)
    several = len(ground.amps) > 1
    for earthed in by_island.values():
        names, circuits = list(earthed), list(dict.fromkeys(filter(None, earthed.values())))
        if len(circuits) > 1:
            other = next(name for name in names if earthed[name] == circuits[1])
            first = next(name for name in names if earthed[name] == circuits[0])
            yield trips(
                Severity.RISK,
                [thing(board, other), thing(board, first)],
                f"`{first}` is on the circuit `{circuits[0]}` and `{other}` on `{circuits[1]}`, and a screen joins their grounds. The "
                "voltage between the two "
                "earths drives a current through that screen.",
                defer(f"Take all power for the rig from one circuit, and isolate the lead to `{other}`. Every mains earth stays in place."),
                [limit("between earths of two circuits, about", limits.EARTH_DIFFERENCE_CIRCUITS)],
            )
        elif circuits and None not in earthed.values():
            yield clear(*(thing(board, name) for name in names))
        elif (several and board.is_for_stage) or circuits:
            question = f"Which wall circuit is each of these on: {listed(names)}?"
            yield cannot_tell(Severity.ADVICE, [thing(board, name) for name in names], question)


def _microphones(board: Board) -> Iterator[Judgement]:
    """A desk on another circuit: the player joins the two, lips to microphone and hands to strings."""
    spec, wall = board.spec, board.wall
    tests = wall.section.tests
    if tests is not None and tests.touch is not None:
        return
    desks = {name: circuit for name, amp in spec.amps.items() if amp.kind == "desk" and (circuit := wall.circuit(name))}
    others = {name: circuit for name, amp in spec.amps.items() if amp.kind != "desk" and (circuit := wall.circuit(name))}
    for desk, circuit in desks.items():
        apart = [name for name, other in others.items() if other != circuit]
        if apart:
            yield trips(
                Severity.ADVICE,
                [thing(board, desk), *(thing(board, name) for name in apart)],
                f"`{desk}` is on another circuit than {listed(apart)}. Whoever sings and plays joins the two by hand and mouth.",
                defer(
                    "Have somebody qualified measure between microphone and strings before the show: less than "
                    f"{limits.TOUCH_EXPECTED.value:g} V is expected, and above {limits.TOUCH_VOLTS.value:g} V everything is switched off."
                ),
                [limit("expected at most", limits.TOUCH_EXPECTED), limit("danger above", limits.TOUCH_VOLTS)],
            )
