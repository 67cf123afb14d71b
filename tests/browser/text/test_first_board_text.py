"""The first-board form writes a text that says what was filled in, and nothing that was not."""

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardwright.spec.figure import tell
from boardwright.spec.read import read

MAYBE = st.sampled_from(["", "", "9", "18", "9,6", "12.5"])
WAYS = st.sampled_from(["", "centre-negative", "centre-negative", "centre-positive", "ac"])
MILLIAMPS = st.sampled_from(["", "5", "100", "0.5", "300"])
# What this Python's tables do not know yet, Node may already take for a letter.
KNOWN = st.characters(exclude_categories=["Cs", "Cn"])
NAMES = st.one_of(st.sampled_from(["", "tuner", "Tuner", "guitar", "supply", "The Big Echo!", "écho", "  ", "{x: 1}", "a: b # c", "\U0001f3b8", "true", "0", "x\x07"]), st.text(KNOWN, max_size=40))
LABEL = {"volts": MAYBE, "way": WAYS, "milliamps": MILLIAMPS}
ANSWERS = st.fixed_dictionaries(
    {
        "name": NAMES,
        "purpose": st.sampled_from(["", "home", "tour"]),
        "country": st.sampled_from(["", "de", "IE", "NO"]),
        "pickups": st.sampled_from(["", "humbucker"]),
        "lead": st.sampled_from(["", "3", "4,5"]),
        "power": st.sampled_from(["outlets", "chain", "batteries"]),
        "isolated": st.sampled_from(["", "yes", "no"]),
        "supplyClass": st.sampled_from(["", "I", "II"]),
        "outlets": st.lists(st.fixed_dictionaries(LABEL), min_size=1, max_size=4),
        "pedals": st.lists(
            st.fixed_dictionaries({**LABEL, "name": NAMES, "kind": st.sampled_from(["", "delay", "tuner", "fuzz"]), "outlet": st.sampled_from(["", "1", "2", "9", "battery", "none"])}),
            max_size=5,
        ),
        "amp": st.fixed_dictionaries({"name": NAMES, "kind": st.sampled_from(["", "valve"]), "class": st.sampled_from(["", "I"])}),
    }
)


@pytest.fixture(scope="module")
def written(run_node):
    """A hundred filled-in forms and their texts: one run of Node for all."""
    forms = []

    @given(ANSWERS)
    @settings(max_examples=150, database=None, deadline=None)
    def gather(form):
        forms.append(form)

    gather()
    return list(zip(forms, run_node(*(("first_board_text", "boardText", form) for form in forms)), strict=True))


def milli(text):
    return float(text.replace(",", ".")) / 1000


def test_every_form_makes_a_board_that_can_be_read(written):
    for form, text in written:
        # ac has no polarity and an outlet without one says nothing, so no phrase can be refused
        assert not read(text).problems, (form, text, read(text).problems)


def test_it_says_what_was_filled_in(written):
    for form, text in written:
        spec = read(text)
        seen = "".join(each for each in form["name"] if not (unicodedata.category(each).startswith("C") or unicodedata.category(each) in ("Zl", "Zp"))).strip()
        assert spec.board.name == (seen or "My first board")
        assert spec.board.for_ == (form["purpose"] or "unknown")
        assert (spec.place.country if spec.place else None) == ([form["country"].upper()] if form["country"] else None)
        assert len(spec.pedals) == len(form["pedals"])
        chain = [jack.thing for jack in spec.audio[0].path[0]]
        assert chain == ["guitar", *spec.pedals, *spec.amps]
        for said, pedal in zip(form["pedals"], spec.pedals.values(), strict=True):
            assert pedal.kind == (said["kind"] or "unknown")
            if said["outlet"] == "none":
                assert pedal.needs == "none" and not pedal.feed
                continue
            assert (tell(pedal.needs.volts.value, "V") if said["volts"] else None) == (tell(milli(said["volts"]) * 1000, "V") if said["volts"] else None)
            assert pedal.needs.current.known == bool(said["milliamps"])
            if said["milliamps"]:
                assert pedal.needs.current.value == pytest.approx(milli(said["milliamps"]))
            assert str(pedal.needs.polarity or "") == (said["way"] if said["way"] != "ac" else "")
        if form["power"] != "batteries":
            (supply,) = spec.supplies.values()
            assert len(supply.outlets) == (1 if form["power"] == "chain" else len(form["outlets"]))


def test_a_whole_board_from_the_form(run_node):
    nine = {"volts": "9", "way": "centre-negative"}
    form = {
        "name": "Kitchen board", "purpose": "home", "country": "ie", "pickups": "humbucker", "lead": "3",
        "power": "outlets", "isolated": "yes", "supplyClass": "II",
        "outlets": [{**nine, "milliamps": "100"}, {**nine, "milliamps": "300"}],
        "pedals": [
            {**nine, "name": "Tuner", "kind": "tuner", "milliamps": "40", "outlet": "1"},
            {**nine, "name": "", "kind": "overdrive", "milliamps": "6", "outlet": "1"},
            {**nine, "name": "Long echo", "kind": "delay", "milliamps": "150", "outlet": "2"},
        ],
        "amp": {"name": "", "kind": "valve", "class": "I"},
    }  # fmt: skip
    assert run_node(("first_board_text", "boardText", form))[0] == (
        "board: {name: Kitchen board, for: home}\n"
        'place: {country: "IE"}\n'
        "guitar: {pickups: humbucker, lead: 3 m}\n"
        "\n"
        "supplies:\n"
        "  supply:\n"
        "    class: II\n"
        "    isolated: yes\n"
        "    outlets:\n"
        "      1: 9V dc centre-negative 100mA\n"
        "      2: 9V dc centre-negative 300mA\n"
        "\n"
        "# In the order of the sound.\n"
        "pedals:\n"
        "  tuner: {kind: tuner, needs: 9V dc centre-negative 40mA, feed: supply.1}\n"
        "  overdrive: {kind: overdrive, needs: 9V dc centre-negative 6mA, feed: {from: supply.1, after: tuner}}\n"
        "  long_echo: {kind: delay, needs: 9V dc centre-negative 150mA, feed: supply.2}\n"
        "\n"
        "amps:\n"
        "  amp: {kind: valve, class: I}\n"
        "\n"
        "audio:\n"
        "  - guitar > tuner > overdrive > long_echo > amp\n"
    )
