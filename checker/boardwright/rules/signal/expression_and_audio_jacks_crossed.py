"""Control and sound plugged into each other.

## What it finds
A lead that joins a jack for sound to one for an expression pedal, a footswitch or MIDI; and an expression pedal or footswitch
in the way of the sound.

## Why it matters
The holes look the same, but the jobs differ. An expression pedal is a knob on a lead, not something that sound goes
through. An expression jack puts some volts on one contact: into an audio input it thumps, and a plain audio lead shorts it.

## How it decides
A jack's job is what it states, or what its name says. A lead of `audio` must join two jacks for sound, and a lead of
`control` must not join one.

## How to mend it
Move the lead; colour the jacks that are not for sound.

## Source
Common practice; no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal.jacks import Job, jack_spec, job_of
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, Thing, clear, trips
from boardwright.spec.fields import Jack

_JOBS = {Job.EXPRESSION: "for an expression pedal", Job.SWITCH: "for a footswitch", Job.MIDI: "for MIDI", Job.USB: "for USB"}


@rule(Severity.FAULT, lesson="control-and-midi")
def expression_and_audio_jacks_crossed(board: Board) -> Iterator[Judgement]:
    told: set[str] = set()
    for hop in board.audio.hops:
        ends = [(jack, _job(board, jack)) for jack in (hop.start, hop.end)]
        wrong = next(((jack, job) for jack, job in ends if job in _JOBS), None)
        about = [thing(board, jack.thing) for jack, _ in ends]
        if wrong is None:
            yield clear(*about)
            continue
        jack, job = wrong
        if jack.thing in board.signal.stages and not board.signal.stages[jack.thing].carries_sound:
            if jack.thing in told:
                continue  # the lead out of it is the same slip as the lead into it
            told.add(jack.thing)
        yield trips(
            Severity.FAULT,
            [thing(board, jack.thing), *(each for each in about if each.name != jack.thing)],
            f"The sound goes through `{jack}`, which is {_JOBS[job]}. Nothing comes out of it, and what it is plugged into may thump.",
            f"Lead the sound past `{jack.thing}`, and plug that in under `control`.",
            at=hop.path,
        )
    for number, lead in board.spec.control.items():
        for end in (lead.from_, lead.to):
            if end is not None and end.jack and _is_for_sound(end):
                yield trips(
                    Severity.FAULT,
                    [Thing(end.thing, board.names.get(end.thing, ("control", number)))],
                    f"A control lead is plugged into `{end}`, which is for sound.",
                    "Plug it into the jack that is for it.",
                    at=("control", number),
                )


def _job(board: Board, jack: Jack) -> Job:
    stage = board.signal.stages.get(jack.thing)
    if stage is not None and not stage.carries_sound:
        return Job.SWITCH if stage.kind_name == "footswitch" else Job.MIDI if stage.kind_name == "midi-box" else Job.EXPRESSION
    return job_of(jack.jack, jack_spec(stage.jacks, jack.jack) if stage else None)


def _is_for_sound(jack: Jack) -> bool:
    return (jack.jack or "").lower().split("_")[0] in ("in", "out", "input", "output", "send", "return")
