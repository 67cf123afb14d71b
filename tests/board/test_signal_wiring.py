"""What each way of writing means for the sound."""

from __future__ import annotations

from itertools import pairwise

import pytest

from boardwright.board.assemble import assemble
from boardwright.board.signal.jacks import side_of
from boardwright.board.signal.switches import State
from boardwright.spec.read import read


def signal_of(text):
    board = assemble(read(text, fragment=True))
    assert not board.spec.problems, board.spec.problems
    return board.signal


def things(way):
    return list(dict.fromkeys(node.thing for edge in way for node in (edge.start, edge.end)))


def way(signal, preset_or_on, amp="combo"):
    """The things that the sound goes through to an amplifier with some switches on."""
    positions = signal.switches.complete(None)
    assert set(preset_or_on) <= set(positions), set(positions)
    positions |= dict.fromkeys(preset_or_on, True)
    for id_ in preset_or_on:
        if "=" in id_:
            positions |= {other: other == id_ for other in positions if other.startswith(id_.partition("=")[0] + "=")}
    (start,) = signal.starts("guitar")
    found = signal.graph.shortest(start, signal.heard(amp), signal.conducts(positions))
    return things(found) if found is not None else None


FORMS = """
switchers:
  hub:
    loops: {1: fuzz, 2: [chorus, trem], 3: {unit: drive, send: 400, back: 420}, 4: {send_to: a, return_from: b}, 5: empty}
    inserts: {after 2: vol}
    outs: {main: after 5, early: after 2}
pedals:
  fuzz: {kind: fuzz}
  chorus: {kind: chorus}
  trem: {kind: tremolo}
  drive: {kind: overdrive}
  vol: {kind: volume-pedal}
  a: {kind: boost}
  b: {kind: boost}
amps: {combo: {kind: valve}, side: {kind: valve}}
audio: [guitar > hub, hub.main > combo, hub.early > side, a > b]
"""


def test_every_form_of_a_loop():
    signal = signal_of(FORMS)
    assert way(signal, []) == ["guitar", "hub", "vol", "combo"]
    assert way(signal, ["hub.1"]) == ["guitar", "hub", "fuzz", "vol", "combo"]
    assert way(signal, ["hub.2"]) == ["guitar", "hub", "chorus", "trem", "vol", "combo"]
    assert way(signal, ["hub.3"]) == ["guitar", "hub", "vol", "drive", "combo"]
    assert way(signal, ["hub.4"]) == ["guitar", "hub", "vol", "a", "b", "combo"]
    assert way(signal, ["hub.1", "hub.3"], "side") == ["guitar", "hub", "fuzz", "vol", "side"], "the tap comes behind the insert"
    assert signal.stages["trem"].loop == ("hub", "2") and signal.stages["trem"].switch is None
    assert [hop.patch.value for edge in signal.graph.edges if (hop := edge.hop) and hop.patch] == [0.4, 0.42]


def test_an_empty_loop_may_or_may_not_pass():
    signal = signal_of(FORMS)
    assert not signal.switches.can_be(signal.silent("combo"))
    assert signal.switches.witness(signal.certain.silent("combo")).words == "with loop 5 in"
    assert not signal_of(FORMS.replace("5: empty", "5: {empty: yes, normalled: yes}")).certain.silent("combo")
    shut = signal_of(FORMS.replace("5: empty", "5: {empty: yes, normalled: no}"))
    assert shut.switches.witness(shut.silent("combo")).words == "with loop 5 in"


def test_loops_wired_by_arrows():
    signal = signal_of(
        """
        switchers: {hub: {loops: {1: {}, 2: {}}}}
        pedals: {echo: {kind: delay}, drive: {kind: overdrive}}
        audio: [guitar > hub > combo, hub.send_1 > drive > hub.return_1, hub.send_2 > echo > hub.return_2]
        """
    )
    assert way(signal, ["hub.1", "hub.2"]) == ["guitar", "hub", "drive", "echo", "combo"]
    assert signal.stages["echo"].loop == ("hub", "2") and signal.stages["echo"].switch is None


def test_a_selector_has_one_position_and_may_have_both():
    signal = signal_of(
        """
        switchers: {aby: {select: {a: one, b: two, both: [a, b], neither: none}}}
        audio: [guitar > aby]
        """
    )
    assert [switch.id for switch in signal.switches.ordered] == ["aby=a", "aby=b", "aby=both", "aby=neither"]
    for position, hearing in (("a", {"one"}), ("b", {"two"}), ("both", {"one", "two"}), ("neither", set())):
        assert {amp for amp in signal.amps if way(signal, [f"aby={position}"], amp)} == hearing
    assert signal.switches.witness(signal.silent("one", "two")).words == "with `aby` at neither"
    both = signal.diagrams.both(signal.hears("one"), signal.hears("two"))
    assert signal.switches.witness(both).words == "with `aby` at both"


