"""A screen is left open.

## What it finds
An audio lead whose screen is not connected where it has to be; a loudspeaker cable used for a guitar.

## Why it matters
In a guitar lead the outer braid is not just a coat, it is half of the circuit. Cut it, and you get loud hum or silence.

## How it decides
In an unbalanced lead the screen is the way back: open at either end it is a fault, unless a second conductor inside it
(`cores: 2`) is the return. A balanced lead may have its screen at one end; without any it is a risk. A loudspeaker cable has no
screen at all. Leads that say nothing are taken as connected at both ends.

## How to mend it
Connect the screen again. Loops are opened with a transformer, not with scissors.

## Source
Physics; AES48.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.audio import Hop
from boardwright.board.signal.jacks import Job, job_of
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, Thing, cannot_tell, clear, trips
from boardwright.spec.problem import Path


@rule(Severity.FAULT, Severity.RISK, lesson="one-earth")
def screen_left_open(board: Board) -> Iterator[Judgement]:
    for hop in board.audio.hops:
        if hop.lead is not None and not _drives_speaker(board, hop):
            yield from _judged(board, hop)


def _drives_speaker(board: Board, hop: Hop) -> bool:
    end = board.spec.amps.get(hop.end.thing)
    return job_of(hop.start.jack) is Job.SPEAKER or (end is not None and end.kind == "cabinet")


def _judged(board: Board, hop: Hop) -> Iterator[Judgement]:
    lead = hop.lead
    assert lead is not None
    about = [Thing(f"{hop.start} > {hop.end}", hop.path)]
    at: Path = (*hop.path, "lead")
    screen, balanced = lead.screen, bool(lead.balanced)
    if lead.cable == "loudspeaker" and screen in (None, "none"):
        yield trips(
            Severity.FAULT,
            about,
            f"The lead from `{hop.start}` to `{hop.end}` is a loudspeaker cable. It has no screen and picks up every mains wire in the room.",
            "Use a screened instrument lead there, and keep the loudspeaker cable for loudspeakers.",
            at=at,
        )
    elif screen == "none" or (screen == "one" and not balanced and lead.cores != 2):
        if balanced:
            yield trips(
                Severity.RISK,
                about,
                f"The balanced lead from `{hop.start}` to `{hop.end}` has no screen at all. It will pick up dimmers and telephones.",
                "Use a screened lead; the screen may end at one side.",
                at=at,
            )
            return
        where = "at neither end" if screen == "none" else "at one end only, and the lead has no second conductor to be the return"
        yield trips(
            Severity.FAULT,
            about,
            f"The screen of the lead from `{hop.start}` to `{hop.end}` is connected {where}. It hums loudly, or is silent.",
            "Connect the screen at both ends again. To part two grounds, put an isolating transformer into the lead instead.",
            at=at,
        )
    elif screen == "unknown":
        yield cannot_tell(Severity.FAULT, about, f"Is the screen of the lead from `{hop.start}` to `{hop.end}` connected at both ends?", at=at)
    elif screen is not None:
        yield clear(*about)
