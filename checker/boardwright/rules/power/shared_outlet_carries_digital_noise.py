"""Digital noise carried over a shared return.

## What it finds
A digital or clocked device that shares its supply's return with a pedal that has a lot of gain behind it; and clocked
devices on one return whose clocks can beat against each other.

## Why it matters
Two pedals that share a power lead share its tiny resistance. The digital pedal's restless current makes a tiny noisy
voltage there, the drive pedal takes it for music, and turns it up a thousand times. Two clocked pedals can also whistle
at the difference of their clocks.

## How it decides
The ripple in the device's current ({{ limit ripple-share }} of its draw where none is stated) times the shared return
({{ limit shared-return }}, or what the shared leads amount to) with the audio screens beside it
({{ limit screen-path }}) gives a voltage. To that comes the gain from the other pedal to the amplifier, with everything
switched on that turns it up; no pedal gives more than about {{ limit loudest }}. Above {{ limit noise-floor }} it trips. Where it is not stated whether outlets are isolated,
they are taken as sharing. Two known clocks trip when they, or their harmonics up to the third, lie between
{{ limit beat-low }} and {{ limit beat-high }} apart; unknown clocks on one return are an advice.

## How to mend it
An isolated outlet for each digital or clocked device. If outlets are short, let quiet analogue pedals share.

## Source
Physics: common-impedance coupling, a topic of every handbook on interference. The figures for ripple and return are
common practice.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from heapq import nlargest

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.feeding import Device
from boardwright.physics import noise
from boardwright.rules import things
from boardwright.rules.power._moves import with_move
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, limit, number, trips
from boardwright.spec.figure import Origin, figure, tell, weakest


@rule(Severity.RISK, Severity.ADVICE, lesson="quiet-power")
def shared_outlet_carries_digital_noise(board: Board) -> Iterator[Judgement]:
    for devices in board.power.pools().values():
        if len(devices) < 2:
            yield clear(things.of_device(devices[0]))
            continue
        noisy = [device for device in devices if device.ripple.value_or(1.0) > 0]
        hearing = _hearing(board, devices)
        judged = [_worst(board, device, hearing) for device in noisy]
        judged += list(_beats(board, noisy))
        if not judged:
            judged = [clear(*(things.of_device(device) for device in devices))]
        yield from judged


def _hearing(board: Board, devices: list[Device]) -> list[tuple[float, Device]]:
    """The two devices that turn up most what they hear, with their gain (dB) to an amplifier: one may be the noisy one itself."""
    gains = [(board.signal.gain_to_amp(device.name), device) for device in devices if not device.takes_nothing]
    heard = [(gain, device) for gain, device in gains if gain is not None]
    # of a chain, the one that turns it up itself
    return nlargest(2, heard, key=lambda pair: (pair[0], pair[1].gain.value))


def _worst(board: Board, noisy: Device, hearing: list[tuple[float, Device]]) -> Judgement:
    """The neighbour that turns this device's noise up the most, and what the amplifier gets of it."""
    thing = things.of_device(noisy)
    if not board.audio.described:
        return cannot_tell(Severity.RISK, [thing], f"`{noisy.name}` shares its supply's return. Where does the sound go? Write `audio`.")
    if not noisy.ripple.known:
        return cannot_tell(Severity.RISK, [thing], f"How much current does `{noisy.name}` draw? Read it off the label.")
    heard = [pair for pair in hearing if pair[1] is not noisy]
    if not heard:
        return clear(thing)
    gain, victim = heard[0]
    shared = board.power.shared_return(noisy, victim)
    voltage = noise.common_impedance_voltage(noisy.ripple.value, shared.value, limits.SCREEN_PATH.value)
    floor = min(noise.level_after(voltage, gain), limits.LOUDEST.value)
    if floor <= limits.NOISE_FLOOR.value:
        return clear(thing, things.of_device(victim))
    sharing = board.power.pool_origin([noisy, victim])
    unsure = " Nobody said whether those outlets are isolated, so they are taken as sharing." if sharing is Origin.ASSUMED else ""
    origin = weakest([sharing, noisy.ripple.origin, victim.gain.origin, shared.origin])
    judged = trips(
        Severity.RISK,
        [thing, things.of_device(victim)],
        f"`{noisy.name}` and `{victim.name}` share a return. The ripple of `{noisy.name}` leaves {tell(floor, 'dBV')} of whine at the "
        f"amplifier, once `{victim.name}` and what follows have turned it up by {tell(gain, 'dB')}.{unsure}",
        f"Give `{noisy.name}` an isolated outlet of its own.",
        [
            number("ripple", noisy.ripple),
            number("shared return", shared),
            number("gain after it", figure(gain, "dB", victim.gain.origin)),
            number("at the amplifier", figure(floor, "dBV", origin)),
            limit("heard above", limits.NOISE_FLOOR),
        ],
        at=noisy.lines[0].path,
    )
    return with_move(board, noisy, judged, alone=True)


def _beats(board: Board, noisy: list[Device]) -> Iterator[Judgement]:
    clocks = {device: clock.value for device in noisy if (clock := device.box and device.box.clock) and clock.known}
    order = range(1, int(limits.BEAT_ORDER.value) + 1)
    by_frequency = sorted({n * clock: device for device, clock in clocks.items() for n in order}.items())
    frequencies = [frequency for frequency, _ in by_frequency]
    said = False
    for device, clock in clocks.items():
        found = None
        for n in order:
            start = bisect_left(frequencies, n * clock + limits.BEAT_LOW.value)
            for frequency, other in by_frequency[start : start + 4]:
                if frequency - n * clock <= limits.BEAT_HIGH.value and other is not device:
                    found = found or (other, frequency - n * clock)
        if found is not None:
            said = True
            other, beat = found
            yield trips(
                Severity.RISK,
                [things.of_device(device), things.of_device(other)],
                f"`{device.name}` and `{other.name}` share a return, and their clocks ({tell(clock, 'Hz')} and "
                f"{tell(clocks[other], 'Hz')}) can beat at {tell(beat, 'Hz')}: a whistle.",
                f"Give `{device.name}` an isolated outlet of its own.",
                [number("beat", figure(beat, "Hz")), limit("heard from", limits.BEAT_LOW), limit("to", limits.BEAT_HIGH)],
                at=device.lines[0].path,
            )
    unknown = [device for device in noisy if device not in clocks]
    if len(noisy) > 1 and unknown and not said:
        first, second = noisy[0], noisy[1]
        yield trips(
            Severity.ADVICE,
            [things.of_device(device) for device in noisy],
            f"{things.listed([device.name for device in noisy])} share a return, and each has a clock inside. If the clocks differ by "
            "a little, the difference can be heard as a whistle.",
            f"Give `{second.name}` an isolated outlet of its own.",
            at=first.lines[0].path,
        )
