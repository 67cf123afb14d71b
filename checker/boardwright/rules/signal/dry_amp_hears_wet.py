"""Dry amplifier hears an effect.

## What it finds
An amplifier with `role: dry` that an echo or reverb can get to, in any state of the switches.

## Why it matters
In a wet/dry rig one amplifier must carry the bare tone. If its feed is taken after the delay, or a switch can route the
delay into it, it is not dry.

## How it decides
Wet means boxes with tails: delays, reverbs, loopers. For each of them and each dry amplifier it asks for all states at
once whether the sound can get in, and out again to that amplifier; a box with trails may be played into in one state and
heard in a later one. If something more must stay out of an amplifier, write a promise.

## How to mend it
Take the dry feed ahead of the first wet effect, after the drives.

## Source
Graph reachability; common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.signal import How
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import amps_of, boxes, in_words, lead_of, thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips


@rule(Severity.FAULT, lesson="three-amplifiers", explained_by=("promise-broken",))
def dry_amp_hears_wet(board: Board) -> Iterator[Judgement]:
    wet = [stage for stage in boxes(board) if stage.has_tail]
    for amp in amps_of(board, "dry"):
        for stage in wet:
            about = [thing(board, amp), thing(board, stage.name)]
            proof = board.signal.never_reaches(stage.name, amp)
            if proof.how is How.UNSURE:
                yield cannot_tell(Severity.FAULT, about, f"Can `{stage.name}` be heard in `{amp}`? {proof.words}")
            elif proof.happens:
                yield trips(
                    Severity.FAULT,
                    about,
                    f"`{amp}` is the dry amplifier, and `{stage.name}` can be heard in it: {in_words(proof.way)}.",
                    f"Take the feed of `{amp}` ahead of `{stage.name}`.",
                    at=lead_of(proof.way[::-1], about[0].path),
                    witness=proof.state.words if proof.state and proof.state.words else None,
                )
            else:
                yield clear(*about)
