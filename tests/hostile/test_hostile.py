"""Whatever is pasted into the checker, it answers: in words, without a traceback, and in seconds."""

from __future__ import annotations

import json
import random
import time
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import boardwright
from board_texts import as_text, power_boards
from boardwright.board.assemble import assemble
from boardwright.browser import answer
from boardwright.report.json import to_json
from boardwright.report.power_map import power_map
from boardwright.report.report import build
from boardwright.report.text import to_text
from boardwright.rules.registry import RULES
from boardwright.rules.run import run
from boardwright.spec.parse import MAX_ALIASED, MAX_DEPTH
from boardwright.spec.read import MOST_AMPS, MOST_THINGS, read
from boardwright.spec.text import MAX_BYTES, MAX_SECTIONS
from parity import whole_boards

SIZE = 1_000_000
PART = 250_000
"""For what is read in time that grows with the size: a quarter says as much."""
SECONDS = 8
"""Of processor time: two are the aim on an idle machine; the rest is for slow and busy ones. A hang is minutes."""


def filled(piece: str, size: int = SIZE) -> str:
    return (piece * (size // len(piece) + 1))[:size]


def pedals(count: int, line) -> str:
    return "pedals:\n" + "".join(f"  p{n}: {line(n)}\n" for n in range(count))


def answered(text: str) -> dict:
    began = time.process_time()
    said = json.loads(answer(text))
    assert time.process_time() - began < SECONDS
    assert said["headline"]
    return said


BIG = {
    "opening brackets": "[" * SIZE,
    "opening braces": "{" * SIZE,
    "brackets in a section": "pedals: " + "[" * (SIZE - 10),
    "quotation marks": '"' * SIZE,
    "a quotation mark that stays open": 'board: {name: "' + "x" * (SIZE - 20),
    "apostrophes": "'" * SIZE,
    "a name of a megabyte": "x" * (SIZE - 4) + ": 1",
    "a pedal's name of a megabyte": "pedals: {" + "x" * (SIZE - 40) + ": {kind: fuzz}}",
    "a key of a megabyte": "pedals: {a: {" + "x" * (SIZE - 40) + ": 1}}",
    "a word of a megabyte": "pedals: {a: {kind: " + "x" * (SIZE - 40) + "}}",
    "a number of a megabyte": "pedals: {a: {start: " + "1" * (SIZE - 40) + " mA}}",
    "a phrase of a megabyte": "pedals: {a: {needs: " + filled("9V ", SIZE - 40) + "}}",
    "a title of a megabyte": "board: {name: " + filled("x ", SIZE - 40) + "}",
    "a chain of a megabyte": "audio: [" + filled("a > ", SIZE - 40) + "b]",
    "a chain of a megabyte, with other arrows": "audio: [" + filled("a → ", SIZE // 2) + "b]",
    "an arrow without a head": "audio: [guitar " + "-" * (SIZE - 40) + "]",
    "a jack of spaces": "audio: [guitar > a" + " " * (SIZE // 4) + "!]",
    "one name again and again": filled("a: b\n"),
    "one pedal again and again": "pedals:\n" + filled("  a: {kind: fuzz}\n", PART),
    "many sections": "".join(f"s{n}: 1\n" for n in range(40_000)),
    "many wrong keys": "pedals: {a: {" + ", ".join(f"k{n}: 1" for n in range(20_000)) + "}}",
    "many wrong values": pedals(1_000, lambda n: f"{{kind: zz{n}, needs: 9, gain: {n}}}"),
    "many open brackets": pedals(6_000, lambda n: "{kind: fuzz"),
    "many open quotation marks": pedals(6_000, lambda n: '"x'),
    "many feeds of one pedal": "pedals: {p: {feed: [" + ", ".join(["b.1"] * 30_000) + "]}}",
    "many accepts": "accept: [" + ", ".join(f"{{rule: foo-{n}, because: x}}" for n in range(6_000)) + "]",
    "many steps": "steps:\n" + "".join(f"  - {{do: place, row: {n % 20 + 1}}}\n" for n in range(10_000)),
    "many readings": "audio: [guitar > a > combo]\nreadings:\n" + "  - {where: [board, combo], what: ohms, got: 0.2 ohm}\n" * 4_000,
    "a list for a section": "pedals:\n" + filled("- a\n", PART),
    "a long list": "x: [" + filled("a,", PART) + "]",
    "an essay": filled("hello world\n"),
    "a comment": "#" * SIZE,
    "comments": filled("# c\n"),
    "spaces": " " * SIZE,
    "line ends": "\n" * SIZE,
    "tabs": "\t" * SIZE,
    "lines indented by tabs": "pedals:\n" + filled("\ta: {kind: fuzz}\n", PART),
    "colons": filled(": "),
    "dashes": filled("- "),
    "question marks": filled("? "),
    "document marks": filled("---\n"),
    "directives": filled("%a\n"),
    "a block scalar": "a: |\n" + filled("  x\n", PART),
    "anchors": filled("a: &x b\n"),
    "an anchor in a large board": "pedals:\n  z: &z {kind: fuzz}\n" + "".join(f"  p{n}: {{kind: fuzz}}\n" for n in range(12_000)),
    "nul": "\0" * SIZE,
    "rubbish": bytes(random.Random(1).randrange(256) for _ in range(200_000)).decode("latin1"),
}


@pytest.mark.parametrize("text", BIG.values(), ids=BIG)
def test_a_great_deal_of_anything_is_answered(text):
    said = answered(text)
    assert len(said["problems"]) <= 201
    assert all(len(problem["message"]) < 500 for problem in said["problems"])


STRANGE = {
    "nul": "pedals:\n  a: {kind: \0}\n",
    "half a character": "pedals: {a: {kind: \ud800}}",
    "half a character, escaped": 'board: {name: "\\ud800 x"}',
    "an escape beyond Unicode": 'board: {name: "\\UFFFFFFFF"}',
    "a lonely question mark": "?",
    "a broken escape": 'board: {name: "\\q"}',
    "a version of a thousand digits": "%YAML " + "1" * 5000 + ".1\n---\na: 1",
    "a version from the future": "%YAML 9.9\n---\nboard: {name: x}\n",
    "a directive without end": "%TAG ! x\n---\na: !foo b",
    "a tag that runs code elsewhere": "pedals: !!python/object/apply:os.system [echo]\n",
    "not a number": "pedals: {a: {needs: .nan, start: nan, gain: inf dB, noise: .inf}}",
    "numbers without end": "pedals: {a: {start: 1e999 A, gain: 99999999999999999999 dB, noise: 1e-999 A, clock: 0x10}}",
    "an alias for itself": "a: &a [*a]",
    "an alias for a name": "a: &a x\nb: {*a : 1}\nc: {? *a : 2}",
    "an alias for a name that is a mapping": "a: &a {x: 1}\nb: {*a : 1}",
    "an alias for nothing": "b: {*a : *c, <<: *d}",
    "a merge of a word": "pedals: {r: {<<: x}, s: {<<: [x, {kind: fuzz}]}}",
    "a list for a name": "? [a, b]\n: c\n",
    "an empty name": '"": {x: 1}\npedals: {"": {kind: fuzz}, ? : {kind: fuzz}}\n',
    "right to left": "pedals: {שלום: {kind: fuzz}, \u202egfb: {kind: fuzz}}\naudio: [guitar > שלום]\n",
    "letters that combine": "pedals: {a\u0301\u0301: {kind: fuzz}, e\u0300: {kind: wah, needs: 9V\u0301}}",
    "digits of another script": "pedals: {a: {start: ٤٥ mA, gain: ３ dB}}",
    "a second byte order mark": "\ufeff\ufeffpedals: {a: {kind: fuzz}}",
    "UTF-16 taken for something else": "pedals:\n  a: {kind: fuzz}\n".encode("utf-16").decode("latin1"),
    "old line ends": "pedals:\x85  a: {kind: fuzz}\u2028  b: {kind: wah}\u2029",
    "a script": "board: {name: <script>alert(1)</script>}\npedals: {a: {kind: <img src=x onerror=alert(1)>}}\n",
    "a page of JSON": json.dumps({"pedals": {f"p{n}": {"kind": "fuzz", "size": [1, 2, 3]} for n in range(50)}}, indent=4),
    "everything as a list": "[board, pedals, supplies]",
    "a number": "42",
    "numbers for names": "1: 2\n3: {4: 5}\n",
    "supplies upside down": "supplies: [1, {a: 2}, [3]]\npedals: [[[]]]\naudio: {a: b}\naccept: {a: b}\nboard: []\nguitar: [x]\n",
}


@pytest.mark.parametrize("text", STRANGE.values(), ids=STRANGE)
def test_strange_texts_are_answered(text):
    for drawing in answered(text)["drawings"].values():
        names = {element.tag.rpartition("}")[2] for element in ElementTree.fromstring(drawing).iter()}
        assert not names & {"script", "img", "a", "foreignObject"}


@pytest.mark.parametrize("text", STRANGE.values(), ids=STRANGE)
def test_the_command_line_says_the_same(text):
    report = boardwright.check(text)
    said = answered(text)
    assert to_text(report) and report.headline == said["headline"]
    if max(text, default="") <= "\uffff":  # beyond, columns are counted otherwise
        assert json.loads(to_json(report)) == {key: value for key, value in said.items() if key != "drawings"}


# --- bounds ----------------------------------------------------------------------------------------------------------


def test_a_megabyte_is_the_most():
    (problem,) = read("# " + "x" * (MAX_BYTES - 1)).problems
    assert problem.kind == "bound" and "longer than 1 MB" in problem.message
    assert not read("# " + "x" * (MAX_BYTES - 2)).problems
    assert read("# " + "é" * (MAX_BYTES // 2)).problems, "bytes count, not characters"


def test_nesting_has_a_bottom():
    deep = "x: " + "[" * (MAX_DEPTH - 1) + "]" * (MAX_DEPTH - 1)
    assert not any(problem.kind == "bound" for problem in read(deep).problems)
    deeper = "x: " + "[" * MAX_DEPTH + "]" * MAX_DEPTH
    bounds = [problem for problem in read(deeper).problems if problem.kind == "bound"]
    assert [problem.message for problem in bounds] == [f"More than {MAX_DEPTH} brackets or levels inside each other: no board needs that."]
    assert bounds[0].span.column == len("x: ") + MAX_DEPTH
    blocks = "".join(f"{' ' * level}a:\n" for level in range(MAX_DEPTH + 5)) + " " * (MAX_DEPTH + 5) + "a: 1\n"
    assert any(problem.kind == "bound" for problem in read(blocks).problems)


def test_aliases_unfold_to_a_limit():
    """The "billion laughs" of YAML: nine aliases of nine aliases of nine …"""
    levels = [f"l0: &l0 [{', '.join('x' * 9)}]"] + [f"l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 9)}]" for n in range(1, 10)]
    (problem,) = [problem for problem in read("\n".join(levels)).problems if problem.kind == "bound"]
    assert f"unfold into more than {MAX_ALIASED} values" in problem.message
    few = "a: &a {x: 1}\n" + "\n".join(f"b{n}: *a" for n in range(50))
    assert not any(problem.kind == "bound" for problem in read(few).problems)


def test_sections_and_things_have_a_number_too():
    many = read("".join(f"s{n}: 1\n" for n in range(MAX_SECTIONS + 1)))
    assert any(f"More than {MAX_SECTIONS} sections" in problem.message for problem in many.problems)
    crowd = read(pedals(MOST_THINGS + 10, lambda n: "{kind: fuzz}"))
    (problem,) = crowd.problems
    assert problem.kind == "bound" and len(crowd.pedals) == MOST_THINGS and problem.span.line == MOST_THINGS + 2


def test_amplifiers_have_a_number_of_their_own():
    crowd = read("amps:\n" + "".join(f"  a{n}: {{kind: valve}}\n" for n in range(MOST_AMPS + 1)))
    (problem,) = crowd.problems
    assert problem.kind == "bound" and len(crowd.amps) == MOST_AMPS and problem.span.line == MOST_AMPS + 2
    assert not read("amps:\n" + "".join(f"  a{n}: {{kind: valve}}\n" for n in range(MOST_AMPS))).problems


def test_one_sound_on_very_many_ways_is_answered_without_comparing_them_all():
    names = [f"p{n}" for n in range(300)]
    text = pedals(300, lambda n: "{kind: delay}") + "amps: {amp: {kind: valve}}\naudio:\n" + "".join(f"  - guitar > {name} > amp\n" for name in names)
    said = answered(text)
    (row,) = (row for row in said["coverage"] if row["rule"] == "parallel-latency-comb")
    assert row["cannot_tell"] == 1
    assert any("There are more ways for one sound here" in each["question"] for each in said["undecided"]), "no switch is to blame"


# --- large boards that mean something -----------------------------------------------------------------------------------

POWER = [name for name, rule in RULES.items() if rule.family == "power"]
CROWD = 1_200


def chain(names) -> str:
    return "amps: {amp: {kind: valve}}\naudio:\n  - guitar > " + " > ".join(names) + " > amp\n"


LARGE = {
    "all in one pool": "supplies: {b: {isolated: no, outlets: {1: 9V dc centre-negative 20A}}}\n"
    + pedals(CROWD, lambda n: "{kind: delay, needs: 9V dc centre-negative 5mA, feed: b.1}")
    + chain(f"p{n}" for n in range(CROWD)),
    "all with clocks": "supplies: {b: {isolated: no, outlets: {1: 9V dc centre-negative 20A}}}\n"
    + pedals(CROWD, lambda n: f"{{kind: delay, clock: {100 + n} kHz, needs: 9V dc centre-negative 5mA, feed: b.1}}"),
    "one daisy chain": "supplies: {b: {isolated: no, outlets: {1: 9V dc centre-negative 20A}}}\n"
    + pedals(CROWD, lambda n: f"{{kind: chorus, needs: 9V dc centre-negative 1mA, feed: {{from: b.1, after: p{n - 1}}}}}" if n else "{needs: 9V dc centre-negative 1mA, feed: b.1}"),
    "converters behind converters": "supplies:\n  s0: {isolated: no, outlets: {1: 9V dc centre-negative 1A}}\n"
    + "".join(f"  s{n}: {{needs: 9V dc centre-negative 1A, feed: s{n - 1}.1, outlets: {{1: 9V dc centre-negative 1A}}}}\n" for n in range(1, CROWD)),
    "a ring of supplies": "supplies:\n" + "".join(f"  s{n}: {{needs: 9V ac 1A, feed: s{(n + 1) % CROWD}.1, outlets: {{1: 9V ac 1A}}}}\n" for n in range(CROWD)),
    "every feed lost": "supplies: {b: {isolated: no, outlets: {" + ", ".join(f"o{n}: 9V ac 100mA" for n in range(CROWD)) + "}}}\n"
    + pedals(CROWD, lambda n: f"{{needs: 9V ac 5mA, feed: b.x{n}}}"),
    "every outlet of one supply": "supplies: {b: {isolated: no, outlets: {" + ", ".join(f"{n}: 9V dc centre-negative 100mA" for n in range(4_000)) + "}}}\n",
    "everything joined in series": "supplies: {b: {isolated: yes, outlets: {" + ", ".join(f"{n}: 9V dc centre-negative 1A" for n in range(20)) + "}}}\n"
    + pedals(CROWD // 4, lambda n: "{needs: 9V dc centre-negative 1mA, feed: {mode: series, from: [" + ", ".join(f"b.{n}" for n in range(20)) + "]}}"),
    "each accepted": "supplies: {b: {isolated: no, outlets: {1: 9V dc centre-negative 1mA}}}\n"
    + pedals(CROWD, lambda n: "{kind: chorus, needs: 12V dc centre-negative 5mA, feed: b.1}")
    + "accept: [" + ", ".join(f"{{rule: supply-voltage-outside-range, for: p{n}, because: x}}" for n in range(CROWD)) + "]\n",
}  # fmt: skip


@pytest.mark.parametrize("text", LARGE.values(), ids=LARGE)
def test_a_large_board_is_judged_for_its_power_without_a_hang(text):
    began = time.process_time()
    board = assemble(read(text))
    report = build(board, run(board, POWER))
    assert to_text(report) and power_map(board, report)
    assert time.process_time() - began < 2 * SECONDS
    assert not report.problems


# --- by chance -------------------------------------------------------------------------------------------------------


@given(st.text(max_size=300))
@settings(deadline=None, max_examples=100)
def test_any_text_is_answered(text):
    json.loads(answer(text))


@given(st.lists(st.sampled_from(["pedals:", "supplies:", "audio:", "board:", "accept:", "\n", "\n  ", "\n  - ", " ", "a", "b: ", "{", "}", "[", "]", ",", ": ", "9V dc", "guitar > ",
                                 "&x ", "*x", "<<: ", "|\n", "\"", "'", "#", "unknown", "feed: ", "needs: ", "kind: fuzz", "~", "rule: ", "name: "]), max_size=25).map("".join))  # fmt: skip
@settings(deadline=None, max_examples=100)
def test_any_text_that_nearly_is_a_board_is_answered(text):
    json.loads(answer(text))


@given(power_boards(most=3), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_any_board_with_its_values_mixed_up_is_answered(board, chance):
    """Every value may turn up anywhere: models and rules meet what they never expected."""
    values = ["unknown", "9V dc", "none", "yes", "s.1", "brick.1", "p1", "guitar", "battery", "0 mA", "0V dc", "0 ohm", "0 W", "0 %", "[]", [], {}, [[]], ["p1", "p1"], {"from": "p1"}]

    def mixed(value):
        if chance.random() < 0.08:
            return chance.choice(values)
        if isinstance(value, dict):
            return {key: mixed(each) for key, each in value.items()}
        return [mixed(each) for each in value] if isinstance(value, list) else value

    json.loads(answer(as_text(mixed(board))))


@pytest.mark.parametrize("text", [text for _, text in whole_boards()][:4], ids=[name for name, _ in whole_boards()][:4])
def test_a_board_cut_off_anywhere_is_answered(text):
    chance = random.Random(5)
    for place in chance.sample(range(len(text)), 8):
        json.loads(answer(text[:place]))
