"""What a reading that is not as predicted can mean: the two or three causes that it tells apart from all others."""

from __future__ import annotations

from boardwright import limits
from boardwright.board.bench.expected import Expected
from boardwright.board.bench.taken import Taken
from boardwright.spec.figure import Figure

_DEAD = 0.2
"""Below this share of what is due, there is as good as nothing."""


def causes(taken: Taken) -> tuple[str, ...]:
    """The likely causes, the likeliest first."""
    expected = taken.expected[0] if taken.expected else None
    match taken.reading.what:
        case "volts":
            return _of_volts(taken, expected)
        case "current":
            return _of_current(taken, expected)
        case "ohms":
            return _of_grounds(taken, expected) if len(taken.where) == 2 else _of_lead(taken)
        case "sound":
            return (
                "a lead that is in the wrong jack or not all the way in",
                "a switch, loop or preset that stands otherwise than described",
                "a broken lead or box between the last place where it was good and this one",
            )
        case "hum":
            return (
                "two grounds that are joined by a way that the text does not tell of: measure between them, unplugged",
                "a box or lead lying beside a transformer: move it and listen",
                "an open screen: try the sleeve of each lead from end to end",
            )
        case "polarity":
            return ("a box whose text says the wrong way round", "a lead or transformer with its two conductors swapped")
    return ("a setting that adds or removes a buffer", "dry sound that goes through the converter, or does not", "a label that says something else")


def _of_volts(taken: Taken, expected: Expected | None) -> tuple[str, ...]:
    got, due = _value(taken.got), _due(taken, expected)
    signed = expected is None or expected.signed
    if got is None or due is None:
        return ("the wrong outlet", "a supply that is off or dead")
    if abs(got) < _DEAD * abs(due):
        return ("a break in the lead or its plug", "an outlet that is off, or has switched itself off because something on it is short", "the wrong outlet")
    if signed and got * due < 0:
        return ("a lead that swaps plus and minus", "an outlet of the other polarity than its text says", "the probes the other way round")
    if abs(got) < abs(due):
        return (
            "a lead that is thinner, longer or worse joined than described",
            "an outlet that gives more current than it can",
            "the wrong outlet, or its switch set to fewer volts",
        )
    return ("an adaptor that is not regulated", "the wrong outlet, or its switch set to more volts", "a box that is off and draws nothing")


def _of_current(taken: Taken, expected: Expected | None) -> tuple[str, ...]:
    got, due = _value(taken.got), _due(taken, expected)
    if got is None or due is None or got > due:
        return ("a fault inside the box", "the wrong voltage at its plug", "a label that gives a typical draw and not the greatest")
    if got < due * limits.NOT_STARTED.value:
        return ("a box that has not started", "a plug that does not make contact", "a second supply, such as a battery inside")
    return ("a box that is bypassed or idle", "a label that gives the greatest draw")


def _of_lead(taken: Taken) -> tuple[str, ...]:
    if taken.reading.of == "tip-to-sleeve":
        return ("a whisker of braid across the plug", "insulation that the iron has melted", "the other plug is still in something")
    if taken.got == "open":
        return ("a joint that never took, or a broken conductor", "a plug of another kind at the far end", "a screen that is connected at one end only")
    return ("a dry joint", "strands that are broken behind the plug", "a dirty contact: wipe it and measure again")


def _of_grounds(taken: Taken, expected: Expected | None) -> tuple[str, ...]:
    if expected is not None and not expected.is_open:
        return ("a screen that is connected at one end only", "a lift switch that stands open, or a plug that is not in", "a broken sleeve somewhere on the way")
    return (
        "an isolator that passes its screen through, by its switch or by how it was wired",
        "a second way round: a control or computer lead, a bracket, two plugs that touch",
        "a power return that both share",
    )


def _value(got: Figure | str) -> float | None:
    return got.high if isinstance(got, Figure) else None


def _due(taken: Taken, expected: Expected | None) -> float | None:
    if expected is not None:
        return expected.value
    return _value(taken.reading.expect) if taken.reading.expect is not None else None