def test_a_selector_of_inputs():
    signal = signal_of(
        """
        instruments: {acoustic: {kind: acoustic}}
        switchers: {pick: {select: {a: guitar, b: acoustic}}}
        audio: [pick > combo]
        """
    )
    assert signal.sources == ["acoustic", "guitar"]
    both = signal.diagrams.both(signal.hears("combo", "guitar"), signal.hears("combo", "acoustic"))
    assert not signal.switches.can_be(both) and signal.switches.can_be(signal.hears("combo", "acoustic"))
    assert signal.never_reaches("acoustic", "combo").state.words == "with `pick` at b"


def test_sends_are_switches_and_dry_may_be_muted():
    text = """
    pedals:
      sum: {kind: mixer, sends: [a, b], dry: muted, keeps_return: yes}
      tape: {kind: delay, mix: wet-only, bypass: always-on}
      room: {kind: reverb, mix: wet-only, bypass: always-on}
    audio: [guitar > sum.in, sum.send_a > tape > sum.a, sum.send_b > room > sum.return_b, sum.out > combo]
    presets: {verse: {sum: [a]}, still: {sum: [], quiet: yes}}
    """
    signal = signal_of(text)
    assert way(signal, ["sum.send a"]) == ["guitar", "sum", "tape", "combo"]
    assert way(signal, []) is None
    assert way(signal_of(text.replace(", dry: muted", "")), []) == ["guitar", "sum", "combo"]
    tails = signal.heard_at("tape", "combo")
    assert signal.diagrams.both(tails, signal.switches.presets["still"].states), "its tail rings on in the quiet preset"
    cut = signal_of(text.replace("keeps_return: yes", "keeps_return: no"))
    assert not cut.diagrams.both(cut.heard_at("tape", "combo"), cut.switches.presets["still"].states)


def test_mutes_and_what_quiet_covers():
    signal = signal_of(
        """
        switchers: {hub: {loops: {1: fuzz}, outs: {dry: end, wet: end}}}
        audio: [guitar > hub, hub.dry > one, hub.wet > two]
        presets: {tune: {mute: [dry, wet], quiet: yes}, half: {mute: hub.wet}}
        """
    )
    assert signal.switches.witness(signal.silent("one", "two")).words == "in preset `tune`"
    assert not signal.switches.can_be(signal.diagrams.without(signal.silent("one"), signal.switches.quiet))
    half = signal.switches.presets["half"].states
    assert signal.diagrams.both(half, signal.hears("one")) == half and not signal.diagrams.both(half, signal.hears("two"))


def test_presets_fix_loops_and_leave_footswitches_free():
    signal = signal_of(
        """
        switchers: {hub: {loops: {1: fuzz, 2: drive}}}
        pedals: {fuzz: {kind: fuzz}, drive: {kind: overdrive}, echo: {kind: delay}, lift: {kind: boost}}
        audio: [guitar > hub > echo > lift > combo]
        presets: {verse: {hub: 1}, solo: {hub: [2], free: drive, lift: on}}
        """
    )
    verse, solo = signal.switches.presets["verse"].positions, signal.switches.presets["solo"].positions
    assert verse == {"hub.1": True, "hub.2": False, "drive": True}
    assert solo == {"hub.1": False, "hub.2": True, "lift": True}
    assert signal.switches.witness(signal.sounding("echo", "combo"), "solo").words == "in preset `solo` with `echo` on"
    assert signal.never_reaches("fuzz", "combo").presets == ("verse",)


def test_amplifiers_loops():
    text = """
    pedals: {echo: {kind: delay, bypass: always-on}}
    amps: {combo: {kind: valve, loop: yes}}
    audio: [guitar > combo.in, combo.send > echo > combo.return]
    """
    assert way(signal_of(text), []) == ["guitar", "combo", "echo"], "all of it goes out through the loop and back"
    parallel = signal_of(text.replace("loop: yes", "loop: {send: yes, return: yes, mode: parallel}"))
    assert "echo" not in way(parallel, [])
    open_ended = signal_of(text.replace("echo > combo.return", "echo"))
    assert way(open_ended, []) == ["guitar", "combo"], "a send alone takes nothing away"


def test_a_mute_of_a_whole_switcher_closes_the_output_without_a_name_too():
    text = """
        switchers: {hub: {loops: {1: fuzz}, outs: {side: after 1}}}
        audio: [guitar > hub > combo, hub.side > two]
        presets: {tune: {mute: [hub], quiet: yes}}
    """
    signal = signal_of(text)
    quiet = signal.live(State({}, "tune", ""))
    assert signal.heard("combo") not in quiet and signal.heard("two") not in quiet


def test_a_tuner_in_line_mutes_and_that_is_silence_on_purpose():
    signal = signal_of("pedals: {tuner: {kind: tuner}}\naudio: [guitar > tuner > combo]")
    assert signal.switches.witness(signal.silent("combo")).words == "with `tuner` on"
    assert not signal.switches.can_be(signal.diagrams.without(signal.silent("combo"), signal.switches.quiet))
    assert not signal_of("pedals: {tuner: {kind: tuner, mutes: no}}\naudio: [guitar > tuner > combo]").silent("combo")


