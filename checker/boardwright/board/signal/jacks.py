"""What jack names say: which side of a stereo pair, and whether sound, control or speaker power is meant."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache

from boardwright.spec.sections.boxes import ALL_JACKS, JackSpec

_remembered = lru_cache(maxsize=1024)
"""A board has few names for jacks, and they are asked for often."""


class Job(StrEnum):
    """What a jack is for."""

    AUDIO = "audio"
    EXPRESSION = "exp"
    SWITCH = "switch"
    MIDI = "midi"
    USB = "usb"
    SPEAKER = "speaker"


_JOBS = (
    (Job.MIDI, re.compile(r"midi.*")),
    (Job.USB, re.compile(r"usb.*")),
    (Job.EXPRESSION, re.compile(r"(exp|expression|cv)(_?\w+)?")),
    (Job.SWITCH, re.compile(r"(tap|sw|switch|footswitch|fs|ctl|control|channel|remote|reverb_switch|boost_switch)(_?\d+)?")),
    (Job.SPEAKER, re.compile(r"(speaker|spkr|cabinet|cab|loudspeaker)(_out)?(_?\w)?")),
)
_SIDE = re.compile(r"(?:.*[_-]|(?:in|out|send|return|main|aux)?\d*)(l|left|r|right)")
_LINK = re.compile(r"(link|thru|through|parallel)(_out)?")


def job_of(jack: str | None, spec: JackSpec | None = None) -> Job:
    """What a jack is for: as it is stated, else as its name says. A jack without a name carries sound."""
    if spec is not None and spec.carries and len(spec.carries) == 1 and spec.carries[0] in set(Job):
        return Job(spec.carries[0])
    return _usual_job(jack or "")


@_remembered
def _usual_job(jack: str) -> Job:
    return next((job for job, pattern in _JOBS if jack and pattern.fullmatch(jack.lower())), Job.AUDIO)


def jack_spec(jacks: dict[str, JackSpec] | None, jack: str | None) -> JackSpec | None:
    """What is stated of one jack, or of all of a box's jacks."""
    return (jacks or {}).get(jack or "", (jacks or {}).get(ALL_JACKS))


@_remembered
def side_of(jack: str | None) -> str | None:
    """``l`` or ``r`` for ``out_l``, ``right`` …; ``None`` for a jack that takes no side."""
    found = _SIDE.fullmatch((jack or "").lower())
    return found[1][0] if found else None


@_remembered
def is_link(jack: str | None) -> bool:
    """Whether the jack is wired straight to the input, as a direct box's second jack is."""
    return bool(_LINK.fullmatch((jack or "").lower()))


@_remembered
def is_send(jack: str | None) -> bool:
    return "send" in re.split(r"[_\d]+", (jack or "").lower())


@_remembered
def is_return(jack: str | None) -> bool:
    return bool({"return", "back"} & set(re.split(r"[_\d]+", (jack or "").lower())))
