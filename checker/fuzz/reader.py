"""Judging a hostile text in a copy of this process, with its time and memory measured, and looking at what is answered."""

from __future__ import annotations

import json
import re
import resource
import signal
import time
import traceback
from dataclasses import dataclass
from xml.etree import ElementTree

from boardwright.browser import answer
from fuzz.texts import hostile
from measuring.copies import in_copy

SECONDS = 2.0
"""Of processor time, for up to a megabyte."""
HANG = 60
"""After so many seconds of processor time a text is given up."""
MEGABYTES = 512
"""What an answer may take on top of what the checker takes anyway."""
HARMLESS = re.compile(r"(?!script|foreignObject|iframe|img|object|embed|use|animate|set)\w+")


@dataclass(frozen=True)
class Tried:
    number: int
    kind: str
    seconds: float
    megabytes: float
    wrong: str
    """What must not be, in words; empty if nothing is wrong."""


def try_text(number: int) -> Tried:
    """One text, judged in a copy of this process."""
    kind, _ = hostile(number)
    try:
        return Tried(number, kind, *in_copy(lambda: _judged(number)))
    except ChildProcessError:
        return Tried(number, kind, HANG, 0, f"no answer after {HANG} s, or a crash")


def _judged(number: int) -> tuple[float, float, str]:
    resource.setrlimit(resource.RLIMIT_CPU, (HANG, HANG + 1))
    signal.signal(signal.SIGXCPU, signal.SIG_DFL)
    _, text = hostile(number)
    before, began = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
    try:
        said = json.loads(answer(text))
    except BaseException:
        return time.process_time() - began, 0, traceback.format_exc().strip().splitlines()[-1]
    seconds = time.process_time() - began
    megabytes = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    wrong = wrong_in(text, said)
    if seconds > SECONDS:
        wrong.append(f"{seconds:.1f} s")
    if megabytes > MEGABYTES:
        wrong.append(f"{megabytes:.0f} MB")
    return seconds, megabytes, "; ".join(wrong)


def wrong_in(text: str, said: dict) -> list[str]:
    """What an answer must not have: no words, a drawing that is no XML or has markup that could run, a place outside of the text, an endless message."""
    wrong = []
    if not said["headline"]:
        wrong.append("an answer without words")
    for name, drawing in said["drawings"].items():
        try:
            elements = [*ElementTree.fromstring(drawing).iter()]
        except ElementTree.ParseError as error:
            wrong.append(f"{name}: {error}")
            continue
        for element in elements:
            tag = element.tag.rpartition("}")[2]
            if not HARMLESS.fullmatch(tag) or any(key.lower().startswith("on") or "javascript:" in value for key, value in element.attrib.items() if not key.startswith("aria")):
                wrong.append(f"{name}: <{tag}> with {dict(element.attrib)}")
    lines = text.replace("\r\n", "\n").count("\n") + text.count("\r") + text.count("\x85") + text.count("\u2028") + text.count("\u2029") + 1
    for problem in said["problems"]:
        span = problem.get("span") or {}
        if not 1 <= span.get("line", 1) <= lines:
            wrong.append(f"a place in line {span['line']} of {lines}")
        if len(problem["message"]) > 600:
            wrong.append(f"a message of {len(problem['message'])} letters")
    return wrong[:3]
