"""Labels and handover incomplete.

## What it finds
Papers that a touring board, or a board for a client, goes out without; and leads without labels.

## Why it matters
Someone else will repair this in the dark. Leave them a map.

## How it decides
A board for a tour or a client wants each of these under `papers`: the signal drawing, the power map (which outlet, which device,
volts, current, polarity), the list of leads with their lengths, a photograph of the settings, serial numbers, the list of spares,
the card for when it goes quiet, date and maker; with presets a list of them, with MIDI a map of it. A stage board that lists any
papers wants the three that help in the dark: signal drawing, power map and card. Wherever papers are wanted, every run longer
than {{ limit label-from }} wants its `id`, the text on both of its labels; `labelled: no` says that they are not on it yet.

## How to mend it
Nearly all of it is in the board's text already: print it. The photograph, the serial numbers and the date are yours to add.

## Source
Common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.runs import Run
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, over, trips
from boardwright.spec.fields import YesNo
from boardwright.spec.wording import series

_IN_THE_DARK = ("signal-drawing", "power-map", "quiet-card")
_ALWAYS = ("signal-drawing", "power-map", "lead-list", "settings-photo", "serial-list", "spares-list", "quiet-card", "date-and-maker")
_SAID = {
    "signal-drawing": "the signal drawing", "power-map": "the power map", "lead-list": "the list of leads with lengths", "settings-photo": "a photograph of the settings",
    "serial-list": "serial numbers", "spares-list": "the list of spares", "quiet-card": "the card for when it goes quiet", "date-and-maker": "date and maker",
    "preset-list": "the list of presets", "midi-map": "the MIDI map",
}  # fmt: skip


@rule(Severity.ADVICE, lesson="row-by-row")
def labels_and_handover_incomplete(board: Board) -> Iterator[Judgement]:
    wanted = wanted_papers(board)
    if not wanted:
        return
    there = {entry.paper for entry in board.spec.papers.values()}
    lacking = [paper for paper in wanted if paper not in there]
    where = Thing("papers", ("papers",) if board.spec.describes("papers") else ("board",))
    if lacking:
        said = series(_SAID[paper] for paper in lacking)
        remedy = f"Print what the text holds already, add the rest, and list it under `papers`: {', '.join(lacking)}."
        yield trips(Severity.ADVICE, [where], f"Whoever repairs this will miss {said}.", remedy)
    else:
        yield clear(where)
    bare = [run for run in board.layout.runs if _is_bare(run)]
    if bare:
        yield trips(
            Severity.ADVICE,
            [Thing(run.name, run.path) for run in bare],
            f"No label is on {listed([run.name for run in bare])}. Two leads that look alike are plugged in the wrong way round one day.",
            "Give each run an `id`, and put the same text on both of its ends.",
        )


def wanted_papers(board: Board) -> list[str]:
    """The papers that such a board is asked for, in the order of the language."""
    client = board.spec.board.client if board.spec.board else None
    if board.purpose == "tour" or client:
        extra = [*(["preset-list"] if board.spec.presets else []), *(["midi-map"] if board.spec.midi else [])]
        return [*_ALWAYS, *extra]
    return [*_IN_THE_DARK] if board.purpose == "stage" and board.spec.describes("papers") else []


def _is_bare(run: Run) -> bool:
    section = run.section
    if section.labelled is YesNo.YES or (section.id is not None and section.labelled is not YesNo.NO):
        return False
    length = section.length.value if section.length is not None and section.length.known else run.way_length if run.has_way else 0.0
    return over(length, limits.LABEL_FROM.value)
