"""Loudspeaker output led into the board.

## What it finds
A loudspeaker output that is joined to anything but a loudspeaker or a load, a valve amplifier without a load, an instrument
lead used as a loudspeaker lead, and a loudspeaker of too low an impedance.

## Why it matters
The loudspeaker jack carries enough power to heat a small oven plate. It must only ever meet a loudspeaker or a proper load.

## How it decides
A danger if a lead joins a loudspeaker output to a box, an input or anything else that is not a loudspeaker, a load box, or a
direct box that says `speaker_input: yes`; and if a loudspeaker lead is instrument cable and carries more than
{{ limit speaker-power }}; above that, or where the power is not stated, a lead that does not say what cable it is is asked about first. A fault if a valve amplifier says `speaker: none`. A risk if the loudspeaker's impedance is below
the least that the amplifier is rated for. An amplifier's output that does not say what it is is asked about first.

## How to mend it
Use the line output or the effects send; use a loudspeaker lead; connect the loudspeaker before a valve amplifier is
switched on. If it was switched on without, have a qualified technician look at it.

## Source
Physics; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.audio import Hop
from boardwright.board.signal.jacks import Job, jack_spec, job_of
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, over, trips
from boardwright.spec.fields import NOTHING
from boardwright.spec.figure import Figure
from boardwright.spec.sections.amps import Amp


@rule(Severity.DANGER, Severity.FAULT, Severity.RISK, lesson="follow-the-sound")
def speaker_output_meets_board(board: Board) -> Iterator[Judgement]:
    for hop in board.audio.hops:
        amp = board.spec.amps.get(hop.start.thing)
        if amp is None:
            continue
        spec = jack_spec(amp.jacks, hop.start.jack)
        if job_of(hop.start.jack, spec) is Job.SPEAKER:
            yield _speaker(board, hop, amp)
        elif _is_unclear(hop, amp):
            yield cannot_tell(
                Severity.DANGER,
                [thing(board, hop.start.thing)],
                f"Is the jack `{hop.start}` a speaker output or a line output? A speaker output destroys pedals, and its power is dangerous.",
                at=hop.path,
            )
    for name, amp in board.spec.amps.items():
        yield _load(board, name, amp)


def _is_unclear(hop: Hop, amp: Amp) -> bool:
    jack = (hop.start.jack or "out").lower()
    named = any(word in jack for word in ("send", "line", "di", "xlr", "phones", "monitor", "main", "aux", "usb", "thru", "link"))
    return not named and amp.kind not in ("desk", "interface", "powered-speaker")


def _speaker(board: Board, hop: Hop, amp: Amp) -> Judgement:
    about = [thing(board, hop.start.thing), thing(board, hop.end.thing)]
    target = board.signal.stages.get(hop.end.thing)
    section = target.section if target else None
    is_load = (target is not None and target.kind_name in ("load-box", "cabinet")) or bool(getattr(section, "speaker_input", None))
    if not is_load:
        return trips(
            Severity.DANGER,
            about,
            f"The loudspeaker output of `{hop.start.thing}` is led into `{hop.end.thing}`. It carries dangerous power, and destroys what it meets.",
            "Do not switch it on; unplug it at the wall. Then take this lead out, and use the amplifier's line output or effects send. If it was "
            "on, have a qualified technician look at it first.",
            at=hop.path,
        )
    power = amp.power.value if amp.power is not None and amp.power.known else None
    if hop.lead is not None and hop.lead.cable == "instrument" and (power is None or over(power, limits.SPEAKER_POWER.value)):
        return trips(
            Severity.DANGER,
            about,
            f"An instrument lead joins `{hop.start.thing}` to its loudspeaker. Its thin core can melt or short under that power.",
            "Do not switch it on. Use a loudspeaker lead.",
            [limit("instrument lead at most", limits.SPEAKER_POWER)],
            at=hop.path,
        )
    small = power is not None and not over(power, limits.SPEAKER_POWER.value)
    if not small and (hop.lead is None or hop.lead.cable in (None, "unknown")):
        question = f"Is the lead from `{hop.start.thing}` to `{hop.end.thing}` a loudspeaker lead? An instrument lead can melt or short under that power."
        return cannot_tell(Severity.DANGER, about, question, at=hop.path)
    return clear(*about, severity=Severity.DANGER)


def _load(board: Board, name: str, amp: Amp) -> Judgement:
    about = [thing(board, name)]
    led = any(job_of(hop.start.jack) is Job.SPEAKER for hop in board.audio.leaving.get(name, ()))
    if amp.kind == "valve" and amp.speaker == NOTHING and not led:
        return trips(
            Severity.FAULT,
            about,
            f"`{name}` is a valve amplifier and has no loudspeaker. Without a load its output transformer and valves can be destroyed.",
            "Connect a loudspeaker or a load of its impedance before it is switched on.",
            at=("amps", name, "speaker"),
        )
    least = amp.speaker_least
    if isinstance(amp.speaker, Figure) and amp.speaker.known and least is not None and least.known and over(least.value, amp.speaker.value):
        return trips(
            Severity.RISK,
            about,
            f"`{name}` is rated for {least} and more, and its loudspeaker has {amp.speaker}: it runs hot.",
            "Use a loudspeaker of the impedance it is rated for.",
            [number("loudspeaker", amp.speaker), number("rated for", least)],
            at=("amps", name, "speaker"),
        )
    return clear(*about, severity=Severity.DANGER)
