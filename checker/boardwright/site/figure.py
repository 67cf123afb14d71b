"""Figures for prose, worked out by the checker: ``{{ figure lessons/boards/thin-example.yaml device hall volts }}``.

What may stand behind the file:

    device NAME  volts | current | power | drop | drop-percent      what arrives and what is lost on the way
    outlet ID    current | demand | share                            flowing; asked for by the labels; asked for, of the rating
    supply NAME  power | share | loss | rise | case                  given; of its total; lost as heat; above the air; its case
    noise NAME   ripple | resistance | voltage | gain | dBV          the sum behind the noise finding that names it
    comb NAME    apart | notch                                      two copies, of which NAME makes one late; the first note lost
    pickup NAME  capacitance | resonance | treble | shift            what hangs on it, at most; its peak; 5 kHz against the bass;
                                                                     how far that moves between pedals on and pedals off
    headroom NAME  peak | takes | over                               the loudest that gets into a box that it drives too hard
    hum NAME       voltage | guitar | length | screens | induced     the estimate behind the finding of a loop about NAME
    wall NAME      current | rating                                  what flows through a cord, block, inlet or circuit
    lead LABEL   way | finished | cut                               a lead that the cut list has made: drawn way, length, cable
    reading NAME  unloaded | loaded | current | apart                volts at a plug or outlet with nothing and with everything on; amps;
                                                                     the least ohms between NAME and the board where they are kept apart
    hunt -         minutes | tests | front-to-back | parts           the plan for the board's symptom, once the first looks are done
    cable NAME   cuts | needed                                      all cuts from one stock; with what is bought to spare
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from boardwright import limits
from boardwright.board.bench.expected import Expected
from boardwright.board.signal.loading import Coil, Segment, coil_of, segments
from boardwright.board.thermal import warmth
from boardwright.physics.comb import notches
from boardwright.physics.impedance import parallel
from boardwright.physics.levels import decibels_of
from boardwright.physics.noise import common_impedance_voltage
from boardwright.report.cut_list import Group, Row, cut_list
from boardwright.report.figures import DeviceFigures, SupplyFigures
from boardwright.report.report import Finding
from boardwright.rules.earth._loops import HUM
from boardwright.rules.mains._currents import Branch, branches
from boardwright.site.boards import ShownBoard
from boardwright.site.hunts import hunt_of
from boardwright.site.unfit import Unfit, choose
from boardwright.spec.figure import tell

Value = tuple[float | None, str]
"""A value and its unit; ``None`` where the board leaves it open."""


def figure(shown: ShownBoard, about: str, name: str, what: str) -> str:
    """The figure with its unit, as the report would write it.

    Raises: Unfit, if there is no such thing or figure, or if it cannot be worked out.
    """
    find, figures = choose(_KINDS, about, "a kind of figure")
    value, unit = choose(figures, what, f"a figure of a {about}")(shown, find(shown, name))
    if value is None:
        raise Unfit(f"The board does not say enough to work out `{about} {name} {what}`.")
    return tell(value, unit)


def _row(rows: Iterable[Any], name: str, kind: str) -> Any:
    return choose({row.name: row for row in rows}, name, f"a {kind} of this board")


def _device(shown: ShownBoard, name: str) -> DeviceFigures:
    row: DeviceFigures = _row(shown.report.power.devices, name, "device")
    return row


def _drop_share(row: DeviceFigures) -> float | None:
    if row.volts is None or row.lost_volts is None:
        return None
    return row.lost_volts / (row.volts + row.lost_volts)


def _supply(shown: ShownBoard, name: str) -> SupplyFigures:
    row: SupplyFigures = _row(shown.report.power.supplies, name, "supply")
    return row


def _rise(shown: ShownBoard, row: SupplyFigures) -> float:
    return warmth(shown.board, shown.board.power.supplies[row.name]).rise


NOISE_RULE = "shared-outlet-carries-digital-noise"


def _noise(shown: ShownBoard, name: str) -> Finding:
    """The finding of whine in which ``name`` is the pedal that turns it up."""
    found = {each.things[1].name: each for each in shown.report.findings if each.rule == NOISE_RULE and len(each.numbers) > 3}
    return choose(found, name, "a pedal that whines on this board")


def _number(finding: Finding, name: str) -> float:
    value = next(number.value for number in finding.numbers if number.name == name)
    assert value is not None
    return value


def _noise_resistance(finding: Finding) -> float:
    return parallel(_number(finding, "shared return"), limits.SCREEN_PATH.value)


def _noise_voltage(finding: Finding) -> float:
    return common_impedance_voltage(_number(finding, "ripple"), _number(finding, "shared return"), limits.SCREEN_PATH.value)


_Driven = tuple[Coil, list[Segment]]
"""A pickup, and each way from it to a box that can be the first to drive what follows."""


def _pickup(shown: ShownBoard, name: str) -> _Driven:
    signal = shown.board.signal
    coils = {source: coil for source in signal.sources if (coil := coil_of(signal.stages[source]))}
    return choose(coils, name, "a passive pickup of this board"), segments(signal, name, signal.starts(name))


def _worst(driven: _Driven) -> Segment:
    return max(driven[1], key=lambda each: each.capacitance)


def _shift(driven: _Driven) -> float:
    levels = [driven[0].treble(each) for each in driven[1]]
    return max(levels) - min(levels)


def _headroom(shown: ShownBoard, name: str) -> Finding:
    found = {each.things[0].name: each for each in shown.report.findings if each.rule == "headroom-clipped"}
    return choose(found, name, "a box of this board that is driven past its ceiling")


def _hum(shown: ShownBoard, name: str) -> Finding:
    loops = {each.things[0].name: each for each in shown.report.findings if each.numbers and each.numbers[0].name == HUM}
    return choose(loops, name, "a thing about which this board closes a loop")


def _wall(shown: ShownBoard, name: str) -> Branch:
    return choose({each.name: each for each in branches(shown.board)}, name, "a part of this board that carries mains current")


def _lead(shown: ShownBoard, label: str) -> Row:
    return choose({row.label: row for row in cut_list(shown.board).rows}, label, "a lead to be made on this board")


def _way(shown: ShownBoard, row: Row) -> float | None:
    """The drawn way of a lead (m)."""
    return next((run.way_length for run in shown.board.layout.runs if run.name == row.label and run.has_way), None)


def _cable(shown: ShownBoard, name: str) -> Group:
    return choose({group.cable: group for group in cut_list(shown.board).groups}, name, "a cable of this board")


def _expected(shown: ShownBoard) -> dict[str, list[Expected]]:
    """Expected readings by what they are taken at, the last of the two for a pair."""
    found: dict[str, list[Expected]] = {}
    for each in shown.board.expected:
        found.setdefault(each.where[-1], []).append(each)
    return found


def _of(found: list[Expected], what: str, condition: str) -> Expected:
    return choose({f"{each.what} {each.condition}": each for each in found}, f"{what} {condition}", "a reading that is expected there")


COMB_RULE = "parallel-latency-comb"


def _comb(shown: ShownBoard, name: str) -> Finding:
    """The finding of two copies that do not meet in time, of which ``name`` makes one late."""
    found = {each.things[0].name: each for each in shown.report.findings if each.rule == COMB_RULE}
    return choose(found, name, "a box that makes one of two copies late on this board")


_Figures = dict[str, Callable[[ShownBoard, Any], Value]]

_KINDS: dict[str, tuple[Callable[[ShownBoard, str], Any], _Figures]] = {
    "device": (
        _device,
        {
            "volts": lambda _, row: (row.volts, "V"),
            "current": lambda _, row: (row.amps, "A"),
            "power": lambda _, row: (row.watts, "W"),
            "drop": lambda _, row: (row.lost_volts, "V"),
            "drop-percent": lambda _, row: (_drop_share(row), "%"),
        },
    ),
    "outlet": (
        lambda shown, name: _row(shown.report.power.outlets, name, "outlet"),
        {
            "current": lambda _, row: (row.amps, "A"),
            "demand": lambda _, row: (row.share and row.share * row.rating_amps, "A"),
            "share": lambda _, row: (row.share, "%"),
        },
    ),
    "supply": (
        _supply,
        {
            "power": lambda _, row: (row.watts, "W"),
            "share": lambda _, row: (row.total_watts and row.watts / row.total_watts, "%"),
            "loss": lambda _, row: (row.lost_watts, "W"),
            "rise": lambda shown, row: (_rise(shown, row), "°C"),
            "case": lambda _, row: (row.case_celsius, "°C"),
        },
    ),
    "noise": (
        _noise,
        {
            "ripple": lambda _, finding: (_number(finding, "ripple"), "A"),
            "resistance": lambda _, finding: (_noise_resistance(finding), "Ω"),
            "voltage": lambda _, finding: (_noise_voltage(finding), "V"),
            "gain": lambda _, finding: (_number(finding, "gain after it"), "dB"),
            "dBV": lambda _, finding: (_number(finding, "at the amplifier"), "dBV"),
        },
    ),
    "comb": (
        _comb,
        {
            "apart": lambda _, finding: (_number(finding, "apart"), "s"),
            "notch": lambda _, finding: (notches(_number(finding, "apart"), 1)[0], "Hz"),
        },
    ),
    "pickup": (
        _pickup,
        {
            "capacitance": lambda _, driven: (_worst(driven).capacitance, "F"),
            "resonance": lambda _, driven: (driven[0].resonance(_worst(driven)), "Hz"),
            "treble": lambda _, driven: (driven[0].treble(_worst(driven)), "dB"),
            "shift": lambda _, driven: (_shift(driven), "dB"),
        },
    ),
    "headroom": (
        _headroom,
        {
            "peak": lambda _, finding: (_number(finding, "peak"), "V"),
            "takes": lambda _, finding: (_number(finding, "takes"), "V"),
            "over": lambda _, finding: (decibels_of(_number(finding, "peak") / _number(finding, "takes")), "dB"),
        },
    ),
    "hum": (
        _hum,
        {
            "voltage": lambda _, finding: (_number(finding, HUM), "V"),
            "guitar": lambda _, finding: (_number(finding, "against a guitar"), "dB"),
            "length": lambda _, finding: (_number(finding, "leads of the loop"), "m"),
            "screens": lambda _, finding: (_number(finding, "their screens"), "Ω"),
            "induced": lambda _, finding: (_number(finding, "induced by the room"), "V"),
        },
    ),
    "wall": (
        _wall,
        {
            "current": lambda _, branch: (branch.most if branch.complete else None, "A"),
            "rating": lambda _, branch: (branch.rating.value if branch.rating.known else None, "A"),
        },
    ),
    "lead": (
        _lead,
        {
            "way": lambda shown, row: (_way(shown, row), "m"),
            "finished": lambda _, row: (row.finished, "m"),
            "cut": lambda _, row: (row.cut, "m"),
        },
    ),
    "reading": (
        lambda shown, name: choose(_expected(shown), name, "a thing of this board of which a reading is expected"),
        {
            "unloaded": lambda _, found: (_of(found, "volts", "no-load").value, "V"),
            "loaded": lambda _, found: (_of(found, "volts", "loaded").value, "V"),
            "current": lambda _, found: (_of(found, "current", "loaded").value, "A"),
            "apart": lambda _, found: (_of(found, "ohms", "unplugged").low, "Ω"),
        },
    ),
    "hunt": (
        lambda shown, _: hunt_of(shown),
        {
            "minutes": lambda _, hunt: (hunt.expected()[1], "min"),
            "tests": lambda _, hunt: (hunt.expected()[0], ""),
            "front-to-back": lambda _, hunt: (hunt.front_to_back(), "min"),
            "parts": lambda _, hunt: (float(sum(1 for weight in hunt.weights.values() if weight)), ""),
        },
    ),
    "cable": (
        _cable,
        {
            "cuts": lambda _, group: (group.cut, "m"),
            "needed": lambda _, group: (group.needed, "m"),
        },
    ),
}
