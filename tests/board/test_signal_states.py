"""Reach, proofs, silence, latency and polarity against going through every state and every path of 1,080 random boards."""

from __future__ import annotations

from random import Random

import pytest

from boards_by_chance import board_by_chance, truth_of
from boardwright.board.assemble import assemble
from boardwright.board.signal import How
from boardwright.spec.read import read

BATCHES, EACH = 24, 45


def signal_of(board):
    assembled = assemble(read(board.text()))
    assert not assembled.spec.problems, (assembled.spec.problems, board.text())
    return assembled.signal


def sets(signal, board):
    """How to ask the engine whether a state is in a set of states."""
    level = signal.switches.level
    states = [{level[switch]: on for switch, on in state.items() if switch in level} for state in board.states()]
    return lambda diagram: [signal.diagrams.holds(diagram, state) for state in states]


@pytest.mark.parametrize("batch", range(BATCHES))
def test_every_state_agrees(batch):
    for number in range(EACH):
        board = board_by_chance(Random(batch * 1000 + number), most=12 if number % 25 == 0 else 8)
        truth, signal = truth_of(board), signal_of(board)
        where = board.text()
        in_states = sets(signal, board)
        for amp in board.amps:
            assert in_states(signal.hears(amp)) == truth.hears[amp], where
        silent = [not any(heard) for heard in zip(*truth.hears.values(), strict=True)]
        assert in_states(signal.silent(*board.amps)) == silent, where
        for sound in board.sounds:
            if not signal.effect_edges(sound):
                continue  # its output is left unplugged
            for amp in board.amps:
                pair = sound, amp
                assert in_states(signal.sounding(sound, amp)) == truth.sounding[pair], (pair, where)
                assert in_states(signal.heard_at(sound, amp)) == truth.heard_at[pair], (pair, where)
                _check_proof(signal, board, truth, pair)
        _check_copies(signal, board, truth)


def _check_proof(signal, board, truth, pair):
    proof, heard = signal.never_reaches(*pair), truth.heard_at[pair]
    if proof.how is How.WIRING:
        assert pair in truth.by_wiring, board.text()
    elif proof.how is How.CONTRADICTION:
        assert not any(heard) and pair not in truth.by_wiring, board.text()
    else:
        whole = signal.switches.complete(proof.state)
        place = next(n for n, state in enumerate(board.states()) if all(whole.get(switch, on) is on for switch, on in state.items()))
        assert heard[place], (pair, proof.state, board.text())
        assert proof.way and proof.way[-1].end == signal.heard(pair[1])
        assert all(proof.way[n].end == proof.way[n + 1].start for n in range(len(proof.way) - 1))


def _check_copies(signal, board, truth):
    where, step, ends = board.text(), 1e-4, [signal.heard(amp) for amp in board.amps]
    for least in (0.5 * step, 3.5 * step):
        in_air = list(signal.copies.apart(1.0, least, ends))
        in_box = [clash for clash in signal.copies.apart(least, 1.0) if not clash.meeting.in_air]
        assert bool(in_air) == (truth.apart_in_air * step > least), (truth, where)
        assert bool(in_box) == (truth.apart_in_box * step > least), (truth, where)
        assert all(least < clash.apart < truth.apart_in_air * step + 1e-9 for clash in in_air), where
        assert all(least < clash.apart < truth.apart_in_box * step + 1e-9 for clash in in_box), where
        for clash in [*in_air, *in_box]:
            _check_clash(signal, clash)
    assert any(clash.meeting.in_air for clash in signal.copies.opposed(5e-3, ends)) == truth.opposed_in_air, where
    opposed = [clash for clash in signal.copies.opposed(5e-3) if not clash.meeting.in_air]
    assert bool(opposed) == truth.opposed_in_box, where
    for clash in opposed:
        _check_clash(signal, clash)


def _check_clash(signal, clash):
    """Both ways are open in its state, begin at the parting, end at the meeting, and are as far apart as it says."""
    conducts = signal.conducts(signal.switches.complete(clash.state))
    late = []
    for way, end in zip(clash.ways, clash.meeting.ends, strict=True):
        assert all(conducts(edge) for edge in way) and way[-1].end == end
        late.append(sum(edge.latency.high for edge in (way[1:] if clash.meeting.parting.effect else way)))
    assert abs(late[0] - late[1]) == pytest.approx(clash.apart, abs=1e-9)


@pytest.mark.parametrize("batch", range(4))
def test_what_is_not_known_is_doubted_where_it_matters(batch):
    for number in range(75):
        board = board_by_chance(Random(90_000 + batch * 1000 + number), most=7, unknown_share=0.4)
        truth, signal = truth_of(board), signal_of(board)
        ends = [signal.heard(amp) for amp in board.amps]
        doubts = [*signal.copies.doubts("latency"), *signal.copies.doubts("latency", ends)]
        assert {doubt.thing for doubt in doubts} == truth.doubted, board.text()
