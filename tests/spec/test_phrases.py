"""The power phrase, as it is read off labels and as people type it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardwright.spec.figure import Origin, Unreadable
from boardwright.spec.power_phrase import PLUGS, UNKNOWN_POWER, Flow, Polarity, read_power

MINUS, PLUS = Polarity.CENTRE_NEGATIVE, Polarity.CENTRE_POSITIVE

# text: volts (low, high), flow, polarity, amps, plug
PHRASES = {
    "9V dc centre-negative 45mA": ((9, 9), "dc", MINUS, 0.045, None),
    "9-18V dc centre-negative 30mA": ((9, 18), "dc", MINUS, 0.03, None),
    "8-9.6V dc centre-positive 2mA": ((8, 9.6), "dc", PLUS, 0.002, None),
    "9V ac 500mA 5.5x2.5": ((9, 9), "ac", None, 0.5, "5.5x2.5"),
    "9V dc snap 3mA": ((9, 9), "dc", None, 0.003, "snap"),
    "24V dc centre-positive 6000mA 4-pin": ((24, 24), "dc", PLUS, 6, "4-pin"),
    "12V ac-or-dc 1A": ((12, 12), "ac-or-dc", None, 1, None),
    "5V usb-c 1A": ((5, 5), None, None, 1, "usb-c"),
    "9V dc polarity-unknown 100mA": ((9, 9), "dc", None, 0.1, None),
    "centre-negative 9V 45mA": ((9, 9), "dc", MINUS, 0.045, None),
    # order, capitals, spaces, American spelling
    "9V DC center-negative 100ma": ((9, 9), "dc", MINUS, 0.1, None),
    "9 V dc center negative 100 mA": ((9, 9), "dc", MINUS, 0.1, None),
    "100mA 9v Centre-Negative": ((9, 9), "dc", MINUS, 0.1, None),
    "9VDC 100mA centre negative": ((9, 9), "dc", MINUS, 0.1, None),
    "DC9V 0.1A negative center": ((9, 9), "dc", MINUS, 0.1, None),
    "9V, DC, centre-negative, 100mA.": ((9, 9), "dc", MINUS, 0.1, None),
    "9V DC - center positive - 100 mA": ((9, 9), "dc", PLUS, 0.1, None),
    "9V dc centre-neg 100mA": ((9, 9), "dc", MINUS, 0.1, None),
    "9V dc center (+) 100mA": ((9, 9), "dc", PLUS, 0.1, None),
    "9V dc centre-plus 100mA": ((9, 9), "dc", PLUS, 0.1, None),
    "9 volts dc centre-negative 100 milliamps": ((9, 9), "dc", MINUS, 0.1, None),
    "9V⎓ centre-negative 100mA": ((9, 9), "dc", MINUS, 0.1, None),
    "9V~ 500mA": ((9, 9), "ac", None, 0.5, None),
    "9V dc centre-negative max. 100mA": ((9, 9), "dc", MINUS, 0.1, None),
    "9V dc centre-negative <100mA": ((9, 9), "dc", MINUS, 0.1, None),
    "9V dc regulated centre-negative min 300mA": ((9, 9), "dc", MINUS, 0.3, None),
    "9V to 18V dc centre-negative 30mA": ((9, 18), "dc", MINUS, 0.03, None),
    "9 - 18 V dc centre-negative 30mA": ((9, 18), "dc", MINUS, 0.03, None),
    "9V dc centre-negative 45mA 2.1mm": ((9, 9), "dc", MINUS, 0.045, "5.5x2.1"),
    "9V dc centre-negative 45mA 5.5 x 2.5 mm": ((9, 9), "dc", MINUS, 0.045, "5.5x2.5"),
    "9V dc centre-negative 45mA 5.5×2.1": ((9, 9), "dc", MINUS, 0.045, "5.5x2.1"),
    "9V dc centre-negative 45mA 3.5 mini": ((9, 9), "dc", MINUS, 0.045, "3.5-mini"),
}  # fmt: skip


@pytest.mark.parametrize(("text", "means"), PHRASES.items(), ids=PHRASES)
def test_phrases(text, means):
    found = read_power(text)
    amps = found.current.high
    assert ((found.volts.low, found.volts.high), found.flow, found.polarity, amps, found.plug) == means


def test_what_is_not_said_is_unknown():
    assert read_power("unknown") is UNKNOWN_POWER
    assert not read_power("dc centre-negative").volts.known and not read_power("9V").current.known


@pytest.mark.parametrize(
    ("text", "origin"),
    [("9V dc centre-negative 43mA measured", Origin.MEASURED), ("9V dc centre-negative about 40mA", Origin.ASSUMED), ("9V dc centre-negative ~40mA", Origin.ASSUMED),
     ("9V dc centre-negative 40mA", Origin.STATED)],
)  # fmt: skip
def test_where_the_current_is_known_from(text, origin):
    assert read_power(text).current.origin is origin and read_power(text).volts.origin is Origin.STATED


REFUSED = {
    "9": "`9` has no units",
    "9V dc centre-negative 100": "Did you mean `100mA`?",
    "9 dc centre-negative 100mA": "Did you mean `9V`?",
    "9,6V dc centre-negative 100mA": "`9,6V` has a comma in the number: write a point.",
    "9V/18V dc centre-negative": "names two voltages: write a range such as `9-18V`",
    "9V 12V dc centre-negative": "says two voltages, `9V` and `12V`",
    "9V dc centre-negative 10mA 20mA": "says two currents, `10mA` and `20mA`",
    "9V dc centre-negative centre-positive": "says both `centre-negative` and `centre-positive`",
    "9V dc ac": "says both `dc` and `ac`",
    "9V dc 5.5x2.1 5.5x2.5": "says both `5.5x2.1` and `5.5x2.5`",
    "9V dc negative 100mA": "does not say what is inside the plug",
    "9V dc tip-negative 100mA": "does not say what is inside the plug",
    "9VDC 100mA (-)": "does not say what is inside the plug",
    "9V ac centre-negative": "ac swings both ways",
    "9V battery": "write `feed: battery`",
    "9V dc centre-negative 300A": "300 A? That is more than any pedal takes. Did you mean `300mA`?",
    "90V dc centre-negative 100mA": "90 V? That is more than a pedal board has. Did you mean `9V`?",
    "180V dc 5mA": "Did you mean `18V`?",
    "75V dc 5mA": "75 V? That is more than a pedal board has.",
    "90V ac 500mA": "90 V? That is more than a pedal board has. Did you mean `9V`?",
    "230V ac 50mA": "That is the wall's voltage. What plugs into the wall says so as `input`",
    "9V dc unregulated centre-negative 1A": "regulated: no",
    "9V dc centre-negative 2000mAh": "how much a battery holds",
    "9V dc centre-negative 100mA loud": "`loud` in `9V dc centre-negative 100mA loud` is not part of a power phrase.",
    "9.9.9V dc": "`9.9.9V` is no voltage",
    "9000V dc": "beyond anything",
    "": "does not say volts",
    "9V " * 100: "is too long",
}


@pytest.mark.parametrize(("text", "said"), REFUSED.items(), ids=[text[:40] for text in REFUSED])
def test_what_cannot_be_read_is_explained(text, said):
    with pytest.raises(Unreadable) as error:
        read_power(text)
    assert said in error.value.message


def test_what_a_large_board_really_has_is_no_slip():
    assert read_power("24V dc centre-positive 12A", gives=True).current.value == 12
    assert read_power("48V dc centre-positive 2A").volts.value == 48
    assert read_power("9V dc centre-negative 5A").current.value == 5
    with pytest.raises(Unreadable, match="more than one outlet gives"):
        read_power("9V dc centre-negative 300A", gives=True)


@pytest.mark.parametrize("text", ["9V dc 100mA", "9V 100mA", "9V dc polarity-unknown 100mA", "9V dc 5.5x2.1 100mA"])
def test_an_outlet_must_say_which_way_round_its_plug_is(text):
    with pytest.raises(Unreadable, match="which way round"):
        read_power(text, gives=True)


@pytest.mark.parametrize("text", ["9V ac 100mA", "9V dc snap 500mA", "5V dc usb-a 2A", "unknown"])
def test_an_outlet_whose_plug_has_no_centre_need_not(text):
    read_power(text, gives=True)


WORDS = ["9V", "9", "V", "dc", "ac", "centre", "center", "negative", "positive", "-", "(-)", "45mA", "45", "mA", "to", "18V", "5.5", "x", "2.1mm", "mini", "4", "pin", "max",
         "~", "<", "about", "measured", "unknown", "polarity-unknown", "battery", ",", ";", "/", "snap", "usb-c", "⎓", "×", "none"]  # fmt: skip


@given(st.one_of(st.text(max_size=40), st.lists(st.sampled_from(WORDS), max_size=8).map(" ".join), st.lists(st.sampled_from(WORDS), max_size=8).map("".join)), st.booleans())
def test_no_text_raises_anything_but_unreadable(text, gives):
    try:
        found = read_power(text, gives)
    except Unreadable as error:
        assert error.message.endswith((".", "?"))
    else:
        assert found.polarity is None or found.flow in (Flow.DC, Flow.EITHER)


@given(
    st.integers(10, 480), st.integers(0, 120), st.sampled_from([None, *Flow]), st.sampled_from([None, *Polarity]), st.integers(1, 9000), st.sampled_from([None, *PLUGS]),
)  # fmt: skip
def test_what_a_phrase_tells_reads_back(tenths, more, flow, polarity, milliamps, plug):
    if flow is Flow.AC:
        polarity = None
    milliamps = int(float(f"{milliamps:.3g}"))  # figures are told to three digits
    volts = f"{tenths / 10:g}-{(tenths + more) / 10:g}V" if more else f"{tenths / 10:g}V"
    phrase = read_power(" ".join(str(each) for each in (volts, flow, polarity, f"{milliamps}mA", plug) if each))
    assert read_power(str(phrase)) == phrase
