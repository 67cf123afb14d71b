"""No spare for a critical lead.

## What it finds
On a board for stage or tour: a lead whose death means silence, a power lead that a whole group hangs on, or a common part (a
power lead of each sort, a battery, a fuse) for which nothing lies in the case.

## Why it matters
Any lead whose death means silence needs a twin in the lid. It will not die at home.

## How it decides
With everything bypassed, it looks for the audio leads that every way from the guitar to the amplifiers goes through: to each
required amplifier, or to all of them together where none is required. Each of those wants a spare of its kind that is at least as
long; one spare may stand in for several. So do the longest patch lead, power leads into other supplies and the first lead of a
daisy chain. Of power leads there should be one for each plug, at least as long as the longest; one that swaps plus and minus
wants one that does too. A box on a battery wants a battery, a described fuse a fuse: that it bears the same marking is yours to
see to. A spare that says what it is for (`of`) stands in for nothing else. A lead that states no length is taken for
{{ limit rig-lead }} to a guitar or amplifier, {{ limit board-lead }} on the board, {{ limit power-lead-length }} for power.

## How to mend it
Put it into the lid and list it under `spares`.

## Source
Bridges of a graph; common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.bench.lead_readings import audio_length
from boardwright.board.bench.lifelines import audio_lifelines, group_feeds
from boardwright.board.feeding import Device, Line
from boardwright.board.layout.leads import Lead
from boardwright.board.layout.lengths import wanted_length
from boardwright.rules.registry import rule
from boardwright.rules.things import listed
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, number, over, trips
from boardwright.rules.wall import defer
from boardwright.spec.figure import Figure, assumed, figure, tell, weakest
from boardwright.spec.sections.spares import Spare


class _Need(NamedTuple):
    """Something that wants a spare."""

    thing: Thing
    what: str
    """``lead``, ``battery`` or ``fuse``."""
    carries: str = ""
    plug: str | None = None
    reverses: bool = False
    length: Figure | None = None
    critical: bool = False
    """Whether its death means silence."""
    also: tuple[str, ...] = ()
    """Of a lead: its label and the things that it joins, by which a spare may say that it is for it."""


@rule(Severity.RISK, lesson="row-by-row")
def no_spare_for_critical_lead(board: Board) -> Iterator[Judgement]:
    if not board.is_for_stage:
        return
    needs = [*_audio(board), *_power(board), *_small_things(board)]
    spares = list(board.spec.spares.values())
    if needs and not spares:
        yield _nothing_at_all(board, needs)
        return
    lacking: dict[tuple[str, str, str | None, bool], list[_Need]] = {}
    for need in needs:
        fits = [_stands_in(spare, need) for spare in spares]
        if True in fits:
            yield clear(need.thing, severity=Severity.RISK)
        elif None in fits:
            yield cannot_tell(Severity.RISK, [need.thing], f"How long is the spare for `{need.thing.name}`? Write its `length`.", at=("spares", fits.index(None)))
        else:
            lacking.setdefault((need.what, need.carries, need.plug, need.reverses), []).append(need)
    for alike in lacking.values():
        yield _lacking(board, alike)


def _nothing_at_all(board: Board, needs: list[_Need]) -> Judgement:
    critical = [need.thing.name for need in needs if need.critical]
    said = f" If {listed(critical) if len(critical) == 1 else 'one of ' + listed(critical)} dies, there is silence." if critical else ""
    things = [need.thing for need in needs]
    remedy = "Put these into the lid and list them: " + "; ".join(dict.fromkeys(_entry(each) for each in _longest(needs))) + "."
    return trips(Severity.RISK, things, f"No spares are listed for this board.{said}", _deferred(needs, remedy), at=("spares",) if board.spec.describes("spares") else ("board",))


def _lacking(board: Board, alike: list[_Need]) -> Judgement:
    (longest,) = _longest(alike)
    names = listed([need.thing.name for need in alike])
    why = "if it dies, there is silence" if len(alike) == 1 else "if one of them dies, there is silence"
    said = f"Nothing in the spares stands in for {names}" + (f": {why}." if any(need.critical for need in alike) else ".")
    return trips(Severity.RISK, [need.thing for need in alike], said, _deferred(alike, f"Add to `spares`: {_entry(longest)}."), _numbers(longest), at=("spares",))


def _deferred(needs: list[_Need], remedy: str) -> str:
    return defer(remedy) if any(need.what == "fuse" for need in needs) else remedy


def _numbers(need: _Need) -> list[Number]:
    return [number("as long as", need.length)] if need.length is not None else []


def _longest(needs: list[_Need]) -> list[_Need]:
    """Of each class the longest."""
    found: dict[tuple[str, str, str | None, bool], _Need] = {}
    for need in needs:
        key = (need.what, need.carries, need.plug, need.reverses)
        if key not in found or _metres(need) > _metres(found[key]):
            found[key] = need
    return list(found.values())


def _metres(need: _Need) -> float:
    return need.length.value if need.length is not None else 0.0


def _entry(need: _Need) -> str:
    """As it would be written."""
    if need.what != "lead":
        return f"`{{what: {need.what}}}`"
    parts = [f"carries: {need.carries}", *([f"length: {tell(need.length.value, 'm')}"] if need.length is not None else [])]
    plug = (need.plug or "").upper().replace("-TO-", "-to-") if need.carries == "audio" else need.plug
    parts += [f"plug: {plug}"] if plug else []
    parts += ["reverses: yes"] if need.reverses else []
    return f"`{{{', '.join(parts)}}}`"


def _stands_in(spare: Spare, need: _Need) -> bool | None:
    """Whether a spare will do; ``None`` where that hangs on a length that nobody wrote."""
    if (spare.what or "lead") != need.what:
        return False
    if spare.of and not {need.thing.name, *need.also} & {*spare.of}:
        return False
    if need.length is None:  # a battery, a fuse
        return True
    if spare.carries != need.carries or bool(spare.reverses) is not need.reverses:
        return False
    if need.plug and spare.plug and spare.plug.lower() != need.plug.lower():
        return False
    if spare.length is None or not spare.length.known:
        return None
    return not over(need.length.value, spare.length.value)


# --- what wants a spare -------------------------------------------------------------------------------------------


def _audio(board: Board) -> Iterator[_Need]:
    leads = {(str(lead.start.jack), str(lead.end.jack), lead.path): lead for lead in board.layout.leads if lead.carries == "audio"}
    patches: list[tuple[Figure, Lead, str | None]] = []
    critical = {id(hop) for hop in audio_lifelines(board)}
    for hop in board.audio.hops:
        lead = leads.get((str(hop.start), str(hop.end), hop.path))
        if lead is None:
            continue
        length, plug = audio_length(board, lead, hop), hop.lead.plug if hop.lead else None
        if id(hop) in critical:
            yield _of_audio(lead, plug, length, critical=True)
        elif not lead.leaves_board:
            patches.append((length, lead, plug))
    if patches:
        length, lead, plug = max(patches, key=lambda each: each[0].value)
        yield _of_audio(lead, plug, length)


def _of_audio(lead: Lead, plug: str | None, length: Figure, critical: bool = False) -> _Need:
    return _Need(Thing(lead.joins, lead.path), "lead", "audio", plug, length=length, critical=critical, also=_names(lead))


def _names(lead: Lead) -> tuple[str, ...]:
    return (lead.label, *(end.name for end in lead.ends))


def _power(board: Board) -> Iterator[_Need]:
    leads = {(lead.end.name, lead.path): lead for lead in board.layout.leads if lead.carries in ("dc", "ac-low")}
    groups = [_of_power(device, line, lead) for device, line in group_feeds(board) if (lead := leads.get((device.name, line.path)))]
    yield from groups
    plain = [
        _of_power(device, line, lead)
        for device in board.power.devices.values()
        for line in device.lines if not line.after and (lead := leads.get((device.name, line.path)))
    ]  # fmt: skip
    taken = {need.thing for need in groups}
    yield from (need for need in _longest(plain) if need.thing not in taken)


def _of_power(device: Device, line: Line, lead: Lead) -> _Need:
    plug = line.plug or device.needs.plug or line.outlets[0].gives.plug
    thing = Thing(lead.joins.removesuffix(".dc"), line.path)
    return _Need(thing, "lead", lead.carries, plug, line.reversals % 2 == 1, _power_length(line, lead), also=_names(lead))


def _power_length(line: Line, lead: Lead) -> Figure:
    stated = [piece.length for piece in line.pieces if piece.length is not None and piece.length.known]
    if stated:
        return figure(sum(each.value for each in stated), "m", weakest(each.origin for each in stated))
    if lead.length is not None and lead.length.known:
        return lead.length
    if lead.run is not None and lead.run.has_way:
        return figure(wanted_length(lead.run.way_length), "m")
    return assumed(limits.LEAD_LENGTH.value, "m")


def _small_things(board: Board) -> Iterator[_Need]:
    for device in board.power.devices.values():
        if any(line.is_battery for line in device.lines):
            yield _Need(Thing(device.name, device.path), "battery")
    mains = board.spec.mains
    for key in ("inlets", "blocks"):
        for name, part in ((mains and getattr(mains, key)) or {}).items():
            if part.fuse is not None and part.fuse.fitted and part.fuse.rating.known:
                yield _Need(Thing(name, ("mains", key, name)), "fuse")
