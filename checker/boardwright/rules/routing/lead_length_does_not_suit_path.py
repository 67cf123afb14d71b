"""Lead length does not suit its path.

## What it finds
Leads that are too short for the way they must go, that leave nothing for lifting a box, and that are far too long.

## Why it matters
A lead should follow its path, lie flat, and leave just enough to lift the pedal out and unplug it.

## How it decides
A run's way is the length of its path. It must be the way and {{ limit plug-entry }} for each plug (else a fault), and should
be the way with {{ limit lead-slack }} of slack and {{ limit service-slack }} for each end (else a risk). More than
{{ limit lead-too-long }} times that and {{ limit lead-too-long-by }} more is advice. A lead without a drawn way is compared
with the straight line between its sockets (fault), and with the way along the sides of the board (risk); a socket whose
place is not stated may be anywhere on its side, or on its box. Where no length is stated, the cut list proposes one.

## How to mend it
The next longer stock length, or a lead cut to measure.

## Source
Geometry; the slack is common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.layout.leads import Lead
from boardwright.board.layout.lengths import least_length, longest_length, wanted_length
from boardwright.board.layout.runs import Run
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, clear, over, trips
from boardwright.spec.figure import Figure, Origin


@rule(Severity.FAULT, Severity.RISK, Severity.ADVICE, lesson="leads-and-routes")
def lead_length_does_not_suit_path(board: Board) -> Iterator[Judgement]:
    for run in board.layout.runs:
        length = run.section.length or _bought(board, run)
        if length is not None and length.known and run.has_way:
            yield _run(run, length)
    for lead in board.layout.leads:
        if lead.run is None and lead.length is not None and lead.length.known and not lead.leaves_board:
            judged = _lead(lead, lead.length)
            if judged is not None:
                yield judged


def _bought(board: Board, run: Run) -> Figure | None:
    """The length that the lead itself states, where the run does not."""
    return next((lead.length for lead in board.layout.leads if lead.run is run), None)


def _run(run: Run, length: Figure) -> Judgement:
    way = run.way_length
    least, wanted = least_length(way), wanted_length(way)
    numbers = [size("length", length.value, length.origin), size("way", way), size("wanted", wanted)]
    about = [of_run(run)]
    if run.section.leaves_board:
        if over(way, length.value):
            return trips(
                Severity.FAULT,
                about,
                f"`{run.name}` is {mm(length.value)} long, and its way on the board alone is {mm(way)}.",
                "Use a longer lead.",
                numbers,
            )
        return clear(*about)
    return _judge(about, run.name, length.value, least, wanted, numbers, f"its way is {mm(way)}")


def _lead(lead: Lead, length: Figure) -> Judgement | None:
    start, end = lead.start.socket, lead.end.socket
    if start is None or end is None or lead.start.box is None or lead.end.box is None:
        return None
    if lead.start.box.proposed or lead.end.box.proposed:
        return None
    least, most = lead.start.box.apart(start, lead.end.box, end)
    straight, around = math.hypot(*least), sum(least)
    sure = start.offset is not None and end.offset is not None
    origin = Origin.STATED if sure else Origin.ASSUMED
    about = [Thing(lead.joins, lead.path)]
    numbers = [size("length", length.value, length.origin), size("straight line", straight, origin), size("wanted", wanted_length(around), origin)]
    words = f"its sockets are {mm(straight)} apart" if sure else f"its sockets are {mm(straight)} apart at the least"
    return _judge(about, lead.joins, length.value, least_length(straight), wanted_length(around), numbers, words, wanted_length(sum(most)))


def _judge(
    about: list[Thing], name: str, length: float, least: float, wanted: float, numbers: list[Number], words: str, plenty: float | None = None
) -> Judgement:
    """``plenty``: the most that could be wanted (m), where that is not just ``wanted``."""
    told = f"The lead `{name}` is {mm(length)} long and {words}"
    if over(least, length):
        return trips(Severity.FAULT, about, f"{told}: with its plugs it needs {mm(least)}.", f"Use one of {mm(wanted)} or a little more.", numbers)
    if over(wanted, length):
        return trips(
            Severity.RISK,
            about,
            f"{told}: it reaches, and leaves too little to lift a box and unplug it. {mm(wanted)} would.",
            f"Use one of {mm(wanted)} or a little more.",
            numbers,
        )
    enough = wanted if plenty is None else plenty
    if over(length, longest_length(enough)):
        return trips(
            Severity.ADVICE,
            about,
            f"{told}: {mm(enough)} is enough. The rest lies about and adds capacitance.",
            f"Use a shorter one, of {mm(enough)} or a little more.",
            numbers,
        )
    return clear(*about)
