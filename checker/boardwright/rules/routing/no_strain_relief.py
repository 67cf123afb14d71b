"""No strain relief.

## What it finds
Leads that leave the board without an anchor, leads that are held too seldom, ties that squeeze, and mains cords without a
clamp.

## Why it matters
Someone will step on the guitar lead. Let an anchor take the pull, not the socket. A mains cord that is pulled out of its
clamp is live.

## How it decides
A risk where a lead that leaves the board says `anchor: no`; where the first place that holds a lead of more than
{{ limit tie-span }} is further than {{ limit tie-first }} from its plug, or the next is further than {{ limit tie-span }}.
Advice where a screened lead is `tied: tight`, and, on a touring board, for leads that leave it and say nothing of an anchor.
A mains cord without a clamp is a danger; where nothing is said of one, or of what a lead without an anchor carries, it is to be checked first.

## How to mend it
Tie bases, a lead looped through the handle, sockets in a plate. A clamp on a mains cord is the maker's or a qualified
person's work.

## Source
Common practice. Cord anchorages are required by the safety standards for appliances, among them IEC 60335-1.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.leads import Lead
from boardwright.board.layout.runs import Run
from boardwright.rules import things
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, over, trips
from boardwright.spec.fields import YesNo


@rule(Severity.DANGER, Severity.RISK, Severity.ADVICE, lesson="leads-and-routes")
def no_strain_relief(board: Board) -> Iterator[Judgement]:
    known = {id(lead.run) for lead in board.layout.leads if lead.run is not None and lead.path != lead.run.path}
    for run in board.layout.runs:
        judged = [found for found in (_clamp(run, id(run) in known), _anchor(run), _held(run), _squeezed(run)) if found is not None]
        yield from judged
        if not judged and (run.section.ties or run.section.anchor is not None or run.section.tied):
            yield clear(of_run(run))
    leaving = [lead for lead in board.layout.leads if lead.run is None and lead.carries == "audio" and _pulled(lead)]
    for lead in leaving:
        if lead.anchor is YesNo.NO:
            yield _no_anchor(Thing(lead.joins, lead.path), lead.joins)
        elif lead.anchor is YesNo.YES:
            yield clear(Thing(lead.joins, lead.path))
    silent = [lead for lead in leaving if lead.anchor in (None, YesNo.UNKNOWN)]
    runs = [run for run in board.layout.runs if run.section.leaves_board and run.carries != "mains" and run.section.anchor in (None, YesNo.UNKNOWN)]
    if board.purpose == "tour" and (silent or runs):
        yield _plan_anchors(silent, runs)


def _pulled(lead: Lead) -> bool:
    """Whether one end is on the board and the other is where feet are."""
    return lead.leaves_board and any(end.box is not None for end in lead.ends)


def _clamp(run: Run, known: bool) -> Judgement | None:
    """``known``: what it carries follows from the lead whose way it is."""
    if run.carries is None and not known and run.section.anchor is YesNo.NO:
        return cannot_tell(Severity.DANGER, [of_run(run)], f"What does `{run.name}` carry? Without an anchor it must not be mains.", before_power=True)
    if run.carries != "mains" or run.section.anchor is YesNo.YES:
        return None
    if run.section.anchor is YesNo.NO:
        return trips(
            Severity.DANGER,
            [of_run(run)],
            f"The mains cord `{run.name}` has no clamp: a pull draws live conductors out of their terminals.",
            "Do not use it. Have it replaced by a factory-made cord, or let a qualified person fit the clamp.",
        )
    question = f"Is the mains cord `{run.name}` held by a clamp or a factory-made inlet, so that a pull does not reach its terminals?"
    return cannot_tell(Severity.DANGER, [of_run(run)], question, before_power=True)


def _anchor(run: Run) -> Judgement | None:
    if run.carries == "mains" or not run.section.leaves_board or run.section.anchor is not YesNo.NO:
        return None
    return _no_anchor(of_run(run), run.name)


def _no_anchor(thing: Thing, name: str) -> Judgement:
    return trips(
        Severity.RISK,
        [thing],
        f"The lead `{name}` leaves the board without an anchor: when someone steps on it, the socket takes the pull.",
        "Loop it through the handle or a tie base before its plug, and write `anchor: yes`.",
    )


def _held(run: Run) -> Judgement | None:
    ties = sorted(tie.value for tie in run.section.ties or () if tie.known)
    if not ties or not run.has_way or not over(run.way_length, limits.TIE_SPAN.value):
        return None
    ends = [ties[0]] if run.section.leaves_board and run.section.anchor else [ties[0], run.way_length - ties[-1]]
    if over(max(ends), limits.TIE_FIRST.value):
        return trips(
            Severity.RISK,
            [of_run(run)],
            f"`{run.name}` is first held {mm(max(ends))} from its plug: there it moves, and breaks.",
            "Add a tie near each plug.",
            [size("first held at", max(ends)), limit("at most", limits.TIE_FIRST)],
        )
    span = max((b - a for a, b in pairwise(ties)), default=0.0)
    if over(span, limits.TIE_SPAN.value):
        return trips(
            Severity.RISK,
            [of_run(run)],
            f"`{run.name}` hangs free for {mm(span)}: it swings in transport and pulls at its ties.",
            "Add a tie in between.",
            [size("free for", span), limit("at most", limits.TIE_SPAN)],
        )
    return None


def _squeezed(run: Run) -> Judgement | None:
    if run.section.tied != "tight" or run.carries not in ("audio", None):
        return None
    return trips(
        Severity.ADVICE,
        [of_run(run)],
        f"The ties on `{run.name}` are pulled tight: they press the screen into the core, and sound and capacitance change there.",
        "Pull ties so that the cable can still be turned by hand, or use hook-and-loop ties.",
    )


def _plan_anchors(leads: list[Lead], runs: list[Run]) -> Judgement:
    about = [Thing(lead.joins, lead.path) for lead in leads] + [of_run(run) for run in runs]
    names = things.listed([thing.name for thing in about])
    return trips(
        Severity.ADVICE,
        about,
        f"Nothing is said of an anchor for {names}, which leave the board.",
        "Plan one for each: a loop through the handle, a tie base, sockets in a plate. Then write `anchor: yes`.",
    )
