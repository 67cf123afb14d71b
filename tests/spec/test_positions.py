"""Every value and every name knows where it stands, however the text is written."""

from __future__ import annotations

import pytest

from boardwright.spec.read import read
from boardwright.spec.text import read_text

NEEDS = ("pedals", "echo", "needs")
PHRASE = "9V dc centre-negative 45mA"


def cut(text: str, span) -> str:
    """What a span covers; with the end of a line where it covers several."""
    lines = text.removeprefix("\ufeff").splitlines()
    if span.line == span.end_line:
        return lines[span.line - 1][span.column - 1 : span.end_column - 1]
    return "\n".join([lines[span.line - 1][span.column - 1 :], *lines[span.line : span.end_line - 1], lines[span.end_line - 1][: span.end_column - 1]])


VALUES = {
    "block": (f"pedals:\n  echo:\n    needs: {PHRASE}\n", PHRASE),
    "brackets": (f"pedals: {{echo: {{kind: delay, needs: {PHRASE}}}}}\n", PHRASE),
    "brackets over lines": (f"pedals: {{\n  echo: {{\n    kind: delay,\n    needs: {PHRASE},\n  }},\n}}\n", PHRASE),
    "brackets in an entry": (f"pedals:\n  drive: {{kind: boost}}\n  echo: {{kind: delay, needs: {PHRASE}}} # last\n", PHRASE),
    "brackets below their name": (f"pedals:\n  echo:\n    {{kind: delay,\n     needs: {PHRASE}}}\n", PHRASE),
    "single quotes": (f"pedals:\n  echo: {{needs: '{PHRASE}'}}\n", f"'{PHRASE}'"),
    "double quotes": (f'pedals:\n  echo:\n    needs: "{PHRASE}"\n', f'"{PHRASE}"'),
    "an escape before it on the line": ('pedals:\n  echo: {kind: "d\\u0065lay", needs: 9V dc}\n', "9V dc"),
    "an escape in it": ('pedals:\n  echo: {needs: "9V\\u0020dc"}\n', '"9V\\u0020dc"'),
    "JSON": (f'{{\n  "pedals": {{\n    "echo": {{\n      "needs": "{PHRASE}"\n    }}\n  }}\n}}\n', f'"{PHRASE}"'),
    "JSON on one line": (f'{{"pedals":{{"echo":{{"kind":"delay","needs":"{PHRASE}"}}}}}}', f'"{PHRASE}"'),
    "JSON indented by tabs": ('{\n\t"pedals": {\n\t\t"echo": {"needs": "9V dc"}\n\t}\n}\n', '"9V dc"'),
    "Windows line ends": (f"pedals:\r\n  echo:\r\n    kind: delay\r\n    needs: {PHRASE}\r\n", PHRASE),
    "old Macintosh line ends": (f"pedals:\r  echo:\r    needs: {PHRASE}\r", PHRASE),
    "byte order mark": (f"\ufeffpedals:\n  echo: {{needs: {PHRASE}}}\n", PHRASE),
    "no line end at the end": (f"pedals:\n  echo:\n    needs: {PHRASE}", PHRASE),
    "a comment after it": (f"pedals:\n  echo:\n    needs: {PHRASE}   # off the label\n", PHRASE),
    "comments around it": (f"# my board\npedals: # all\n  # one\n  echo: # two\n\n    # three\n    needs: {PHRASE}\n# four\n", PHRASE),
    "another script before it": (f"board: {{name: Дошка з ехом}}\npedals: {{луна: {{kind: boost}}, echo: {{needs: {PHRASE}}}}}\n", PHRASE),
    "beyond the 16-bit plane before it": (f"pedals: {{🎸🎸: {{kind: boost}}, echo: {{needs: {PHRASE}}}}}\n", PHRASE),
    "a document mark first": (f"# hello\n---\npedals:\n  echo: {{needs: {PHRASE}}}\n", PHRASE),
    "the whole board indented": (f"  pedals:\n    echo: {{needs: {PHRASE}}}\n", PHRASE),
    "another name for the section": (f"devices:\n  echo: {{needs: {PHRASE}}}\n", PHRASE),
    "capitals in names": (f"Pedals:\n  echo: {{Needs: {PHRASE}}}\n", PHRASE),
    "block scalar": ("pedals:\n  echo:\n    kind: delay\n    needs: |\n      9V dc\n      centre-negative\n  other: {kind: boost}\n", "|\n      9V dc\n      centre-negative"),
    "folded scalar": ("pedals:\n  echo:\n    needs: >-\n      9V dc\n      45mA\n", ">-\n      9V dc\n      45mA"),
    "a scalar over two lines": ("pedals:\n  echo:\n    needs: 9V dc\n      centre-negative 45mA\n    kind: delay\n", "9V dc\n      centre-negative 45mA"),
    "anchor": (f"pedals:\n  drive: {{needs: &nine {PHRASE}}}\n  echo: {{kind: delay, needs: *nine}}\n", f"&nine {PHRASE}"),
    "merge key": (f"pedals:\n  drive: &all {{kind: boost, needs: {PHRASE}}}\n  echo: {{<<: *all, kind: delay}}\n", PHRASE),
    "a value that is missing": ("pedals:\n  echo: {kind: delay}\n", "echo"),
    "an entry that is missing": ("pedals:\n  drive: {kind: boost}\n", "pedals"),
}


