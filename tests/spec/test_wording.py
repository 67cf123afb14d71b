"""What people really type wrong, and what they are told: the words, what may stand there instead, and the place."""

from __future__ import annotations

import pytest

from boardwright.spec.language import SECTIONS
from boardwright.spec.read import read

PEDALS = {
    # the power label
    'needs: 9': [
        (2, 17, "`9` has no units: volts, dc or ac, the plug's polarity and the current are due.", 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9V dc centre-negative 100': [
        (2, 17, '`100` in `9V dc centre-negative 100` has no unit. Did you mean `100mA`?', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9V dc negative 100mA': [
        (2, 17, '`negative` in `9V dc negative 100mA` does not say what is inside the plug: `centre-negative` or `centre-positive`?', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9VDC 100mA (-)': [
        (2, 17, '`(-)` in `9VDC 100mA (-)` does not say what is inside the plug: `centre-negative` or `centre-positive`?', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9,6V dc centre-negative 100mA': [
        (2, 17, "`9` has no units: volts, dc or ac, the plug's polarity and the current are due.", 'a phrase such as `9V dc centre-negative 45mA`'),
        (2, 19, '`6V dc centre-negative 100mA` has no `:`. Inside `{ }` each comma starts a new `name: value`; put a text with commas in quotes.', None),
    ],
    "needs: '9,6V dc centre-negative 100mA'": [
        (2, 17, '`9,6V` has a comma in the number: write a point.', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9V/18V dc centre-negative': [
        (2, 17, '`9V/18V` names two voltages: write a range such as `9-18V`, or the one that is set.', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: [9V, dc]': [
        (2, 10, '`pedals.echo.needs`: A single value is due here, not a list.', 'such as `9V dc centre-negative 45mA` or `none` or `unknown`'),
    ],
    'needs: {volts: 9}': [
        (2, 10, '`pedals.echo.needs`: A single value is due here, not lines of `name: value`.', 'such as `9V dc centre-negative 45mA` or `none` or `unknown`'),
    ],
    'needs: battery': [
        (2, 17, 'A battery is where power comes from: write `feed: battery`, and here what the label asks for.', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: ': [
        (2, 10, '`needs` is empty.', 'a value, or `unknown`'),
    ],
    'needs: ~': [
        (2, 10, '`needs` is empty.', 'a value, or `unknown`'),
    ],
    'needs: 9V dc centre-negative 2000mAh': [
        (2, 17, '`2000mAh` is how much a battery holds; the current is due, such as `45mA`.', 'a phrase such as `9V dc centre-negative 45mA`'),
    ],
    'needs: 9V loud': [
        (2, 17, '`loud` in `9V loud` is not part of a power phrase.', 'a phrase such as `9V dc centre-negative 45mA`; plugs are 5.5x2.1, 5.5x2.5, 3.5-mini, snap, usb-a, usb-c, din, 4-pin, iec'),
    ],
    # the feed
    'feed: brick 3': [
        (2, 16, '`brick 3` is no name. Did you mean `brick.3`?', '`thing` or `thing.jack`'),
    ],
    'feed: brick:3': [
        (2, 16, '`brick:3` is no name. Did you mean `brick.3`?', '`thing` or `thing.jack`'),
    ],
    "feed: 'brick #3'": [
        (2, 16, '`brick #3` is no name. Did you mean `brick.3`?', '`thing` or `thing.jack`'),
    ],
    'feed: brick #3': [
        (2, 9, 'This `{` is never closed: what follows a ` #` is a comment.', None),
    ],
    'feed: brick outlet 3': [
        (2, 16, '`brick outlet 3` is no name. Did you mean `brick.3`?', '`thing` or `thing.jack`'),
    ],
    'feed: brick.': [
        (2, 16, '`brick.` ends in a point.', '`thing` or `thing.jack`'),
    ],
    'feed: {form: brick.1}': [
        (2, 17, '`form` is not a key that is known here. Did you mean `from`?', '`after`, `from`, `lead`, `leads` or `mode`'),
    ],
    'feed: {from: brick.1, lead: 60}': [
        (2, 38, '`60` has no unit. Did you mean `60 mm`?', 'a length with its unit, such as `600 mm`'),
    ],
    'feed: {from: brick.1, lead: {length: 60 cm, gauge: 24}}': [
        (2, 61, '`24` is no wire size.', 'such as `24 AWG` or `0.5 mm²`'),
    ],
    # the rest of a pedal
    'kind: gate': [
        (2, 16, '`gate` cannot stand here. Did you mean `noise-gate`?', ...),
    ],
    'kind: eq': [
        (2, 16, '`eq` cannot stand here. Did you mean `equaliser`?', ...),
    ],
    'kind: analog delay': [
        (2, 16, '`analog delay` cannot stand here. Did you mean `delay`?', ...),
    ],
    'kind: zither': [
        (2, 16, '`zither` cannot stand here. Did you mean `other`?', ...),
    ],
    'digital: maybe': [
        (2, 19, '`maybe` is neither yes nor no.', '`yes`, `no` or `unknown`'),
    ],
    'digital: 1': [
        (2, 19, '`1` is neither yes nor no.', '`yes`, `no` or `unknown`'),
    ],
    'digitl: yes': [
        (2, 10, '`digitl` is not a key that is known here. Did you mean `digital`?', None),
    ],
    'size: 70x120x55': [
        (2, 16, '`70x120x55` cannot stand here: a list is due.', 'such as `[70, 120, 55]`'),
    ],
    'size: 70, 120, 55': [
        (2, 16, '`70` cannot stand here: a list is due.', 'such as `[first, second, …]`'),
        (2, 20, '`120` has no `:`. Inside `{ }` each comma starts a new `name: value`; put a text with commas in quotes.', None),
        (2, 25, '`55` has no `:`. Inside `{ }` each comma starts a new `name: value`; put a text with commas in quotes.', None),
    ],
    'size: [70, 120]': [
        (2, 10, 'This list has 2 values; 3 are due.', 'Width, depth and height'),
    ],
    'size: [70, 120, tall]': [
        (2, 26, '`tall` is no size.', 'a size in millimetres, such as `120`'),
    ],
    'gain: 20': [
        (2, 16, '`20` has no unit. Did you mean `20 dB`?', 'a gain with its unit, such as `12 dB`'),
    ],
    'gain: [0, 20]': [
        (2, 10, '`pedals.echo.gain`: A single value is due here, not a list.', 'such as `12 dB`'),
    ],
    'clock: 95': [
        (2, 17, '`95` has no unit. Did you mean `95 kHz`?', 'a frequency with its unit, such as `120 kHz`'),
    ],
    'start: 100mAh': [
        (2, 17, 'A current is due here. `100 mAh` is how much a battery holds.', 'a current with its unit, such as `45 mA`'),
    ],
    'start: 9V': [
        (2, 17, 'A current is due here. `9 V` is a voltage.', 'a current with its unit, such as `45 mA`'),
    ],
}
WHOLE = {
    # names and shapes
    'pedals:\n  tape echo: {kind: delay}\n': [
        (2, 3, '`tape echo` cannot be a name. Did you mean `tape_echo`?', 'letters, digits, `_` and `-`, such as `tape_echo`'),
    ],
    'pedals:\n  tape.echo: {kind: delay}\n': [
        (2, 3, '`tape.echo` cannot be a name. Did you mean `tape_echo`?', 'letters, digits, `_` and `-`, such as `tape_echo`'),
    ],
    'pedals:\n  echo:{kind: delay}\n': [
        (2, 3, 'After `echo` a colon and a space are due.', 'such as `echo: {…}`'),
    ],
    'pedals:\n  echo {kind: delay}\n': [
        (2, 3, 'After `echo` a colon and a space are due.', 'such as `echo: {…}`'),
    ],
    'pedals:\n  echo: delay\n': [
        (2, 9, '`delay` cannot stand here: lines of `name: value` are due.', '`echo: {kind: delay}`'),
    ],
    'pedals:\n  - {kind: delay}\n': [
        (1, 1, '`pedals` holds a list.', 'a line `name: …` for each thing'),
    ],
    'pedals:\n  - a: {kind: fuzz}\n  b: {kind: wah}\n': [
        (1, 1, '`pedals` holds a list.', 'a line `name: …` for each thing'),
        (3, 3, 'A `name:` line stands in a list of `- ` lines. Give it a section of its own, or a dash.', None),
    ],
    'pedals:\n  a: {kind: fuzz}\n  - b\n': [
        (3, 3, 'A `- ` line stands among `name:` lines. Give it a name, or a section of its own.', None),
    ],
    'pedals: echo\n': [
        (1, 9, '`pedals` holds `echo`.', 'a line `name: …` for each thing'),
    ],
    'pedals:\n': [
        (1, 1, '`pedals` is empty.', 'a value, or `unknown`'),
    ],
    'pedals:\n  echo:\n': [
        (2, 3, '`echo` is empty.', 'a value, or `unknown`'),
    ],
    'pedals:\n  echo: {kind delay}\n': [
        (2, 10, '`kind delay` has no `:`. Did you mean `kind: delay`?', None),
    ],
    'pedals:\n  guitar: {kind: fuzz}\n': [
        (2, 3, '`guitar` has a meaning of its own: the guitar itself. Give this one another name.', None),
    ],
    'pedals: {echo: {kind: delay}}\namps: {echo: {kind: valve}}\n': [
        (2, 8, '`echo` is already the name of something under `pedals`, at line 1. Give this one a name of its own.', None),
    ],
    'pedals: {a: {kind: fuzz}}\ndevices: {b: {kind: wah}}\n': [
        (2, 1, '`devices` is another name for `pedals`, which already stands above. Put them together.', None),
    ],
    'pedals:\n  echo: {kind: delay}\n  echo: {kind: reverb}\n': [
        (3, 3, '`echo` is written twice, first at line 2. Only the first is read: rename or remove this one.', None),
    ],
    'pedal: {echo: {kind: delay}}\n': [
        (1, 1, '`pedal` is not a key that is known here. Did you mean `pedals`?', ...),
    ],
    'foo: {}\n': [
        (1, 1, '`foo` is not a key that is known here.', ...),
    ],
    'board: My board\n': [
        (1, 8, '`My board` cannot stand here: lines of `name: value` are due.', 'such as `{name: …, for: …, client: …}`'),
    ],
    'supplies:\n  s: {outlets: [9V ac 1A, 9V ac 1A]}\n': [
        (2, 7, 'A list cannot stand here: lines of `name: value` are due.', 'such as `{1: …, 2: …}`'),
    ],
    'supplies:\n  s: {outlets: 8}\n': [
        (2, 16, '`8` cannot stand here: lines of `name: value` are due.', 'such as `{1: …, 2: …}`'),
    ],
    'supplies:\n  s: {outlets: {1: 9V dc 100mA}}\n': [
        (2, 20, '`9V dc 100mA` does not say which way round the plug is.', '`centre-negative` or `centre-positive`'),
    ],
    'audio: [guitar, echo, combo]\n': [
        (1, 9, '`guitar` leads nowhere: an arrow `>` joins two things.', 'such as `guitar > tuner > combo`'),
        (1, 17, '`echo` leads nowhere: an arrow `>` joins two things.', 'such as `guitar > tuner > combo`'),
        (1, 23, '`combo` leads nowhere: an arrow `>` joins two things.', 'such as `guitar > tuner > combo`'),
    ],
    'audio:\n  - guitar > > combo\n': [
        (2, 5, 'An arrow in `guitar > > combo` has nothing on one side.', 'such as `guitar > tuner > combo`'),
    ],
    'audio:\n  - guitar - echo\n': [
        (2, 5, '`guitar - echo` leads nowhere: an arrow `>` joins two things.', 'such as `guitar > tuner > combo`'),
    ],
    'accept: [outlet-headroom-thin]\n': [
        (1, 10, '`outlet-headroom-thin` cannot stand here: lines of `name: value` are due.', 'such as `{rule: …, for: …, because: …}`'),
    ],
    # units elsewhere
    'guitar: {lead: 6}\n': [
        (1, 16, '`6` has no unit. Did you mean `6 m`?', 'a length with its unit, such as `600 mm`'),
    ],
    'guitar: {volume_pot: 250, C: 110p, L: 2.5}\n': [
        (1, 22, '`250` has no unit. Did you mean `250 ohm` or `250k`?', 'a resistance with its unit, such as `0.3 ohm`'),
        (1, 30, '`110p` has no unit. Did you mean `110 pF`?', 'a capacitance with its unit, such as `470 pF`'),
        (1, 39, '`2.5` has no unit. Did you mean `2.5 H`?', 'an inductance with its unit, such as `2.5 H`'),
    ],
    'place: {ambient: 86F}\n': [
        (1, 18, 'A temperature is due here. `86 F` is about `30 °C`: write that.', 'a temperature with its unit, such as `35 °C`'),
    ],
    'place: {ambient: 30}\n': [
        (1, 18, '`30` has no unit. Did you mean `30 °C`?', 'a temperature with its unit, such as `35 °C`'),
    ],
    'supplies: {s: {total: 2A}}\n': [
        (1, 23, 'A power is due here. `2 A` is a current.', 'a power with its unit, such as `15 W`'),
    ],
    'supplies: {s: {total: 40}}\n': [
        (1, 23, '`40` has no unit. Did you mean `40 W`?', 'a power with its unit, such as `15 W`'),
    ],
    'supplies: {s: {efficiency: 0.85}}\n': [
        (1, 28, '`0.85` has no unit. Did you mean `85 %`?', 'a share with its unit, such as `85 %`'),
    ],
    # YAML itself
    'pedals:\n\techo: {kind: delay}\n': [
        (2, 1, 'A tab stands here. Indent with spaces only, here and below.', None),
    ],
    'pedals:\n  echo: {kind: delay\n  verb: {kind: reverb}\n': [
        (2, 9, 'This `{` is never closed.', None),
    ],
    'pedals:\n  echo: {kind: "delay}\n  verb: {kind: reverb}\n': [
        (2, 16, 'This quotation mark is never closed.', None),
    ],
    'pedals:\n  echo: {kind: delay}}\n': [
        (2, 22, 'This `}` closes nothing.', None),
    ],
    'pedals:\n  echo: {size: [1, 2, 3}\n': [
        (2, 24, 'A comma or a closing `]` is missing here, or a little before.', None),
    ],
    'pedals:\n  echo: {kind: delay gain: 3 dB}\n': [
        (2, 26, 'A comma or a closing `}` is missing here, or a little before.', None),
    ],
    'pedals:\n  echo: kind: delay\n': [
        (2, 13, 'A second `:` on one line. Start a new line, or put the text in quotes.', None),
    ],
    'pedals\n  echo: {kind: delay}\n': [
        (1, 1, 'A `:` is missing after `pedals`.', None),
        (1, 1, 'A name without its `:`. Write `name: value`, with a space after the colon.', None),
    ],
    'pedals:\n   echo: {kind: delay}\n  verb: {kind: reverb}\n': [
        (3, 3, 'This line stands too far left or right: lines of one list start in one column.', None),
    ],
    'pedals:\n  echo: {kind: delay}\n   verb: {kind: reverb}\n': [
        (3, 4, 'This line stands too far left or right: lines of one list start in one column.', None),
    ],
    'pedals: {a: {kind: fuzz}}\n---\npedals: {b: {kind: wah}}\n': [
        (2, 1, 'One text holds one board: everything from this `---` on is not read.', None),
    ],
    'a: *b\n': [
        (1, 4, '`*b` points to nothing: no `&b` stands above it.', None),
    ],
    'pedals: {a: !box {kind: fuzz}}\n': [
        (1, 13, '`!box` is a custom tag; boards have none. Remove it.', None),
    ],
    '? [a]\n: b\n': [
        (1, 3, 'A name is due here, not a list or a mapping.', None),
        (2, 1, 'A name is missing before this `:`.', None),
    ],
    'board: {name: @home}\n': [
        (1, 15, 'This character cannot start a value. Put the text in quotes.', None),
    ],
    'hello there\n': [
        (1, 1, 'This is not a board yet: a board is a list of sections such as `pedals:` and `supplies:`.', None),
    ],
    'Dear shop,\nhere is my board. It has five pedals.\n': [
        (1, 1, 'This is not a board yet: a board is a list of sections such as `pedals:` and `supplies:`.', None),
    ],
    '- guitar > combo\n': [
        (1, 1, 'This is not a board yet: a board is a list of sections such as `pedals:` and `supplies:`.', None),
    ],
}

@pytest.mark.parametrize(("wrong", "told"), PEDALS.items(), ids=PEDALS)
def test_mistakes_in_a_pedal(wrong, told):
    assert_told(f"pedals:\n  echo: {{{wrong}}}\n", told)


@pytest.mark.parametrize(("text", "told"), WHOLE.items(), ids=[text.replace("\n", "⏎") for text in WHOLE])
def test_mistakes_in_a_board(text, told):
    assert_told(text, told)


def assert_told(text, told):
    problems = read(text).problems
    assert [(problem.span.line, problem.span.column, problem.message) for problem in problems] == [each[:3] for each in told]
    for problem, (*_, expected) in zip(problems, told, strict=True):
        # `...` stands for a list of every word that may stand there
        assert problem.expected == expected or (expected is ... and problem.expected.count("`") > 16), problem.expected


@pytest.mark.parametrize("many", [21, 30])
def test_a_list_that_is_too_long_is_told_its_bound(many):
    (problem,) = read(f"pedals: {{a: {{feed: {{from: [{', '.join(['s.1'] * many)}]}}}}}}\n").problems
    assert problem.message == f"This list has {many} values; at most 20 are due."


# What is plain enough is read and not complained about.
TOLERATED = [
    "pedals: {a: {kind: Delay}}", "pedals: {a: {kind: delays}}", "pedals: {a: {kind: noise gate}}", "pedals: {a: {kind: Noise_Gate}}", "pedals: {a: {kind: equalizer}}",
    "pedals: {a: {digital: Yes}}", "pedals: {a: {digital: True}}", "pedals: {a: {digital: Y}}", "pedals: {a: {Kind: delay}}", "Pedals: {a: {kind: delay}}",
    "pedals: {a: {buffered-out: yes}}", "pedals: {a: {needs: 9V DC center negative 100ma}}", "pedals: {a: {feed: {from: s.1, lead: 2 ft}}}",
    "supplies: {s: {isolated: True}}", "supplies: {s: {class: 2}}", "supplies: {s: {class: ii}}", "guitar: {pickups: single coils, lead: 20ft}",
    "guitar: {volume_pot: 250K, C: 4n7F}", "audio: guitar > a > b", "audio: [guitar -> a --> b]", "audio: [guitar → a → b]", "audio: [guitar>a>b]", "board: {for: Stage}",
    "accept: {rule: no-spare-outlet, because: small board}", 'place: {country: "GB"}', '{"pedals": {"a": {"kind": "delay",},},}',
]  # fmt: skip


@pytest.mark.parametrize("text", TOLERATED)
def test_what_is_plain_enough_is_read(text):
    assert not read(text).problems


def test_tolerance_does_not_change_what_is_meant():
    spec = read("Pedals: {a: {Kind: Noise Gate, digital: Y, buffered-out: no}}\nsupplies: {s: {class: 2, isolated: True}}\n")
    pedal, supply = spec.pedals["a"], spec.supplies["s"]
    assert (pedal.kind, pedal.digital, pedal.buffered_out) == ("noise-gate", "yes", "no")
    assert (supply.class_, supply.isolated) == ("ii", "yes")


@pytest.mark.parametrize("name", SECTIONS)
def test_a_misspelt_section_is_recognised(name):
    (problem,) = read(f"{name[:-1]}x: {{}}\n").problems
    assert f"Did you mean `{name}`?" in problem.message


def test_everything_is_said_in_whole_sentences():
    texts = [*WHOLE, *(f"pedals:\n  echo: {{{wrong}}}\n" for wrong in PEDALS)]
    for problem in (problem for text in texts for problem in read(text).problems):
        assert problem.message[0].isupper() or problem.message[0] == "`"
        assert problem.message.endswith((".", "?"))
        assert not (problem.expected or "x").endswith(".")
        assert len(problem.message) < 200
