"""The wall gives another voltage than the label allows.

## What it finds
A supply, amplifier or anything else with a mains cord whose label does not allow the mains voltage of the place, or of one
country of a tour; and a transformer that the place's frequency would drive too hard.

## Why it matters
About half the world runs on some 120 volts, the other half on some 230. A supply that is made for the lower one alone can
burn on the higher one. The other way round it does not work, or works badly.

## How it decides
Nominal voltage against nominal voltage. A stated range is widened by {{ limit supply-tolerance }}; of a single stated value,
220, 230 and 240 V count as one and the same, 110 to 127 V as another, and 100 V stands alone. Too high is a danger, too
low a fault. The place's voltage is what `place.mains` states, or comes from the table of countries; where its two sources
disagree, or only one was at hand, that is said and nothing is cleared by it alone. With a selector, what it is set to
counts. A transformer is a risk if the place's volts over hertz exceed those of its label by more than a factor of
{{ limit core-flux }}.

## How to mend it
A factory-made supply whose label covers every place that you play, such as `100-240V ac 50/60Hz`. A plug adaptor changes the
shape of the pins and nothing else. A converter for an amplifier, and a voltage tap inside one, are for a qualified person
who works to the local electrical code.

## Source
IEC 60038 (standard voltages and their tolerance); transformer equation. Two open tables of countries, compared.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.countries import family
from boardwright.board.mains import Item, Nominal
from boardwright.physics.mains import saturation_index
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, over, trips
from boardwright.rules.wall import UNSURE, ask_item, defer, of_item
from boardwright.spec.figure import Origin, tell
from boardwright.spec.wording import series

Setting = tuple[float, float]


@rule(Severity.DANGER, Severity.FAULT, Severity.RISK, lesson="the-wall")
def mains_supply_mismatch(board: Board) -> Iterator[Judgement]:
    for code in board.wall.unlisted:
        yield cannot_tell(Severity.DANGER, [Thing("place", ("place",))], _ask_country(code), at=("place", "country"))
    for item in board.wall.items.values():
        if item.says_mains and (item.input.known or board.wall.nominals):
            yield _judged(board, item)


def _judged(board: Board, item: Item) -> Judgement:
    thing = of_item(item)
    if not item.input.known:
        return cannot_tell(Severity.DANGER, [thing], ask_item(board, item))
    settings = _settings(item)
    nominals = board.wall.nominals
    if not nominals:
        if any(_allows_everything(setting) for setting in settings):
            return clear(thing, severity=Severity.DANGER)
        if board.wall.unlisted:
            return cannot_tell(Severity.DANGER, [thing], _ask_country(board.wall.unlisted[0]))
        return _ask_place(board)
    wrong = [nominal for nominal in nominals if not any(_fits(nominal.volts, setting) for setting in settings)]
    certain = [nominal for nominal in wrong if not nominal.doubtful]
    if certain:
        return _mismatch(item, settings, certain)
    if (len(settings) > 1 and len({_fitting(nominal, settings) for nominal in nominals}) > 1) or (len(settings) > 1 and not _set_to(item)):
        places = series(f"{tell(nominal.volts, 'V')} {nominal.where}" for nominal in nominals)
        question = (
            f"What is the voltage selector of `{item.name}` set to? It allows {item.input.volts}, and the wall gives {places}. Look "
            f"with the plug out. {UNSURE}"
        )
        return cannot_tell(Severity.DANGER, [thing], question)
    if wrong:
        doubt = wrong[0]
        question = (
            f"Does the wall give {tell(doubt.volts, 'V')} anywhere {doubt.where} where you play? One of two tables says so, and "
            f"`{item.name}` allows {item.input.volts} only. {UNSURE}"
        )
        return cannot_tell(Severity.DANGER, [thing], question)
    if (hot := _saturated(item, nominals, settings)) is not None:
        return hot
    if any(nominal.origin is Origin.ASSUMED for nominal in nominals) and not any(_allows_everything(setting) for setting in settings):
        unsure = series(dict.fromkeys(f"{tell(nominal.volts, 'V')} {nominal.where}" for nominal in nominals if nominal.origin is Origin.ASSUMED))
        question = f"Does the wall give {unsure}? Only one table was at hand for it, and `{item.name}` allows {item.input.volts} only. {UNSURE}"
        return cannot_tell(Severity.DANGER, [thing], question)
    return clear(thing, severity=Severity.DANGER)


def _settings(item: Item) -> tuple[Setting, ...]:
    """What the label allows; of a selector that is said to be set, that position alone."""
    chosen = _set_to(item)
    if chosen is None:
        return item.input.settings
    return tuple(setting for setting in item.input.settings if _fits(chosen, setting)) or ((chosen, chosen),)


def _set_to(item: Item) -> float | None:
    stated = getattr(item.section, "set_to", None)
    return stated.value if stated is not None and stated.known else None


def _fits(volts: float, setting: Setting) -> bool:
    low, high = setting
    tolerance = limits.SUPPLY_TOLERANCE.value
    if low == high and family(volts) is not None and family(low) is not None:
        return family(volts) == family(low)
    return low * (1 - tolerance) <= volts <= high * (1 + tolerance)


def _fitting(nominal: Nominal, settings: tuple[Setting, ...]) -> int:
    return next((number for number, setting in enumerate(settings) if _fits(nominal.volts, setting)), -1)


def _allows_everything(setting: Setting) -> bool:
    return _fits(limits.LEAST_MAINS.value, setting) and _fits(limits.MOST_MAINS.value, setting)


def _mismatch(item: Item, settings: tuple[Setting, ...], wrong: list[Nominal]) -> Judgement:
    most = max(high for _, high in settings)
    too_high = [nominal for nominal in wrong if nominal.volts > most]
    named = too_high or wrong
    places = series(f"{tell(nominal.volts, 'V')} {nominal.where}" for nominal in named)
    chosen = _set_to(item)
    allowed = f"{item.input.volts}" if chosen is None else f"{tell(chosen, 'V')} as it is set"
    numbers = [
        _number("the wall gives", named[0]),
        Number("the label allows", allowed, most, "V", Origin.STATED.word),
    ]
    if too_high:
        return trips(
            Severity.DANGER,
            [of_item(item)],
            f"`{item.name}` allows {allowed}, and the wall gives {places}. It can overheat and burn the moment it is plugged in.",
            defer("Do not plug it in there. Use a supply that is made for both voltages, or ask a qualified person about a converter."),
            [*numbers, limit("tolerance", limits.SUPPLY_TOLERANCE)],
        )
    return trips(
        Severity.FAULT,
        [of_item(item)],
        f"`{item.name}` allows {allowed}, and the wall gives {places}. It will not start, or work badly.",
        defer("Use one that is made for both voltages, or ask a qualified person about a converter."),
        [*numbers, limit("tolerance", limits.SUPPLY_TOLERANCE)],
    )


def _saturated(item: Item, nominals: list[Nominal], settings: tuple[Setting, ...]) -> Judgement | None:
    if not item.has_transformer or not item.input.hertz:
        return None
    rated = min(item.input.hertz)
    for nominal in nominals:
        fitting = [setting for setting in settings if _fits(nominal.volts, setting)]
        for hertz in nominal.hertz:
            flux = min(saturation_index(nominal.volts, hertz, high, rated) for _, high in fitting) if fitting else 0
            if over(flux, limits.CORE_FLUX.value):
                return trips(
                    Severity.RISK,
                    [of_item(item)],
                    f"`{item.name}` is made for {tell(rated, 'Hz')} and meets {tell(hertz, 'Hz')} {nominal.where}: its transformer "
                    f"gets {flux:.2f} times the flux it is made for. It will run hot and hum.",
                    defer("Use one whose label names that frequency too, or ask a qualified person."),
                    [Number("flux against rated", f"{flux:.2f}", flux, "", "stated"), limit("at most", limits.CORE_FLUX)],
                )
    return None


def _ask_country(code: str) -> str:
    return f'What does the wall give in the country "{code}"? It is not in the table: write `place: {{mains: …}}`. {UNSURE}'


def _ask_place(board: Board) -> Judgement:
    picky = [item for item in board.wall.items.values() if item.input.known and not any(_allows_everything(each) for each in _settings(item))]
    names = series(f"`{item.name}` ({item.input.volts})" for item in picky)
    question = f"Where will the board be plugged in? What is made for one voltage only: {names}. Write `place: {{country: …}}`. {UNSURE}"
    return cannot_tell(Severity.DANGER, [of_item(picky[0])], question)


def _number(name: str, nominal: Nominal) -> Number:
    hertz = "/".join(f"{each:g}" for each in nominal.hertz)
    text = f"{tell(nominal.volts, 'V')}{f' {hertz} Hz' if hertz else ''} {nominal.where}"
    return Number(name, text, nominal.volts, "V", nominal.origin.word)
