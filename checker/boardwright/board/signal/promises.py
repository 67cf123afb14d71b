"""What the user wants to be true whatever is switched, answered with a proof or a witness."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from boardwright import limits
from boardwright.board.audio import GUITAR
from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, TooManyStates
from boardwright.board.signal.graph import Edge
from boardwright.board.signal.signal import How, Proof, Signal
from boardwright.board.signal.stages import Role
from boardwright.board.signal.switches import State
from boardwright.spec.figure import tell
from boardwright.spec.problem import Path
from boardwright.spec.sections.promises import ONE_EARTH, Always, Never, Promise
from boardwright.spec.wording import series


class Kept(StrEnum):
    """How a promise came out."""

    HOLDS = "holds"
    BROKEN = "broken"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class Answer:
    """One promise, answered.

    ``proof`` is in words, a line for each part. ``state`` and ``way`` show how a broken one breaks; ``behind`` is, for a
    "never" that holds by wiring, everything that can be heard at the amplifiers. ``question`` is what would decide an
    undecided one.
    """

    path: Path
    promise: str
    """The promise as a sentence."""
    kept: Kept
    how: How | None
    proof: tuple[str, ...]
    things: tuple[str, ...]
    """The things that it is about."""
    state: State | None = None
    way: tuple[Edge, ...] = ()
    behind: tuple[str, ...] = ()
    question: str = ""


class EarthAnswer(Protocol):
    """What the earth side of a board says of ``one-earth``."""

    holds: bool | None
    proof: list[str]
    questions: list[str]
    witness: str | None


def too_many(error: TooManyStates) -> str:
    """What to do about what cannot be gone through."""
    return f"There are more {error.of} here than can be gone through. Describe a smaller part of the board."


def answer_promises(promises: dict[int, Promise], signal: Signal, one_earth: Callable[[], EarthAnswer]) -> list[Answer]:
    """Every promise of a board, answered in the order of the text."""
    return [answer for number, promise in promises.items() for answer in _answers(promise, ("promises", number), signal, one_earth)]


def _answers(promise: Promise, path: Path, signal: Signal, one_earth: Callable[[], EarthAnswer]) -> Iterator[Answer]:
    if (never := promise.never) is not None:
        sentence = f"The sound of {_listed(never.sound_of or (), 'or')} never reaches {_listed(never.reaches or (), 'or')}."
        yield _within_reason((*path, "never"), sentence, lambda at: _never(never, at, sentence, signal))
    if (always := promise.always) is not None:
        if always.holds == ONE_EARTH:
            yield _one_earth((*path, "always"), one_earth)
        if always.hears is not None or always.holds is None:
            sentence = _always_in_words(always)
            yield _within_reason((*path, "always"), sentence, lambda at: _always(always, at, sentence, signal))
    if promise.same_time is not None:
        amps = [jack.thing for jack in promise.same_time]
        within = promise.within.value if promise.within is not None and promise.within.known else limits.SAME_TIME.value
        sentence = f"Every sound reaches {_listed(amps, 'and')} within {tell(within, 's')} of each other."
        yield _within_reason((*path, "same_time"), sentence, lambda at: _same_time(amps, within, at, sentence, signal))


def _within_reason(path: Path, sentence: str, answer: Callable[[Path], Answer]) -> Answer:
    """The answer, or that there are too many states or ways to find it."""
    try:
        return answer(path)
    except TooManyStates as error:
        return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), (), question=too_many(error))


def _missing(path: Path, sentence: str, sounds: Iterable[str], amps: Iterable[str], signal: Signal) -> Answer | None:
    """The answer where something named is not part of the sound, or is to hear and is no amplifier."""
    amps = list(amps)
    lost = [name for name in (*amps, *sounds) if name not in signal.stages]
    deaf = [name for name in amps if name not in lost and signal.stages[name].role is not Role.AMP]
    if lost:
        question = f"Where does the sound go to and from {_listed(lost)}? Write it in `audio`."
    elif deaf:
        question = f"{_listed(deaf)} is no amplifier, and sound is heard from amplifiers. Which one is meant?"
    else:
        return None
    return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), (*lost, *deaf), question=question)


def _incomplete(path: Path, sentence: str, key: str) -> Answer:
    return Answer(path, sentence, Kept.CANNOT_TELL, None, (), (), question=f"What is promised here? `{key}` is not said.")


# --- never --------------------------------------------------------------------------------------------------------


def _never(never: Never, path: Path, sentence: str, signal: Signal) -> Answer:
    sounds, amps = never.sound_of or [], never.reaches or []
    if not sounds or not amps:
        return _incomplete(path, sentence, "sound_of" if not sounds else "reaches")
    if (missing := _missing(path, sentence, sounds, amps, signal)) is not None:
        return missing
    proofs = {(sound, amp): signal.never_reaches(sound, amp) for amp in amps for sound in sounds}
    things = (*amps, *sounds)
    broken = {pair: proof for pair, proof in proofs.items() if proof.happens}
    certain = {pair: proof for pair in broken if (proof := signal.certain.never_reaches(*pair)).happens}
    if certain:
        (sound, amp), first = _easiest(certain)
        lines = [f"`{name}` reaches `{end}` {proof.state.words}." for (name, end), proof in certain.items() if proof.state]
        return Answer(path, sentence, Kept.BROKEN, How.WITNESS, tuple(lines), (amp, sound), first.state, first.way)
    if broken:
        loops = _doubtful(signal)
        return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), things, question=_about_loops(loops))
    lines = []
    for amp in amps:
        wired = [sound for sound in sounds if proofs[sound, amp].how is How.WIRING]
        if wired:
            cut = next((proof for sound in wired if (proof := proofs[sound, amp]).behind), proofs[wired[0], amp])
            lines.append(_sentence(cut.words if len(wired) < 2 or cut.behind else f"by wiring: nothing is ever played into {_listed(wired)}"))
        lines += [_sentence(f"{proofs[sound, amp].words} (`{sound}`, `{amp}`)") for sound in sounds if sound not in wired]
    how = How.WIRING if all(proof.how is How.WIRING for proof in proofs.values()) else How.CONTRADICTION
    behind = tuple(dict.fromkeys(name for proof in proofs.values() for name in proof.behind))
    return Answer(path, sentence, Kept.HOLDS, how, tuple(lines), things, behind=behind)


def _easiest(proofs: dict[tuple[str, str], Proof]) -> tuple[tuple[str, str], Proof]:
    """The proof whose state takes the fewest switches; one in a preset before one by hand."""

    def effort(item: tuple[tuple[str, str], Proof]) -> tuple[bool, int]:
        state = item[1].state
        assert state is not None
        return state.preset is None, sum(state.positions.values())

    return min(proofs.items(), key=effort)


def _doubtful(signal: Signal) -> list[str]:
    """The loops that are empty and of which nobody says whether they pass the sound."""
    return list(dict.fromkeys(signal.switches[id_].words(True, alone=False) for edge in signal.graph.edges if not edge.sure for id_, _ in edge.guard))


def _about_loops(loops: list[str]) -> str:
    named = " and ".join(loop.removesuffix(" in") for loop in loops)
    return f"Does the sound pass {named} while it is engaged with nothing plugged in? Write `normalled: yes` or `no`."


# --- always -------------------------------------------------------------------------------------------------------


def _about_boxes(signal: Signal, amps: list[str]) -> str:
    """What to ask where amplifiers may hear nothing because of boxes that are set to the effect alone."""
    behind = signal.graph.behind(map(signal.heard, amps))
    boxes = list(dict.fromkeys(edge.stage.name for edge in signal.graph.edges if not edge.passes and edge.stage and edge.end in behind))
    one = len(boxes) == 1
    return (
        f"{_listed(boxes)} {'is' if one else 'are'} set to the effect alone: does the sound pass while {'it is' if one else 'they are'} off? "
        "Write `bypass: true-bypass` if a plain wire passes it, or `bypass: always-on` if it is never off."
    )


def _always_in_words(always: Always) -> str:
    amps, sources = always.hears or [], always.from_ or [GUITAR]
    unless = ", but for silence on purpose" if always.unless == "quiet" else ""
    return f"{_listed(amps, 'and')} always hear{'s' if len(amps) == 1 else ''} {_listed(sources, 'and')}{unless}."


def _always(always: Always, path: Path, sentence: str, signal: Signal) -> Answer:
    amps, sources = always.hears or [], always.from_ or [GUITAR]
    if not amps:
        return _incomplete(path, sentence, "hears")
    if (missing := _missing(path, sentence, sources, amps, signal)) is not None:
        return missing
    lines, hows, doubtful, for_loops = [], [], [], False
    for amp in amps:
        for source in sources:
            excused = signal.switches.quiet if always.unless == "quiet" else NEVER
            silent = _unheard(signal, amp, source, excused)
            if silent != NEVER:
                state = signal.switches.witness(silent)
                assert state is not None
                line = f"`{amp}` does not hear `{source}` {state.words}." + _hint(signal, state, always)
                return Answer(path, sentence, Kept.BROKEN, How.WITNESS, (line,), (amp, source), state)
            if _unheard(signal.passing, amp, source, excused) != NEVER:
                doubtful.append(amp)
                for_loops = for_loops or _unheard(signal.certain, amp, source, excused) != NEVER
            how, line = _why_heard(signal, amp, source, always.unless == "quiet")
            hows.append(how)
            lines.append(line)
    if doubtful:
        question = _about_loops(_doubtful(signal)) if for_loops else _about_boxes(signal, doubtful)
        return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), (*amps, *sources), question=question)
    how = How.WIRING if all(each is How.WIRING for each in hows) else How.CONTRADICTION
    return Answer(path, sentence, Kept.HOLDS, how, tuple(lines), (*amps, *sources))


def _unheard(signal: Signal, amp: str, source: str, excused: Diagram) -> Diagram:
    """The possible states in which an amplifier does not hear a source, but for those that are excused."""
    return signal.diagrams.without(signal.switches.possible, signal.diagrams.either(_hears(signal, amp, source), excused))


def _hears(signal: Signal, amp: str, source: str) -> int:
    if signal.stages[source].role is Role.SOURCE:
        return signal.hears(amp, source)
    return signal.heard_at(source, amp)


def _hint(signal: Signal, state: State, always: Always) -> str:
    silencing = [signal.switches[id_].thing for id_, is_on in state.positions.items() if is_on and signal.switches[id_].silences]
    quiet = state.preset is not None and signal.switches.presets[state.preset].quiet
    if always.unless is None and (silencing or quiet):
        return " If that silence is meant, write `unless: quiet`."
    return ""


def _why_heard(signal: Signal, amp: str, source: str, quiet: bool) -> tuple[How, str]:
    """Why an amplifier always hears a source, in words."""
    start = signal.starts(source)
    free = any(signal.graph.shortest(node, signal.heard(amp), lambda edge: not edge.guard) is not None for node in start)
    if free:
        return How.WIRING, f"By wiring: there is a way from `{source}` to `{amp}` without any switch on it."
    ahead, behind = signal.graph.ahead(start), signal.graph.behind([signal.heard(amp)])
    switches = {id_ for edge in signal.graph.edges if edge.start in ahead and edge.end in behind for id_, _ in edge.guard}
    count = f"{len(switches)} switches" if len(switches) != 1 else "the one switch"
    if _hears(signal, amp, source) == ALWAYS:
        return How.CONTRADICTION, f"Whatever you switch: each position of {count} between `{source}` and `{amp}` leaves a way open."
    rest = " that is not silent on purpose" if quiet else ""
    return How.CONTRADICTION, f"Whatever you switch: every state of {count} between `{source}` and `{amp}`{rest} leaves a way open."


# --- at the same time ---------------------------------------------------------------------------------------------


def _same_time(amps: list[str], within: float, path: Path, sentence: str, signal: Signal) -> Answer:
    if (missing := _missing(path, sentence, (), amps, signal)) is not None:
        return missing
    ends = [signal.heard(amp) for amp in amps]
    for clash in signal.copies.apart(within, within, ends):
        first, second = (end.thing for end in clash.meeting.ends)
        parts = f"A sound that parts at `{clash.meeting.parting.node.thing}`"
        line = f"{parts} reaches `{first}` and `{second}` {tell(clash.apart, 's')} apart {clash.state.words}."
        return Answer(path, sentence, Kept.BROKEN, How.WITNESS, (line,), (first, second), clash.state, (*clash.ways[0], *clash.ways[1]))
    doubts = list(dict.fromkeys(doubt.thing for doubt in signal.copies.doubts("latency", ends)))
    if doubts:
        question = f"How late does the sound come out of {_listed(doubts)}? Read it in the manual, or feed a click through both ways and measure."
        return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), (*amps, *doubts), question=question)
    spread = signal.copies.spread(ends)
    if not any(meeting.in_air and set(meeting.ends) <= set(ends) for meeting in signal.copies.meetings):
        return Answer(path, sentence, Kept.HOLDS, How.WIRING, ("By wiring: no copies of one sound go separate ways to them.",), tuple(amps))
    if spread <= within:
        apart = f"at most {tell(spread, 's')} apart" if spread else "equally late"
        line = f"By wiring: on every pair of ways, copies of one sound arrive {apart}."
        return Answer(path, sentence, Kept.HOLDS, How.WIRING, (line,), tuple(amps))
    line = f"Whatever you switch: no two ways that are further apart than {tell(within, 's')} are ever open at once."
    return Answer(path, sentence, Kept.HOLDS, How.CONTRADICTION, (line,), tuple(amps))


# --- earth --------------------------------------------------------------------------------------------------------


def _one_earth(path: Path, one_earth: Callable[[], EarthAnswer]) -> Answer:
    sentence = "Whichever amplifiers are connected, there is exactly one earth."
    found = one_earth()
    if found.holds is None:
        return Answer(path, sentence, Kept.CANNOT_TELL, How.UNSURE, (), (), question=" ".join(found.questions))
    if found.holds:
        return Answer(path, sentence, Kept.HOLDS, How.WIRING, tuple(found.proof), ())
    state = State({}, None, found.witness) if found.witness else None
    return Answer(path, sentence, Kept.BROKEN, How.WITNESS, tuple(found.proof), (), state)


def _listed(names: Iterable[str], word: str = "and") -> str:
    quoted = [f"`{name}`" for name in dict.fromkeys(names)]
    return series(quoted, word) if quoted else "nothing"


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")
