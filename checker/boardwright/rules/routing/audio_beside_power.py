"""Audio beside power.

## What it finds
Leads that carry sound and lie beside leads that carry power or data.

## Why it matters
Wires lying side by side talk to each other through the air. Keep sound wires and power wires on different sides of the
street.

## How it decides
It measures how much of each run of sound is nearer to a run of power than a bound, at less than {{ limit parallel-angle }}
to it: mains {{ limit beside-mains }} for {{ limit beside-mains-length }}, low-voltage AC {{ limit beside-low-ac }} for
{{ limit beside-low-ac-length }} (both a risk), DC {{ limit beside-dc }} for {{ limit beside-dc-length }}, MIDI, USB and
control leads {{ limit beside-data }} for {{ limit beside-data-length }} (advice: a screened lead beside clean DC is usually
silent). Whatever the distance, it trips where the voltage that is induced, worked out from the true ways of both and
amplified by what follows, comes above {{ limit coupling-floor }} at the amplifier. Current that is not stated is taken as
{{ limit mains-current }} of mains, {{ limit low-ac-current }} of low-voltage AC, {{ limit ripple-current }} of ripple at
{{ limit ripple-frequency }} in DC. A lead that is thinner than usual has its conductors nearer to each other in proportion.

## How to mend it
Sound along the front of a row, power along the back; cross once, squarely.

## Source
Physics: mutual inductance, by Neumann's integral. The distances are common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.layout.coupling import lies_apart, mutual
from boardwright.board.layout.geometry import length_beside
from boardwright.board.layout.runs import Run, usual_od
from boardwright.limits import Limit
from boardwright.physics.inductance import coplanar_pairs, induced_voltage
from boardwright.rules.layout._shared import mm, size
from boardwright.rules.registry import rule
from boardwright.rules.routing._shared import of_run, pairs, too_much, ways
from boardwright.rules.verdict import Judgement, Number, Severity, clear, limit, over, trips
from boardwright.spec.figure import Figure, assumed, tell

BOUNDS: dict[str, tuple[Limit, Limit, Severity]] = {
    "mains": (limits.BESIDE_MAINS, limits.BESIDE_MAINS_LENGTH, Severity.RISK),
    "ac-low": (limits.BESIDE_AC, limits.BESIDE_AC_LENGTH, Severity.RISK),
    "dc": (limits.BESIDE_DC, limits.BESIDE_DC_LENGTH, Severity.ADVICE),
    "midi": (limits.BESIDE_DATA, limits.BESIDE_DATA_LENGTH, Severity.ADVICE),
    "usb": (limits.BESIDE_DATA, limits.BESIDE_DATA_LENGTH, Severity.ADVICE),
    "control": (limits.BESIDE_DATA, limits.BESIDE_DATA_LENGTH, Severity.ADVICE),
}
NAMES = {"mains": "mains", "ac-low": "low-voltage AC", "dc": "DC", "midi": "MIDI", "usb": "USB", "control": "control"}
CURRENTS = {"mains": limits.MAINS_CURRENT, "ac-low": limits.AC_CURRENT, "dc": limits.RIPPLE_CURRENT}


@rule(Severity.RISK, Severity.ADVICE, lesson="leads-and-routes")
def audio_beside_power(board: Board) -> Iterator[Judgement]:
    hit = set()
    met = set()
    meeting = pairs(board, tuple(BOUNDS))
    if (given_up := too_much(meeting, Severity.RISK)) is not None:
        yield given_up
        return
    for sound, other in meeting:
        met.add(sound.name)
        found = _side_by_side(sound, other) or _induced(board, sound, other)
        if found is not None:
            hit.add(sound.name)
            yield found
    for sound in ways(board, "audio"):
        if sound.name in met - hit:
            yield clear(of_run(sound))


def _side_by_side(sound: Run, other: Run) -> Judgement | None:
    assert other.carries is not None
    near, length, severity = BOUNDS[other.carries]
    shared = length_beside(sound.points, other.points, near.value, math.radians(limits.PARALLEL_ANGLE.value))
    if not over(shared, length.value):
        return None
    silent = " A screened lead beside clean DC is usually silent; if it whines, look here first." if other.carries == "dc" else ""
    return trips(
        severity,
        [of_run(sound), of_run(other)],
        f"`{sound.name}` carries sound and lies nearer than {mm(near.value)} to `{other.name}` ({NAMES[other.carries]}) for {mm(shared)}.{silent}",
        "Lead one of them along the other side of the row, and let them cross once, squarely.",
        [size("side by side", shared), limit("for at most", length), limit("nearer than", near)],
    )


def _induced(board: Board, sound: Run, other: Run) -> Judgement | None:
    if other.carries not in CURRENTS:
        return None
    current = _current(other)
    joins = sound.section.joins
    gain = board.signal.gain_to_amp(joins[1].thing) if joins else None
    frequency = (limits.RIPPLE_FREQUENCY if other.carries == "dc" else limits.HUM_FREQUENCY).value
    spacing = _spacing(other, limits.MAINS_SPACING if other.carries == "mains" else limits.PAIR_SPACING)
    sound_spacing = _spacing(sound, limits.SIGNAL_SPACING)
    if not over(_level(_at_most(sound, other, sound_spacing, spacing), frequency, current, gain), limits.COUPLING_FLOOR.value):
        return None
    coupled = mutual(other.points, sound.points, spacing, sound_spacing, lies_apart(sound, other))
    level = _level(coupled, frequency, current, gain)
    if not over(level, limits.COUPLING_FLOOR.value):
        return None
    return trips(
        Severity.RISK if other.carries != "dc" else Severity.ADVICE,
        [of_run(sound), of_run(other)],
        f"`{other.name}` induces {tell(level, 'dBV')} in `{sound.name}`, counted at the amplifier with {tell(gain or 0.0, 'dB')} of gain behind it.",
        "Lead them further apart, and let them cross once, squarely.",
        [
            Number("current", str(current), current.value, "A", current.origin.word),
            Number("mutual inductance", tell(abs(coupled), "H"), abs(coupled), "H", "computed"),
            limit("heard from", limits.COUPLING_FLOOR),
        ],
    )


def _spacing(run: Run, usual: Limit) -> float:
    """From the middle of one conductor to the other (m); they stay inside of a lead that is thinner than usual."""
    return usual.value * min(1.0, run.od.value / usual_od(run.carries).value)


def _at_most(sound: Run, other: Run, sound_spacing: float, spacing: float) -> float:
    """Far more than their mutual inductance (H), to spare working it out: eight times that of the shorter one, side by side at their least distance.

    Ways that double back may have more; those are short, and induce nothing that anybody hears.
    """
    apart = max(sound.bounds.distance(other.bounds), (sound.od.value + other.od.value) / 2)
    return 8 * coplanar_pairs(spacing, sound_spacing, apart) * min(sound.way_length, other.way_length)


def _level(coupled: float, frequency: float, current: Figure, gain: float | None) -> float:
    """What is induced (dBV), counted at the amplifier."""
    volts = induced_voltage(coupled, frequency, current.value)
    return 20 * math.log10(volts) + (gain or 0.0) if volts > 0 else -math.inf


def _current(run: Run) -> Figure:
    stated = run.section.current
    if stated is not None and stated.known:
        return stated
    assert run.carries is not None
    return assumed(CURRENTS[run.carries].value, "A")
