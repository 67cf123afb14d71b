"""What is heard and what it means: causes that are no single part, and the rules whose findings explain a symptom."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from boardwright.board.hunt.situation import Situation
from boardwright.board.hunt.suspects import ASK, Suspect, What
from boardwright.board.signal import Role

if TYPE_CHECKING:
    from boardwright.board.assemble import Board

EXPLAINS: dict[str, tuple[str, ...]] = {
    "silent": (
        "signal-path-broken", "preset-leaves-silence", "send-without-return", "expression-and-audio-jacks-crossed", "device-not-fed-exactly-once",
        "supply-voltage-outside-range", "voltage-lost-before-device", "start-up-surge-exceeds-outlet", "trs-ts-audio-mismatch", "upkeep-overdue",
    ),
    "hum": (
        "earth-loop-closed", "amplifiers-not-on-exactly-one-earth", "isolation-bridged-by-side-path", "usb-closes-earth-loop", "transformer-near-coil",
        "wide-loop-near-transformer", "amplifiers-on-different-circuits", "ac-dc-mismatch", "screen-left-open", "isolation-transformer-misplaced",
    ),
    "buzz": (
        "amplifiers-not-on-exactly-one-earth", "class-one-without-earth-contact", "mains-earth-lifted", "screen-left-open",
        "amplifiers-on-different-circuits", "earth-loop-closed", "shared-outlet-carries-digital-noise", "audio-beside-power",
    ),
    "whine": ("shared-outlet-carries-digital-noise", "thirsty-digital-shares-outlet", "usb-closes-earth-loop", "audio-beside-power"),
    "hiss": ("buffer-pile-up", "level-class-mismatch", "headroom-clipped", "bridging-ratio-too-low"),
    "crackle": ("headroom-clipped", "no-strain-relief", "bend-too-tight", "outputs-joined-together", "upkeep-overdue"),
    "dull": (
        "unbuffered-cable-dulls-pickup", "bridging-ratio-too-low", "tone-shifts-when-bypassed", "volume-pedal-wrong-for-its-place",
        "parallel-latency-comb", "fuzz-behind-buffer",
    ),
    "weak": (
        "parallel-polarity-opposed", "level-class-mismatch", "bridging-ratio-too-low", "supply-voltage-outside-range", "voltage-lost-before-device",
        "outputs-joined-together", "trs-ts-audio-mismatch", "upkeep-overdue",
    ),
    "oscillation": ("audio-feedback-ring", "hot-output-beside-high-gain-input", "wah-into-low-impedance-fuzz"),
    "reboot": (
        "voltage-lost-before-device", "start-up-surge-exceeds-outlet", "outlet-current-overdrawn", "outlet-headroom-thin", "supply-total-exceeded",
        "supply-runs-hot", "supply-voltage-outside-range", "thirsty-digital-shares-outlet",
    ),
}  # fmt: skip
"""Rules whose findings explain what is heard; what the checker has found already is looked at before anything is tested."""


def explains(board: Board, kind: str, rule: str, about: str) -> bool:
    """Whether a finding of a rule explains a symptom. Of what is overdue only a thing of the board does, such as a box with an old battery."""
    return rule in EXPLAINS.get(kind, ()) and (rule != "upkeep-overdue" or about in board.names)


@dataclass(frozen=True, slots=True)
class Signature:
    """A symptom as it is heard, what it usually means, and what to try first. Common practice, no published source."""

    kind: str
    heard: str
    means: str
    first: str


SIGNATURES = (
    Signature("silent", "silence everywhere", "something that all of the sound goes through", "guitar straight into the amplifier; then halve the way"),
    Signature("silent", "silence in one preset", "a lead of its loops, or the preset itself", "that loop's leads"),
    Signature("hum", "hum at the rate of the mains, pure; gone with one amplifier alone", "a loop by way of two earths", "one amplifier alone; then a transformer in the other's signal lead"),
    Signature("hum", "hum that changes as the guitar turns", "a magnetic field at the pickup", "turn, move; it is not the board"),
    Signature("hum", "hum that changes as a pedal is moved", "a coil near a transformer", "move it an arm's length"),
    Signature("buzz", "buzz that stops when the strings are touched", "an earth that is missing, or a screen that is open", "stop, and ask a qualified person about the earth; measure the screens of the leads"),
    Signature("buzz", "buzz in steps with the lamps", "a dimmer on the same circuit", "an outlet on another circuit"),
    Signature("whine", "a steady whine that follows a pedal's power", "an outlet that a digital pedal shares", "feed that pedal from a battery"),
    Signature("whine", "a whistle that slides", "two clocks on one return", "an outlet of its own for one of them"),
    Signature("hiss", "hiss that grows with one pedal", "gain, far ahead in the chain", "take that pedal out"),
    Signature("crackle", "crackle when something is stepped on or bent", "a plug, a socket or a footswitch", "tap and bend, one plug after the other"),
    Signature("dull", "dull, as if under a blanket", "cable or a heavy load at the bare pickup", "the guitar straight into the amplifier by one short lead"),
    Signature("weak", "thin, or too soft", "a setting, a tired battery, or two copies that cancel", "look at the settings; take one of two ways out"),
    Signature("oscillation", "a squeal that follows the gain", "an output beside an input, or sound that comes back", "half the gain; leads apart"),
    Signature("reboot", "a pedal that starts anew when it is warm", "too few volts, or a supply that is too hot", "measure the volts at its plug while it plays"),
)
"""The signature table: every kind of symptom at least once."""

OTHER_FIRST = "Turn the volumes down before you move a plug."


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause that is no part, with the one test that is made for it."""

    suspect: Suspect
    tells: str | None
    """The change (of ``changes_with``) that gives it away."""
    do: str
    ask: str
    only_this: bool = False
    """Whether a good answer convicts it, as when what it needs was taken away; else a bad one does."""
    quick: bool = True
    """Whether nothing is plugged for it."""
    listens: bool = True
    """Whether it is heard at every jack that one listens at with nothing but the guitar in front."""


