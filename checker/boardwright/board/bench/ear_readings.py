"""What is heard: which sound comes out of which amplifier in which preset, how late, which way up, and whether it hums."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from boardwright import limits
from boardwright.board.bench.expected import QUIET, Expected
from boardwright.board.signal.stages import Role
from boardwright.board.signal.switches import State, SwitchKind
from boardwright.spec.figure import Origin

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

SILENCE = "silence"
MOST_PRESETS = 100
"""Nobody listens to more of them one by one."""
PLAY = "Play, amplifiers turned low, and listen to this one alone."
CLICK = "Record a click that goes through it beside one that does not, and measure how far apart they are."
BLEND = "Blend it with the dry guitar: if the bass goes thin, it inverts."
HUSH = "Guitar plugged in and turned down, amplifier at playing level: listen for a steady note of the mains."


def readings(board: Board) -> Iterator[Expected]:
    for stage in board.signal.stages.values():
        if stage.role is not Role.BOX:
            continue
        late = getattr(stage.section, "latency", None)
        if late is not None and late.known and late.origin > Origin.ASSUMED:
            off = limits.READING_LATENCY.value
            low, high = max(0.0, late.low - off), late.high + off
            yield Expected((stage.name,), "latency", stage.path, CLICK, value=late.value, low=low, high=high, origin=late.origin)
        if getattr(stage.section, "polarity", None) in ("same", "inverts"):
            yield Expected((stage.name,), "polarity", stage.path, BLEND, word=stage.section.polarity)  # type: ignore[union-attr]
    states: list[tuple[str | None, State | None]] = [(None, None), *((name, State({}, name, "")) for name in islice(board.signal.switches.presets, MOST_PRESETS))]
    for preset, state in states:
        yield from sounds(board, state, preset)
    yield from _hum(board)


def sounds(board: Board, state: State | None, preset: str | None = None) -> Iterator[Expected]:
    """What each amplifier plays in a state. Whatever it leaves open is off; of a preset, it is also said what a foot can add."""
    by_foot = heard_in(board, _all_on(board, state)) if state and preset else {}
    for amp, (heard, through) in heard_in(board, state).items():
        said = SILENCE if not heard else "the guitar" if board.signal.sources == ["guitar"] else ", ".join(heard)
        if heard and through:
            said += " through " + ", ".join(through)
        more = [name for name in by_foot.get(amp, ([], []))[1] if name not in through]
        if heard and more:
            said += "; switched on by foot, also " + ", ".join(more)
        yield Expected((amp,), "sound", board.names.get(amp, ("audio",)), PLAY, preset=preset, word=said)


def _all_on(board: Board, state: State) -> State:
    """The same with every footswitch on that the preset leaves free, but for those that silence."""
    fixed = board.signal.switches.presets[state.preset].positions if state.preset else {}
    free = [switch for switch in board.signal.switches.ordered if switch.kind is SwitchKind.FOOTSWITCH and not switch.silences and switch.id not in fixed]
    return replace(state, positions=state.positions | {switch.id: True for switch in free})


def heard_in(board: Board, state: State | None) -> dict[str, tuple[list[str], list[str]]]:
    """For each amplifier: the sources that it hears in a state, and the boxes that are on and on the way, in signal order."""
    signal = board.signal
    graph, conducts = signal.graph, signal.conducts(signal.switches.complete(state))
    ahead = {name: graph.ahead(signal.starts(name), conducts) for name in signal.sources}
    reached = set().union(*ahead.values())
    found = {}
    for amp in signal.amps:
        end = signal.heard(amp)
        behind = graph.behind([end], conducts)
        boxes = [
            edge for edge in graph.edges
            if edge.engaged and edge.stage is not None and edge.stage.role is Role.BOX
            and edge.start in reached and edge.end in behind and conducts(edge)
        ]  # fmt: skip
        boxes.sort(key=lambda edge: graph.order[edge.start])
        through = dict.fromkeys(edge.stage.name for edge in boxes if edge.stage and (edge.stage.loop or not edge.stage.always_on))
        found[amp] = ([name for name, nodes in ahead.items() if end in nodes], list(through))
    return found


def _hum(board: Board) -> Iterator[Expected]:
    """A loop through two mains cords is heard at the amplifiers whose cords they are."""
    doubtful = {name for loop in board.ground.possible_loops for name in loop.cords}
    looped = {name for loop in board.ground.loops if not loop.soft for name in loop.cords}
    for amp in board.ground.amps:
        if amp in looped or amp not in doubtful:
            yield Expected((amp,), "hum", board.ground.path_of(amp), HUSH, word="hum of an earth loop" if amp in looped else QUIET)
