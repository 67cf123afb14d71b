"""Lead not proved before use.

## What it finds
Power leads whose voltage and polarity nobody measured at the plug, and hand-made audio leads whose contacts nobody tried, once the
build is under way.

## Why it matters
A meter takes ten seconds per lead. A reversed lead takes a pedal. A dry joint waits for the second song.

## How it decides
It speaks only once `steps` or `readings` are written; then the build has begun. Every power lead wants a reading of `volts` at its
plug (its sign tells the polarity: with the red probe inside, a centre-negative plug reads less than nothing). The further plugs of a
daisy chain are told by its first one, unless they are hand-made or swap plus and minus. Every hand-made audio lead wants readings of `ohms`: `tip` and `sleeve` from end to end,
`tip-to-sleeve` across, and at least one of them `flexed`, bent at both plugs; `of: all` says all three at once. A lead counts as
hand-made if it is soldered, crimped or clamped, if its `cut` is given, or if it is cut from `stock`. Where `steps` are written,
the power leads of a row are asked about once it was measured, its audio leads once it was listened to, and both once a row behind
it was listened to.

## How to mend it
Measure, and write the readings down. `boardwright plan --sheet` prints a sheet with what to expect beside each.

## Source
Physics; common practice, no published source for the habit.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.bench.lead_readings import BY_HAND, is_handmade
from boardwright.board.bench.plan import rows_of
from boardwright.board.bench.taken import Taken, taken
from boardwright.board.layout.leads import Lead
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, trips

_CONTACTS = {"tip", "sleeve", "tip-to-sleeve"}


@rule(Severity.RISK, lesson="row-by-row")
def lead_not_proved_before_use(board: Board) -> Iterator[Judgement]:
    if not board.spec.describes("readings") and not board.spec.steps:
        return
    found: dict[str, list[Taken]] = {}
    for each in taken(board):
        for name in each.where:
            found.setdefault(name, []).append(each)
    used = _used(board)
    power = [lead for lead in board.layout.leads if lead.carries in ("dc", "ac-low") and not _is_told_by_the_first(board, lead) and used("meter", lead.end.name)]
    audio = [lead for lead in board.layout.leads if lead.carries == "audio" and is_handmade(board, lead) and used("listen", *(end.name for end in lead.ends))]
    yield from _judge(
        [lead for lead in power if not _metered(board, lead, found)], power,
        "Nobody measured {} at the plug. A reversed or wrong lead is found by the box that it destroys.",
        "Unplug, put the red probe inside and the black one on the barrel, and write the volts with their sign under `readings`.",
    )  # fmt: skip
    yield from _judge(
        [lead for lead in audio if not _tried(found.get(lead.label, []))], audio,
        "Nobody tried tip, sleeve and tip to sleeve of {} while bending the plugs.",
        "Measure each from end to end and across, bend it at both plugs, and write it under `readings`; `of: all` says it in one line.",
    )  # fmt: skip


def _used(board: Board):  # type: ignore[no-untyped-def]
    """Whether a lead to these things is in use by now, going by ``steps``; all are, where only ``readings`` are written."""
    if not board.spec.steps:
        return lambda work, *names: True
    done = {(step.do, step.row or 1) for step in board.spec.steps.values()}
    rows = rows_of(board)
    last = max(rows.values(), default=1)
    heard = max((row for work, row in done if work == "listen"), default=0)

    def used(work: str, *names: str) -> bool:
        row = max((rows[name] for name in names if name in rows), default=last)
        return (work, row) in done or row <= heard  # what is heard in a row goes through those before it

    return used


def _judge(lacking: list[Lead], all_of_them: list[Lead], sentence: str, remedy: str) -> Iterator[Judgement]:
    missing = {id(lead) for lead in lacking}
    yield from (clear(_thing(lead), severity=Severity.RISK) for lead in all_of_them if id(lead) not in missing)
    if lacking:
        yield trips(Severity.RISK, [_thing(lead) for lead in lacking], sentence.format(listed([lead.label for lead in lacking])), remedy)


def _thing(lead: Lead) -> Thing:
    return Thing(lead.label, lead.run.path if lead.run else lead.path)


def _is_told_by_the_first(board: Board, lead: Lead) -> bool:
    """Whether it ends in a further plug of a bought daisy chain, which is the same way round as the one before it."""
    if not lead.daisy or lead.made in BY_HAND:
        return False
    return not any(line.reversals for line in board.power.devices[lead.end.name].lines if line.path == lead.path)


def _metered(board: Board, lead: Lead, found: dict[str, list[Taken]]) -> bool:
    """Whether its volts were read, by its label or, where only one lead goes there, by the device that it feeds."""
    device = board.power.devices.get(lead.end.name)
    names = [lead.label, *([lead.end.name] if device is not None and len(device.lines) == 1 else [])]
    return any(each.reading.what == "volts" for name in names for each in found.get(name, ()))


def _tried(readings: list[Taken]) -> bool:
    ohms = [each.reading for each in readings if each.reading.what == "ohms"]
    contacts = {of for each in ohms for of in (_CONTACTS if each.of == "all" else {each.of})}
    return contacts >= _CONTACTS and any(each.condition == "flexed" for each in ohms)