def causes(situation: Situation) -> Iterator[Cause]:
    """Causes of this symptom that this board can have."""
    yield from {"hum": _hum, "buzz": _buzz, "whine": _whine, "dull": _dull, "oscillation": _squeal, "weak": _weak}.get(situation.kind, _none)(situation)


def _none(situation: Situation) -> Iterator[Cause]:
    return iter(())


def _suspect(situation: Situation, name: str, words: str, weight: float, mend: str, thing: str = "audio", stop: bool = False) -> Suspect:
    path = situation.board.names.get(thing, ("audio",))
    return Suspect(name, What.CAUSE, words, weight, mend, path, thing, stop=stop)


def _several_earths(situation: Situation) -> list[str]:
    board = situation.board
    return [*board.ground.amps, *board.spec.computers]


def _hum(situation: Situation) -> Iterator[Cause]:
    joined = _several_earths(situation)
    if len(joined) > 1:
        words = f"a loop by way of two earths ({', '.join(f'`{name}`' for name in joined)})"
        mend = "Put a transformer with a lifted screen into the signal lead to one of them. Every mains earth stays where it is."
        do = f"{OTHER_FIRST} Take the signal leads to all of them but `{situation.ends[0]}` out of the board."
        described = situation.board.ground.loops or situation.board.ground.possible_loops
        loop = _suspect(situation, "earth loop", words, 6 if described else 2, mend)
        yield Cause(loop, "one-amp-alone", do, f"Is `{situation.ends[0]}` quiet now?", only_this=True, listens=False)
    field = _suspect(situation, "field at the pickup", "the pickup, which hears a transformer or a lamp", 4, "Turn, or stand somewhere else: it is not the board.", situation.source)
    yield Cause(field, "turning-the-guitar", f"Turn once round with `{situation.source}` in your hands.", "Does it stay the same all the way round?")
    for name, stage in situation.board.signal.stages.items():
        if stage.kind.coil and any(edge.stage is stage for edge in situation.live):
            coil = _suspect(situation, f"coil of {name}", f"the coil in `{name}`, near a transformer", 2, f"Move `{name}` or the supply an arm's length away.", name)
            yield Cause(coil, "moving-a-pedal", f"Move `{name}` an arm's length, with its leads in.", "Does it stay the same?")


def _buzz(situation: Situation) -> Iterator[Cause]:
    mend = f"Stop here. Switch off, and have {ASK} test the amplifiers, their cords and the outlets. Do not play until that is done."
    earth = _suspect(situation, "no earth", "an earth that is missing somewhere", 3, mend, situation.ends[0], stop=True)
    yield Cause(earth, "touching-strings", "Think back, and try nothing new.", "Was the buzz the same whether hands were on the strings or not?")
    lamps = _suspect(situation, "dimmer", "a lamp dimmer on the same circuit", 3, "Ask the house for outlets on a circuit without dimmers.")
    yield Cause(lamps, "lamps", "Have the lamps set to full, then half.", "Does the buzz stay the same?")
    field = _suspect(situation, "field at the pickup", "the pickup, which hears a lamp or a screen", 3, "Turn, or stand somewhere else: it is not the board.", situation.source)
    yield Cause(field, "turning-the-guitar", f"Turn once round with `{situation.source}` in your hands.", "Does it stay the same all the way round?")


def _whine(situation: Situation) -> Iterator[Cause]:
    for devices in situation.board.power.pools().values():
        clocked = [device for device in devices if device.clocked and not device.takes_nothing]
        for device in clocked if len(devices) > 1 else ():
            name = device.name
            mend = f"Give `{name}` an isolated outlet of its own."
            shared = _suspect(situation, f"sharing of {name}", f"`{name}`, which shares its return with others", 4, mend, name)
            yield Cause(shared, None, f"Take the power plug out of `{name}`, and lead the sound round it.", "Is the whine gone?", only_this=True, quick=False)


def _dull(situation: Situation) -> Iterator[Cause]:
    cable = _suspect(situation, "cable at the pickup", "too much cable, or too heavy a load, at the bare pickup", 5, "Put a buffer first, or shorten the leads ahead of the first one.")
    do = f"Plug `{situation.source}` straight into `{situation.ends[0]}` with your shortest good lead."
    yield Cause(cable, None, do, "Is the treble back?", only_this=True, quick=False, listens=False)


def _squeal(situation: Situation) -> Iterator[Cause]:
    boxes = [edge.stage.name for edge in situation.live if edge.stage is not None and edge.stage.role is Role.BOX and edge.engaged]
    named = ", ".join(f"`{name}`" for name in dict.fromkeys(boxes)) or "the amplifier"
    gain = _suspect(situation, "too much gain", "more gain than the leads beside each other bear", 6, "Lower a gain, and lead the hot output away from the input.")
    yield Cause(gain, None, f"Turn the gain of {named} half down.", "Is the squeal gone?", only_this=True)


def _weak(situation: Situation) -> Iterator[Cause]:
    if len(situation.live) > len({edge.start for edge in situation.live}):
        apart = _suspect(situation, "copies that cancel", "two copies of the sound, one of them upside down", 3, "Turn one of them over, or take one way out.")
        yield Cause(apart, None, "Take one of the two ways out.", "Is the bass back?", only_this=True, quick=False)
