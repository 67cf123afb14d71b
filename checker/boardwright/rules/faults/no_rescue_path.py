"""No rescue path.

## What it finds
A board for the stage that falls silent when one supply or one switcher fails, with no lead at hand to go straight from the
guitar to an amplifier.

## Why it matters
When all goes dark in the middle of a song there is time for one lead. Where is it, and does everybody know?

## How it decides
For stage and tour boards, or where a client is named. Each supply in turn is taken away, and each switcher loses its power.
What then has none passes the sound only if it says `unpowered: passes`, needs no power, or is off and true-bypassed. If no
amplifier can hear the guitar in any state, and `spares` marks no lead with `rescue: yes` that is as long as the shortest lead to an
amplifier, it trips. Where it hangs on a box of which nobody says what it does without power, the checker asks.

## How to mend it
Keep a long lead in the handle and write it down: `spares: [{carries: audio, length: 6 m, rescue: yes}]`. A switcher whose relays
fall back to a way straight through is worth as much.

## Source
Analysis of single failures, by reach in the graph of the sound. What must be at hand is common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.feeding import Device, Line
from boardwright.board.signal import ALWAYS, NEVER, Edge, Node, Role
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips


@rule(Severity.RISK, lesson="when-it-goes-quiet")
def no_rescue_path(board: Board) -> Iterator[Judgement]:
    if not board.is_for_stage or not board.signal.sources or not board.signal.amps:
        return
    failing = {supply.name: Thing(supply.name, supply.path) for supply in board.power.supplies.values() if board.power.devices and supply.outlets}
    failing |= {name: Thing(name, ("switchers", name)) for name in board.spec.switchers if name in board.power.devices or board.spec.switchers[name].unpowered}
    if not failing:
        return
    if _has_rescue_lead(board):
        yield clear(*failing.values(), severity=Severity.RISK)
        return
    silent, asked, hanging = [], {}, _hanging(board)
    for name, about in failing.items():
        dark = _dark(board, name, hanging)
        if _is_heard(board, dark, hopeful=False):
            yield clear(about, severity=Severity.RISK)
        elif _is_heard(board, dark, hopeful=True):
            asked.setdefault(_unknown(board, dark), []).append(about)
        else:
            silent.append(about)
    for box, about in asked.items():
        question = f"Does `{box}` pass the sound with its power plug pulled (`unpowered: passes` or `silent`)?"
        yield cannot_tell(Severity.RISK, [Thing(box, board.names.get(box, about[0].path)), *about], question)
    if silent:
        named = things.listed([about.name for about in silent])
        fails = f"{named} fails" if len(silent) == 1 else f"any of {named} fails"
        yield trips(
            Severity.RISK,
            silent,
            f"If {fails}, no amplifier hears the guitar, and no rescue lead is listed.",
            "Keep a lead at hand that goes straight from guitar to amplifier, and list it under `spares` with `rescue: yes`.",
        )


def _has_rescue_lead(board: Board) -> bool:
    """A lead that is marked for it, unless it is known to be shorter than every lead to an amplifier."""
    to_amps = [hop.length for amp in board.signal.amps for hop in board.audio.arriving.get(amp, ()) if hop.length is not None and hop.length.known]
    needed = min((length.value for length in to_amps), default=0.0)
    marked = [spare for spare in board.spec.spares.values() if spare.rescue and spare.carries in (None, "audio")]
    return any(spare.length is None or not spare.length.known or spare.length.value >= needed for spare in marked)


def _hanging(board: Board) -> dict[str, list[Device]]:
    """The devices with a line from each supply."""
    found: dict[str, list[Device]] = {}
    for device in board.power.devices.values():
        for name in dict.fromkeys(name for line in device.lines for name in _fed_by(board, line)):
            found.setdefault(name, []).append(device)
    return found


def _fed_by(board: Board, line: Line) -> list[str]:
    behind = [line.after] if line.after in board.power.supplies else []
    return [*(outlet.supply.name for outlet in line.outlets), *behind]


def _dark(board: Board, name: str, hanging: dict[str, list[Device]]) -> set[str]:
    """Everything without power when a supply, or a switcher's own power, is gone."""
    dark, gone = {name}, [name]
    while gone:
        for device in hanging.get(gone.pop(), ()):
            if device.name not in dark and all(any(name in dark for name in _fed_by(board, line)) for line in device.lines):
                dark.add(device.name)
                gone.append(device.name)
    return dark


def _is_heard(board: Board, dark: set[str], hopeful: bool) -> bool:
    """Whether any amplifier can hear anything in any state; ``hopeful``: by ways of which nobody says what they do, too."""
    signal = board.signal
    starts = _starts(board)

    def conducts(edge: Edge) -> bool:
        said = _conducts(board, dark, edge)
        return hopeful if said is None else said

    ends = {signal.heard(amp) for amp in signal.amps} & signal.graph.ahead(starts, conducts)
    if not ends:
        return False
    way = next(filter(None, (signal.graph.shortest(start, end, conducts) for end in ends for start in starts)))
    if signal.switches.can_be(signal.switches.cube(literal for edge in way for literal in edge.guard)):
        return True
    reach = signal.spread(dict.fromkeys(starts, ALWAYS), along=conducts)
    return any(signal.switches.can_be(reach.get(end, NEVER)) for end in ends)


def _starts(board: Board) -> list[Node]:
    return [node for name in board.signal.sources for node in board.signal.starts(name)]


def _unknown(board: Board, dark: set[str]) -> str:
    """The first box that the sound gets to of which nobody says what it does."""
    graph = board.signal.graph
    reached = graph.ahead(_starts(board), lambda edge: _conducts(board, dark, edge) is True)
    return next(edge.stage.name for node in graph.order if node in reached for edge in graph.leaving[node] if edge.stage and _conducts(board, dark, edge) is None)


def _conducts(board: Board, dark: set[str], edge: Edge) -> bool | None:
    """Whether sound gets along while some boxes have no power; ``None`` where nobody says."""
    if edge.stage is None or edge.stage.name not in dark or edge.stage.role in (Role.SOURCE, Role.AMP):
        return True
    return _passes(board, edge)


def _passes(board: Board, edge: Edge) -> bool | None:
    """Whether a way through a box conducts without power; ``None`` where nobody says."""
    stage = edge.stage
    assert stage is not None
    device = board.power.devices.get(stage.name)
    said = device.box.unpowered if device and device.box else None
    if said in ("passes", "silent"):
        return said == "passes"
    if device is None or device.takes_nothing:
        return True
    if stage.role is Role.SWITCHER:
        return None
    if edge.engaged or stage.bypass == "buffered" or stage.always_on:
        return False
    return True if stage.bypass in ("true-bypass", "relay") else None
