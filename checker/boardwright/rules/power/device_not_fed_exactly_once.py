"""Device without power, or fed twice.

## What it finds
Devices with no feed, with two, or with a feed from an outlet that does not exist; supplies that feed each other.

## Why it matters
Everything that needs electricity must get it from exactly one place. It sounds silly until the seventeenth pedal.

## How it decides
It counts the feeds of each device. `needs: none` expects no feed; anything else expects one. A device that says
`dual_feed: yes` (a jack that cuts off its battery, for example) may have two. One without a feed whose needs are unknown is asked
about, since it may need nothing.

## How to mend it
Assign an outlet, or take the second source away.

## Source
Counting.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.feeding import Device
from boardwright.rules import things
from boardwright.rules.power._moves import renamed
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.wording import nearest


@rule(Severity.FAULT, lesson="labels")
def device_not_fed_exactly_once(board: Board) -> Iterator[Judgement]:
    ring = {device.name for device in board.power.ring}
    for device in board.power.devices.values():
        thing = things.of_device(device)
        if device.name in ring:
            yield trips(
                Severity.FAULT,
                [thing],
                f"Supply `{device.name}` is fed, by way of others, from itself: no power comes in from anywhere.",
                "Feed one of the supplies in the circle from the wall.",
                at=(*device.path, "feed"),
            )
            continue
        lost = list(_lost(board, device))
        if lost:
            yield from lost
            continue
        sources = sum(1 for line in device.lines if line.outlets or line.is_battery or line.lost)
        dual = device.box is not None and bool(device.box.dual_feed)
        if device.takes_nothing:
            if sources:
                yield trips(
                    Severity.FAULT,
                    [thing],
                    f"`{device.name}` needs no power and is fed all the same.",
                    "Take the feed away, or write what it needs.",
                    at=(*device.path, "feed"),
                )
            else:
                yield clear(thing)
        elif sources == 0 and (not device.says_needs or _has_unclear_feed(board, device)):
            yield cannot_tell(Severity.FAULT, [thing], f"How is `{device.name}` powered? Write `needs: none` if it needs nothing.")
        elif sources == 0:
            yield trips(
                Severity.FAULT,
                [thing],
                f"`{device.name}` needs {device.needs} and is fed from nowhere.",
                "Give it an outlet, such as `feed: brick.3`, or `feed: battery`.",
            )
        elif sources > 1 and not dual:
            where = things.listed([outlet.id for outlet in device.outlets] or ["battery"])
            yield trips(
                Severity.FAULT,
                [thing, *(things.of_outlet(outlet) for outlet in device.outlets)],
                f"`{device.name}` is fed from {sources} places at once ({where}). The two supplies are joined through it.",
                "Keep one feed. If its jack cuts off the battery, say `dual_feed: yes`.",
                at=(*device.path, "feed"),
            )
        else:
            yield clear(thing)


def _has_unclear_feed(board: Board, device: Device) -> bool:
    """Whether a device without any source is fed after all: from what could not be read, or from an outlet that nobody knows."""
    return board.spec.unread((*device.path, "feed")) or any(line.feed.from_ for line in device.lines)


_MOST_GUESSED = 100
"""Outlets among which a misspelt one is looked for."""


def _lost(board: Board, device: Device) -> Iterator[Judgement]:
    for line in device.lines:
        for jack in line.lost:
            supply = board.power.supplies.get(jack.thing)
            unread = board.spec.unread(("supplies", jack.thing))
            if unread or (supply is not None and supply.section.outlets is None and supply.declared):
                question = f"Which outlets does `{jack.thing}` have? None " + ("could be read." if unread else "is described.")
                yield cannot_tell(Severity.FAULT, [things.of_device(device)], question, at=line.path)
                continue
            known = [outlet.id for outlet in board.power.outlets]
            guess = nearest(str(jack), known) if len(known) <= _MOST_GUESSED else None
            hint = f" Perhaps `{guess}`?" if guess else ""
            judged = trips(
                Severity.FAULT,
                [things.of_device(device)],
                f"`{device.name}` is fed from `{jack}`, and there is no such outlet.{hint}",
                f"Name one of {things.listed(known)}." if known else "Describe the supply and its outlets.",
                at=line.path,
            )
            yield judged._replace(edits=renamed(board, line, str(jack), guess))
