"""Plug with the wrong number of contacts.

## What it finds
A two-contact plug in a stereo or balanced jack, a three-contact plug in a plain one, and an insert jack wired as stereo.

## Why it matters
A plug with two black rings carries two signals. Put it, or its one-ring cousin, in the wrong hole and a channel vanishes.

## How it decides
Where a jack states its contacts and a lead its plug, the two are compared. A TS plug in a stereo jack shorts the right
channel: a risk. In a balanced output it is a risk unless the jack says `ts_ok: yes`. An insert jack wants an insert lead:
anything else is a fault. Jacks of pedals that state nothing are taken for TS.

## How to mend it
The matching lead; for stereo jacks one that splits into two TS plugs.

## Source
Connector practice: the 6.35 mm jack of IEC 60603-11.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.audio import Hop
from boardwright.board.signal.jacks import jack_spec
from boardwright.rules.registry import rule
from boardwright.rules.signal._sound import thing
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.sections.boxes import JackSpec

_WANTS = {"trs-stereo": "a stereo jack", "trs-balanced": "a balanced jack", "trs-insert": "an insert jack"}


@rule(Severity.RISK, Severity.FAULT, lesson="control-and-midi")
def trs_ts_audio_mismatch(board: Board) -> Iterator[Judgement]:
    for hop in board.audio.hops:
        for jack, is_output in ((hop.start, True), (hop.end, False)):
            stage = board.signal.stages.get(jack.thing)
            spec = jack_spec(stage.jacks, jack.jack or ("out" if is_output else "in")) if stage else None
            plug = hop.lead.plug if hop.lead else None
            if spec is not None and spec.type in _WANTS:
                yield _typed(board, hop, jack.thing, spec, plug, is_output)
            elif plug == "trs" and spec is not None and spec.type == "ts":
                yield trips(
                    Severity.RISK,
                    [thing(board, jack.thing)],
                    f"A three-contact plug goes into the plain jack of `{jack.thing}`: its ring floats, or is shorted.",
                    "Use a TS lead.",
                    at=hop.path,
                )


def _typed(board: Board, hop: Hop, name: str, spec: JackSpec, plug: str | None, is_output: bool) -> Judgement:
    about = [thing(board, name)]
    what = _WANTS[spec.type or ""]
    if plug is None or plug == "unknown":
        return cannot_tell(Severity.RISK, about, f"`{name}` has {what}. Which plug is on the lead? Write `plug: TS`, `TRS` or `TRS-to-2TS`.", at=hop.path)
    if spec.type == "trs-insert" and plug != "insert-y":
        return trips(
            Severity.FAULT,
            about,
            f"`{name}` has an insert jack, send and return in one, and the lead ends in {plug.upper()}.",
            "Use an insert lead, whose other end splits into send and return.",
            at=hop.path,
        )
    if plug in ("ts", "ts-to-xlr") and spec.type in ("trs-stereo", "trs-balanced"):
        if spec.type == "trs-balanced" and spec.ts_ok:
            return clear(*about)
        follows = "the right channel is shorted and lost" if spec.type == "trs-stereo" else "half of its output is shorted"
        return trips(
            Severity.RISK,
            about,
            f"`{name}` has {what}, and the lead ends in a two-contact plug: {follows}.",
            "Use a lead that splits the jack into two TS plugs."
            if spec.type == "trs-stereo"
            else "Use a TRS lead, or ask the manual whether TS is allowed (`ts_ok: yes`).",
            at=hop.path,
        )
    return clear(*about)
