"""Cut list without allowance.

## What it finds
Cables that are cut too short for their plugs, and reels that do not hold all cuts.

## Why it matters
Each end eats about a centimetre of cable for stripping. Forget it and every lead is two centimetres short.

## How it decides
A cut must be the wanted length and the strip of both ends, rounded up to {{ limit cut-step }}: {{ limit strip-soldered }} for
each soldered end, {{ limit strip-crimped }} for a crimped one, nothing for clamped ends. Wanted is the stated `length`, or
the way with {{ limit lead-slack }} and {{ limit service-slack }} for each end. A lead may come out long, never short. All
cuts from one `stock` and {{ limit cut-spare }} more must lie on its reels.

## How to mend it
Use the generated cut list. Label each piece before you cut it.

## Source
Arithmetic; the strips are common practice. That made leads may be long but not short: IPC/WHMA-A-620, table 11-1.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.cuts import Cut, cuts_of
from boardwright.board.layout.lengths import cut_length, strip_of, wanted_length
from boardwright.board.layout.packing import pack
from boardwright.board.layout.runs import Run
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, limit, over, trips
from boardwright.spec.figure import tell


@rule(Severity.FAULT, lesson="leads-and-routes")
def cut_list_without_allowance(board: Board) -> Iterator[Judgement]:
    for run in board.layout.runs:
        if run.section.cut is not None and run.section.cut.known:
            judged = _run(run, run.section.cut.value)
            if judged is not None:
                yield judged
    yield from _reels(board)


def _run(run: Run, cut: float) -> Judgement | None:
    section = run.section
    stated = section.length
    if stated is not None and stated.known:
        wanted = stated.value
    elif run.has_way:
        wanted = wanted_length(run.way_length)
    else:
        return None
    strip = strip_of(section.made, section.strip.value if section.strip is not None and section.strip.known else None)
    needed = cut_length(wanted, strip)
    if not over(needed, cut):
        return clear(of_run(run))
    return trips(
        Severity.FAULT,
        [of_run(run)],
        f"`{run.name}` is cut to {mm(cut)} and wants {mm(needed)}: {mm(wanted)} of lead and {mm(strip)} of strip at each end.",
        f"Cut {mm(needed)}. If it is cut already, use it where less is wanted.",
        [size("cut", cut, section.cut.origin if section.cut else None), size("wanted", wanted), size("strip", strip)],  # type: ignore[arg-type]
    )


def _reels(board: Board) -> Iterator[Judgement]:
    if not any(stock.reels for stock in board.spec.stock.values()):
        return  # nothing to hold the cuts against, and ways cost time
    by_stock: dict[str, list[Cut]] = {}
    for cut in cuts_of(board.layout):
        if cut.stock is not None:
            by_stock.setdefault(cut.stock, []).append(cut)
    for name, stock in board.spec.stock.items():
        reels = [reel.value for reel in stock.reels or () if reel.known]
        cuts = by_stock.get(name, [])
        if not reels or not cuts:
            continue
        thing = Thing(name, ("stock", name))
        total = sum(cut.length for cut in cuts)
        needed = total * (1 + limits.CUT_SPARE.value)
        if over(needed, sum(reels)):
            yield trips(
                Severity.FAULT,
                [thing],
                f"{len(cuts)} leads are cut from `{name}` and take {tell(needed, 'm')} with {tell(limits.CUT_SPARE.value, '%')} to spare; "
                f"its reels hold {tell(sum(reels), 'm')}.",
                f"Buy {tell(needed - sum(reels), 'm')} more, or shorten the longest ways.",
                [size("cuts", total), size("reels", sum(reels)), limit("to spare", limits.CUT_SPARE)],
            )
        elif pack([cut.length for cut in cuts], reels, None).left:
            yield trips(
                Severity.FAULT,
                [thing],
                f"The reels of `{name}` hold {tell(sum(reels), 'm')}, enough for {tell(total, 'm')} of cuts, and still some lead fits on none of them.",
                "Buy one more length, or look which lead may be made of two.",
                [size("cuts", total), size("reels", sum(reels))],
            )
        else:
            yield clear(thing)
