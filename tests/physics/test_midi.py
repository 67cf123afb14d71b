"""MIDI timing against its standard."""

import pytest
from pytest import approx

from boardwright.physics import midi
from published import published


def test_one_byte():
    # 31.25 kBd, start bit, eight data bits, stop bit.
    assert midi.message_time(1) * 1e6 == published(320, "µs", "one byte of MIDI", "IEC 63035:2017, 4.1", rel=1e-12)


def test_messages():
    # Arithmetic: a note message has three bytes, a program change two.
    assert midi.message_time(3) == approx(0.96e-3)
    assert midi.message_time(2) == approx(0.64e-3)
    assert midi.message_time(0) == 0


def test_smearing_of_edges():
    # IEC 63035:2017, 4.1: rise and fall times below 2 microseconds; a bit lasts 32: four hops are a quarter of a bit.
    assert midi.skew_in_bits(4, 2e-6) == approx(0.25)


@pytest.mark.parametrize("call", [lambda: midi.message_time(-1), lambda: midi.message_time(1.5), lambda: midi.skew_in_bits(1, -1e-6)])
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