def test_stereo_stays_side_by_side():
    signal = signal_of(
        """
        pedals: {room: {kind: reverb}, jet: {kind: flanger, channels: {in: 2, out: 2}}}
        audio: [guitar > room, room.out_l > jet.in_l > left, room.out_r > jet.in_r > right]
        """
    )
    for side, end in (("l", "left"), ("r", "right")):
        nodes = {str(node) for node in signal.graph.behind([signal.heard(end)])}
        assert f"jet.in_{side}" in nodes and f"jet.in_{'r' if side == 'l' else 'l'}" not in nodes


def test_a_stereo_loop_widens_the_board():
    signal = signal_of(
        """
        switchers: {hub: {loops: {1: fuzz, 2: {unit: room, stereo: yes}}}}
        pedals: {room: {kind: reverb, channels: {in: 1, out: 2}}}
        audio: [guitar > hub, hub.out_l > left, hub.out_r > right]
        """
    )
    assert way(signal, ["hub.1", "hub.2"], "right") == ["guitar", "hub", "fuzz", "room", "right"]
    assert way(signal, [], "right") == ["guitar", "hub", "right"]


def test_sound_does_not_go_through_control_jacks_or_expression_pedals():
    signal = signal_of("pedals: {xp: {kind: expression-pedal}, echo: {kind: delay}}\naudio: [guitar > xp > combo, guitar > echo.exp, echo > side]")
    assert not signal.hears("combo") and not signal.hears("side")


def test_a_radio_stands_in_for_the_guitar_lead():
    signal = signal_of("pedals: {radio: {kind: wireless-receiver}}\naudio: [radio > combo]")
    assert signal.hears("combo", "guitar") == 1 and any(edge.hop.is_air for edge in signal.graph.edges if edge.hop)


CHAINS = [
    ("guitar > a > b > c > combo", {"a": ("overdrive", None), "b": ("delay", None), "c": ("boost", "3 to 9 dB")}),
    ("guitar > a > b, b > c > combo, b > combo_2", {"a": ("fuzz", None), "b": ("wah", None), "c": ("chorus", "-6 dB")}),
    ("guitar > a > b > a", {"a": ("overdrive", None), "b": ("boost", None)}),
]


@pytest.mark.parametrize(("audio", "pedals"), CHAINS)
def test_gain_to_the_amplifier(audio, pedals):
    """The most along any chain: a box that is off or turned down counts as nothing."""
    from boardwright.board.kinds import kind_of

    described = ", ".join(f"{name}: {{kind: {kind}{f', gain: {gain}' if gain else ''}}}" for name, (kind, gain) in pedals.items())
    signal = signal_of(f'pedals: {{{described}}}\naudio: ["{audio}"]')
    own = {name: max(0.0, 9.0 if gain == "3 to 9 dB" else -6.0 if gain else kind_of(kind).gain) for name, (kind, gain) in pedals.items()}
    onward = {}
    for chain in audio.split(", "):
        names = chain.split(" > ")
        for name, following in pairwise(names):
            onward.setdefault(name, []).append(following)

    def most(name, seen=()):
        if name.startswith("combo"):
            return 0.0
        gains = [gain for each in onward.get(name, []) if each not in seen and (gain := most(each, (*seen, name))) is not None]
        return own.get(name, 0.0) + max(gains) if gains else None

    for name in pedals:
        assert signal.gain_to_amp(name) == most(name)


def test_names_that_lead_nowhere_are_said_with_the_one_meant():
    spec = read(
        """
switchers:
  hub: {loops: {1: fuzz, 2: drvie}, outs: {dry: after 7}, inserts: {after 2: vol}}
  aby: {select: {a: amp_1, b: amp_9}}
pedals: {fuzz: {kind: fuzz}, drive: {kind: overdrive}, vol: {kind: volume-pedal}, sum: {kind: mixer, sends: [a, b]}}
amps: {amp_1: {kind: valve}}
audio: [guitar > hub.in, hub.wet > aby, sum.send_c > drive]
presets: {verse: {hub: [3], sum: [q], quite: yes, select: {aby: z}}}
promises: [{never: {sound_of: fuz, reaches: amp_2}}]
control: [{from: hub, to: amp_3.channel}]
"""
    )
    assemble(spec)
    said = "\n".join(problem.message for problem in spec.problems)
    for words in (
        "`drvie` is not described anywhere. Did you mean `drive`?",
        "`hub` has no loop `7` to be behind",
        "`amp_9` is not described anywhere",
        "`hub` has no output `wet`",
        "`sum` has no send `send_c`",
        "`hub` has no loop `3`",
        "`sum` has no send `q`",
        "`quite` is not described anywhere. Did you mean `quiet`?",
        "`aby` has no position `z`",
        "`fuz` is not described anywhere. Did you mean `fuzz`?",
        "`amp_2` is not described anywhere",
        "`amp_3` is not described anywhere",
    ):
        assert words in said, (words, said)
    assert all(problem.span for problem in spec.problems)


@pytest.mark.parametrize(
    ("jack", "side"),
    [("out_l", "l"), ("out_right", "r"), ("left", "l"), ("R", "r"), ("outL", "l"), ("in2r", "r"), ("power", None), ("monitor", None), ("channel", None), (None, None)],
)
def test_a_jack_has_a_side_only_where_it_is_named_for_one(jack, side):
    assert side_of(jack) == side
