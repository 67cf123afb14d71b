"""How long MIDI messages take on the wire."""

from ._inputs import not_negative, whole

BIT_RATE = 31_250
"""Bits per second [Hz]. Source: IEC 63035:2017, 4.1."""

BITS_PER_BYTE = 10
"""A start bit, eight data bits and a stop bit [1]. Source: IEC 63035:2017, 4.1."""


def message_time(length: int) -> float:
    """Time that bytes take on the wire, one after another.

    Args:
        length: number of bytes [1].

    Returns:
        Time [s].

    Raises:
        ValueError: length is not a whole number from 0.

    Source:
        IEC 63035:2017, 4.1: 10 bits to a byte at 31.25 kBd.
    """
    whole(0, 10**9, length=length)
    return length * BITS_PER_BYTE / BIT_RATE


def skew_in_bits(hops: int, skew: float) -> float:
    """Smearing of edges by a chain of hardware thru sockets, in bits.

    Args:
        hops: number of optocouplers passed one after another [1].
        skew: difference between the turn-on and turn-off delay of one of them [s].

    Returns:
        Smearing against the length of one bit [1].

    Raises:
        ValueError: hops is not a whole number from 0, or skew is below zero.

    Source:
        Delays in a chain add; the length of a bit by IEC 63035:2017, 4.1.
    """
    whole(0, 10**9, hops=hops)
    not_negative(skew=skew)
    return hops * skew * BIT_RATE