@pytest.mark.parametrize(("text", "shown"), VALUES.values(), ids=VALUES)
def test_a_value_is_shown_where_it_stands(text, shown):
    spec = read(text)
    assert cut(text, spec.locate(NEEDS)) == shown


def test_nothing_is_known_of_a_section_that_is_not_there():
    assert read("board: {name: Bare}\n").locate(NEEDS) is None


@pytest.mark.parametrize(
    ("text", "path", "shown"),
    [
        ("pedals:\n  echo: {kind: delay}\n", ("pedals", "echo"), "echo"),
        ("audio:\n  - guitar > echo\n  - {path: echo > combo, lead: 6 m}\n", ("audio", 1), "{path: echo > combo, lead: 6 m}"),
        ("audio:\n- guitar > echo\n- path: echo > combo\n  lead: 6 m\n", ("audio", 1), "path: echo > combo\n  lead: 6 m"),
        ("audio:\n- guitar > echo\n- path: echo > combo\n  lead: 6 m\n", ("audio", 1, "lead"), "6 m"),
        ("pedals:\n  echo: {size: [70, 120, 55]}\n", ("pedals", "echo", "size", 1), "120"),
        ("supplies:\n  s:\n    outlets:\n      1: 9V dc centre-negative 1A\n", ("supplies", "s", "outlets", "1"), "9V dc centre-negative 1A"),
        ("audio: guitar > combo\n", ("audio", 0), "guitar > combo"),
    ],
)
def test_things_are_shown_by_their_names_and_list_entries_by_themselves(text, path, shown):
    spec = read(text)
    assert not spec.problems
    assert cut(text, spec.locate(path)) == shown


def test_a_name_can_be_asked_for_instead_of_its_value():
    text = 'pedals:\n  echo: {kind: delay, "needs": 9V dc}\n'
    assert cut(text, read_text(text).locate(NEEDS, by_name=True)) == '"needs"'


TWICE = {
    "in brackets": ("pedals:\n  a: {kind: fuzz}\n  b: {kind: fuzz, gain: 3 dB,\n    kind: boost}\n", 4, "kind", 3),
    "in a block": ("board: {for: home}\npedals:\n  b:\n    kind: fuzz\n    kind: boost\n", 5, "kind", 4),
    "entries": ("pedals:\n  b: {kind: fuzz}\n  c: {kind: fuzz}\n  b: {kind: boost}\n", 4, "b", 2),
    "sections": ("pedals: {b: {kind: fuzz}}\nboard: {for: home}\npedals: {c: {kind: boost}}\n", 3, "pedals", 1),
    "in JSON": ('{"pedals": {\n  "b": {"kind": "fuzz"},\n  "b": {"kind": "boost"}}}', 3, '"b"', 2),
    "with anchors about": ("pedals:\n  a: &x {kind: fuzz}\n  b: *x\n  b: {kind: boost}\n", 4, "b", 3),
}


@pytest.mark.parametrize(("text", "line", "shown", "first"), TWICE.values(), ids=TWICE)
def test_a_name_written_twice_is_shown_at_the_second_and_the_first_is_named(text, line, shown, first):
    spec = read(text)
    (problem,) = spec.problems
    assert problem.kind == "key" and f"first at line {first}." in problem.message
    assert problem.span.line == line and cut(text, problem.span) == shown
    assert all(pedal.kind == "fuzz" for pedal in spec.pedals.values()), "the first is read"


def test_what_is_merged_in_stands_below_what_is_written_in_the_place_itself():
    spec = read("pedals:\n  drive: &all {kind: boost, needs: 9V dc centre-negative 5mA}\n  echo: {kind: delay, <<: *all}\n")
    assert not spec.problems
    assert spec.pedals["echo"].kind == "delay" and str(spec.pedals["echo"].needs) == "9 V dc centre-negative 5 mA"


def test_yaml_guesses_nothing():
    spec = read('place: {country: NO}\npedals: {a: {kind: fuzz, digital: no}, b: {kind: di, ratio: 1:1}}\nsupplies: {s: {outlets: {1: 9V ac 1e3 mA}}}\n')
    assert spec.place.country == ["NO"] and spec.pedals["a"].digital == "no"
