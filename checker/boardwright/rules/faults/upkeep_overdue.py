"""Upkeep overdue.

## What it finds
A battery that will not last for the next show, and leads, fasteners, jacks, fans or mains cords that nobody has looked at for too
long.

## Why it matters
Plugs loosen, a plug left in drains a battery day and night, fluff loses its grip. Ten minutes a season are cheap.

## How it decides
By what `upkeep` says, on the day `today`. A battery with its plug left in (`plugged: {fuzz: always}`) gives current from the day
it was put in until `next_show`, or today where that is not written; any other for as long as `used` says. A fresh block is taken
to hold {{ limit battery-charge }} at up to {{ limit battery-light }} and half of that at {{ limit battery-heavy }}. Advice if
what is left lasts for less than {{ limit next-show }}. Advice if leads, fasteners or jacks were last seen to more than
{{ limit upkeep-tour }} ago on stage and tour, {{ limit upkeep-home }} elsewhere, or fans more than {{ limit upkeep-fans }} ago. A
risk if what has a mains cord was last tested more than {{ limit mains-test }} ago; the rule of your country comes first. A date
that is not written is asked for on stage and tour, but for that of the fans, and passed over at home.

## How to mend it
Do it, and write the date down. Testing what has a mains cord is for a qualified person.

## Source
Definition of current for the battery; the intervals are common practice, no published source.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.feeding import Device
from boardwright.limits import Limit
from boardwright.physics.battery import running_time
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.figure import figure, tell
from boardwright.spec.sections.upkeep import Upkeep

_HOUR = 3600.0

_CALENDAR = {
    "leads": ("the leads were measured while they were bent", "Measure every lead while you bend it at both plugs."),
    "fasteners": ("screws, brackets and tapes were tried", "Try every screw, bracket and tape."),
    "jacks": ("the jacks were cleaned", "Clean the jacks."),
    "fans": ("fans and vents were cleaned", "Switch off, pull the plug at the wall, and brush fans and vents from outside."),
}


@rule(Severity.ADVICE, Severity.RISK, lesson="when-it-goes-quiet")
def upkeep_overdue(board: Board) -> Iterator[Judgement]:
    upkeep = board.spec.upkeep
    if upkeep is None:
        if board.is_for_stage and (board.audio.described or board.power.supplies):
            yield cannot_tell(Severity.ADVICE, [Thing("upkeep", ("board",))], "When were leads and fasteners last looked after (`upkeep`)?")
        return
    for device in board.power.devices.values():
        if any(line.is_battery for line in device.lines):
            yield from _battery(board, upkeep, device)
    for key in (*_CALENDAR, "mains_test"):
        yield from _date(board, upkeep, key)


def _day(date: datetime.date | str | None) -> datetime.date | None:
    return date if isinstance(date, datetime.date) else None


# --- batteries ------------------------------------------------------------------------------------------------------


def _battery(board: Board, upkeep: Upkeep, device: Device) -> Iterator[Judgement]:
    about = [things.of_device(device)]
    name = device.name
    if not board.is_for_stage and name not in (upkeep.battery or {}):
        return
    draw = device.needs.current
    if not draw.known or not draw.value:
        yield cannot_tell(Severity.ADVICE, about, f"What current does `{name}` draw from its battery?")
        return
    hours = _hours(upkeep, name)
    if hours is None:
        yield cannot_tell(Severity.ADVICE, about, f"When did `{name}` get its battery, and for how long has it been played since (`battery`, `used` or `plugged`)?")
        return
    charge = _charge(draw.value)
    spent = draw.value * hours
    lasts = running_time((charge - spent) * _HOUR, draw.value) / _HOUR if charge > spent else 0.0
    if not over(limits.NEXT_SHOW.value, lasts):
        yield clear(*about)
        return
    always = (upkeep.plugged or {}).get(name) == "always"
    how = "because its plug stays in, so that it draws day and night" if always else f"in {tell(hours, 'h')} of playing"
    yield trips(
        Severity.ADVICE,
        about,
        f"The battery in `{name}` has given {tell(spent, 'Ah')} of about {tell(charge, 'Ah')}, {how}.",
        f"Put a fresh battery in, and pull the plug out of `{name}` after playing.",
        [number("given", figure(spent, "Ah")), number("fresh", figure(charge, "Ah")), limit("must last for", limits.NEXT_SHOW)],
        at=("upkeep",),
    )


def _hours(upkeep: Upkeep, name: str) -> float | None:
    """How long it has been drawing (h); ``None`` where nobody says."""
    since, today = _day((upkeep.battery or {}).get(name)), _day(upkeep.today)
    if (upkeep.plugged or {}).get(name) == "always":
        if since is None or today is None or since > today:
            return None
        until = _day(upkeep.next_show) or today
        return (max(until, today) - since).days * 24.0
    used = (upkeep.used or {}).get(name)
    return used.value / _HOUR if used is not None and used.known else None


def _charge(current: float) -> float:
    """Usable charge (Ah) of a block at a current (A): all of it up to the light load, half at the heavy one, in between in a line."""
    light, heavy = limits.BATTERY_LIGHT.value, limits.BATTERY_HEAVY.value
    share = 1 - 0.5 * min(1.0, max(0.0, (current - light) / (heavy - light)))
    return limits.BATTERY_CHARGE.value * share


# --- the calendar ---------------------------------------------------------------------------------------------------


def _date(board: Board, upkeep: Upkeep, key: str) -> Iterator[Judgement]:
    done = getattr(upkeep, key)
    about = [Thing(key.replace("_", " "), ("upkeep", key) if done is not None else ("upkeep",))]
    if done is None:
        if board.is_for_stage and key != "fans":
            yield cannot_tell(Severity.ADVICE, about, f"When was this last done: {key.replace('_', ' ')}?")
        return
    allowed, severity = _interval(board, key)
    today, last = _day(upkeep.today), _day(done)
    if done == "never":
        said = f"Nobody has ever seen to this: {key.replace('_', ' ')}."
    elif today is None or last is None or last > today:
        yield cannot_tell(severity, about, f"Which day is this judged on, and when was it last done: {key.replace('_', ' ')}?")
        return
    elif not over((today - last).days, allowed.value):
        yield clear(*about, severity=severity)
        return
    elif key == "mains_test":
        said = f"What has a mains cord was last tested {(today - last).days} days ago."
    else:
        said = f"It is {(today - last).days} days since {_CALENDAR[key][0]}."
    remedy = (
        "Have a qualified person test everything that has a mains cord; the rule of your country says how often."
        if key == "mains_test"
        else f"{_CALENDAR[key][1]} Then write the date down."
    )
    yield trips(severity, about, said, remedy, [limit("at most", allowed)])


def _interval(board: Board, key: str) -> tuple[Limit, Severity]:
    if key == "mains_test":
        return limits.MAINS_TEST, Severity.RISK
    if key == "fans":
        return limits.UPKEEP_FANS, Severity.ADVICE
    return limits.UPKEEP_TOUR if board.is_for_stage else limits.UPKEEP_HOME, Severity.ADVICE
