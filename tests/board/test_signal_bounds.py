"""Big boards are decided quickly, and boards that cannot be decided say so instead of hanging."""

from __future__ import annotations

from random import Random
from time import process_time

from boardwright.board.assemble import assemble
from boardwright.rules.run import run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read

KINDS = ("overdrive", "chorus", "delay", "reverb", "boost")
DRY = {"delay": ", dry_through: digital", "reverb": ", dry_through: yes"}


def switcher_of_forty():
    """Forty loops, five selectors of three, three amplifiers."""
    pedals, loops = [], []
    for n in range(1, 41):
        kind = KINDS[n % 5]
        pedals.append(f"p{n}: {{kind: {kind}, polarity: {'inverts' if n % 7 == 0 else 'same'}, latency: {n / 10} ms{DRY.get(kind, '')}}}")
        loops.append(f"{n}: p{n}")
    audio, here = ["guitar > hub", "hub.dry > dry"], "hub.wet"
    switchers = [f"hub: {{loops: {{{', '.join(loops)}}}, outs: {{dry: after 12, wet: end}}}}"]
    for n in range(5):
        switchers.append(f"s{n}: {{select: [a, b, c]}}")
        pedals.append(f"m{n}: {{kind: mixer, polarity: same}}")
        pedals += [f"x{n}{way}: {{kind: chorus, polarity: same, latency: 0.{late} ms}}" for late, way in enumerate("abc")]
        audio.append(f"{here} > s{n}")
        audio += [f"s{n}.{way} > x{n}{way} > m{n}.in_{way}" for way in "abc"]
        here = f"m{n}.out"
    audio += [f"{here} > split, split.a > left, split.b > right"]
    lines = ["pedals:", *pedals, "split: {kind: splitter}"]
    text = "\n  ".join(lines) + "\nswitchers:\n  " + "\n  ".join(switchers)
    text += "\namps: {dry: {kind: valve, polarity: same}, left: {kind: valve, polarity: same}, right: {kind: valve, polarity: same}}"
    return (
        text
        + "\naudio:\n  - "
        + "\n  - ".join(audio)
        + """
promises:
  - {never: {sound_of: [p13, p22, p38], reaches: dry}}
  - {never: {sound_of: p3, reaches: dry}}
  - {always: {hears: [dry, left, right], from: guitar}}
  - {same_time: [left, right], within: 0.1 ms}
  - {same_time: [dry, left], within: 0.1 ms}
"""
    )


def test_forty_loops_five_selectors_three_amplifiers_in_less_than_a_second():
    text = switcher_of_forty()
    start = process_time()
    board = assemble(read(text))
    signal = board.signal
    kept = [answer.kept.value for answer in board.promises]
    clashes, opposed = list(signal.copies.apart(0.1e-3, 1e-3)), list(signal.copies.opposed(5e-3))
    silence, rings = signal.silent(*signal.amps), signal.rings
    taken = process_time() - start
    assert not board.spec.problems and len(signal.switches.ordered) == 70
    assert kept == ["holds", "broken", "holds", "holds", "broken"]
    assert clashes and opposed and silence == 0 and not rings
    assert taken < 1.0, f"{taken:.2f} s"


def test_a_stereo_row_of_different_delays_cancels():
    """Two to the power of eighteen pairs of delays, and not one of them matters: both sides always have the same."""
    count = 18
    pedals = [f"e{k}: {{kind: chorus, latency: {0.1 * 2 ** (k % 7) + k / 100:.2f} ms, channels: {{in: 2, out: 2}}}}" for k in range(count)]
    text = (
        "pedals:\n  split: {kind: splitter}\n  " + "\n  ".join(pedals) + "\namps: {l: {kind: valve}, r: {kind: valve}}\naudio:\n  - guitar > split\n"
    )
    for side, end in (("a", "l"), ("b", "r")):
        text += f"  - split.{side} > " + " > ".join(f"e{k}.in_{end}" for k in range(count)) + f" > {end}\n"
    text += "promises: [{same_time: [l, r], within: 0.1 ms}]\n"
    start = process_time()
    (answer,) = assemble(read(text)).promises
    assert answer.kept.value == "holds" and process_time() - start < 1.0


def test_what_cannot_be_gone_through_is_said_and_leaves_room_for_the_rest():
    """All thirty have to be on to be too late, and their delays have nothing in common: there is no short way to see it."""
    random = Random(1)
    late = [random.randint(120, 190) / 100 for _ in range(30)]
    pedals = "\n  ".join(f"e{k}: {{kind: chorus, polarity: same, latency: {each} ms}}" for k, each in enumerate(late))
    text = f"pedals:\n  split: {{kind: splitter}}\n  {pedals}\namps: {{l: {{kind: valve}}, r: {{kind: valve}}}}\naudio:\n  - guitar > split\n"
    text += "  - split.a > l\n  - split.b > " + " > ".join(f"e{k}" for k in range(30)) + " > r\n"
    text += "promises: [{same_time: [l, r], within: 41 ms}, {never: {sound_of: e5, reaches: l}}, {always: {hears: r}}]\n"
    start = process_time()
    first, *rest = assemble(read(text)).promises
    assert first.kept.value == "cannot tell" and "combinations" in first.question
    assert [answer.kept.value for answer in rest] == ["holds", "holds"]
    assert process_time() - start < 10


def test_all_meetings_of_a_board_draw_on_one_patience():
    """However little each of them asks for: what was found before it ran out stays said, and of the rest it cannot be told."""
    comb = "parallel-latency-comb"
    board = assemble(read(switcher_of_forty()))
    patience = board.signal.copies.patience
    before = patience.left
    whole = [judged for _, judged in run(board, [comb]).judgements]
    needed = before - patience.left
    assert all(judged.verdict is not Verdict.CANNOT_TELL for judged in whole) and 0 < needed < before
    board = assemble(read(switcher_of_forty()))
    board.signal.copies.patience.left = needed // 2
    *found, last = [judged for _, judged in run(board, [comb]).judgements]
    assert [judged.sentence for judged in found] == [judged.sentence for judged in whole][: len(found)] and found
    assert last.verdict is Verdict.CANNOT_TELL and "more ways for one sound" in last.question


def test_two_thousand_pedals_in_a_row():
    pedals = "\n  ".join(f"p{k}: {{kind: {KINDS[k % 5]}}}" for k in range(2000))
    text = f"pedals:\n  {pedals}\namps: {{combo: {{kind: valve}}}}\naudio: [{'guitar > ' + ' > '.join(f'p{k}' for k in range(2000)) + ' > combo'}]\n"
    signal = assemble(read(text)).signal
    assert signal.hears("combo") == 1, "every one of them lets the sound through, on or off"
    assert signal.never_reaches("p1999", "combo").state.words == "with `p1999` on"
    assert signal.gain_to_amp("p0") == 400 * 35 + 400 * 15
