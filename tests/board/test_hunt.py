"""The fault finder: its plan against the optimum, its bounds, its evidence; and broken rigs, which it must find.

References: the alphabetic tree by brute force over every tree (Knuth, The Art of Computer Programming, vol. 3, 6.2.2), entropy by
scipy, reach by networkx. The rig on the bench (``hunting.py``) shares no reasoning with the hunt.
"""

from __future__ import annotations

import random
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import pytest
from scipy.stats import entropy

from boardwright import limits
from boardwright.board.assemble import assemble
from boardwright.board.hunt import Answer, Ending, Explained, Hunt, NoHunt, ProbeKind, Step, What
from boardwright.board.hunt.causes import EXPLAINS, SIGNATURES, causes
from boardwright.board.hunt.situation import situation
from boardwright.board.hunt.suspects import FACTORS, POINTS_AT
from boardwright.rules.registry import RULES
from boardwright.spec.read import read
from boardwright.spec.sections.symptom import CHANGES, HEARD, Symptom
from hunting import Broken, Rig, caught, everything

FOLDER = Path(__file__).parents[2] / "demo_boards"
CLEAN = sorted(file.stem for file in FOLDER.glob("*.yaml") if "-before" not in file.stem)
FOUR_MINUTES = """
symptom: {kind: silent, when: always, good: [guitar], another_amp: yes}
pedals: {tuner: {kind: tuner, jacks: side}, softdrive: {kind: overdrive}, push: {kind: boost}, ebb: {kind: phaser}, echo: {kind: delay}}
audio: [guitar > tuner > softdrive > push > ebb > echo > combo]
"""


@lru_cache
def demo(name):
    return assemble(read((FOLDER / f"{name}.yaml").read_text("utf-8")))


def board_of(text):
    return assemble(read(text, fragment=True))


def hunt_of(text, **symptom):
    board = board_of(text)
    return Hunt(board, Symptom(**symptom) if symptom else board.spec.symptom)


# --- plans on chains ------------------------------------------------------------------------------------------------


def best_tree(weights, costs):
    """Least expected cost over every tree of cuts, by trying them all."""

    @lru_cache(None)
    def best(i, j):
        if j - i == 1:
            return 0.0
        return min(costs[k] * sum(weights[i:j]) + best(i, k + 1) + best(k + 1, j) for k in range(i, j - 1))

    return best(0, len(weights)) / sum(weights)


def test_a_chain_of_twelve_parts_takes_3_7_minutes_against_7_3():
    """Twelve parts, weights 6,1,4,2,4,2,4,2,4,2,5,4, one minute a test and two behind the tuner; worked out by hand."""
    hunt = hunt_of(FOUR_MINUTES).looked()
    assert [each.weight for each in hunt.all if hunt.weights[each.id] and each.what is not What.SETTING] == pytest.approx([6, 1, 4, 2, 4, 2, 4, 2, 4, 2, 5, 4])
    assert hunt.expected()[1] == pytest.approx(3.70, abs=0.005)
    assert hunt.front_to_back() == pytest.approx(7.325)
    first = hunt.next_test
    ahead = sum(hunt.weights[name] for name in first.covers)
    assert first.about == "push" and ahead == 19, "behind six parts of twelve, which hold 19 of 40"


def chain(random_, boxes):
    made = ["soldered", "clamped", "moulded"]
    names = [f"p{n}" for n in range(boxes)]
    pedals = ", ".join(f"{name}: {{kind: {random_.choice(['overdrive', 'chorus', 'buffer'])}, jacks: {random_.choice(['rear', 'side'])}}}" for name in names)
    ends = ["guitar", *names, "combo"]
    leads = ", ".join(f"{{path: {a} > {b}, lead: {{made: {random_.choice(made)}}}}}" for a, b in pairwise(ends))
    return f"symptom: {{kind: silent, when: always, good: [guitar], another_amp: yes}}\npedals: {{{pedals}}}\naudio: [{leads}]\n"


@pytest.mark.parametrize("seed", range(25))
def test_on_chains_the_plan_is_the_best_there_is_and_near_the_bound_of_shannon(seed):
    random_ = random.Random(seed)
    hunt = hunt_of(chain(random_, random_.randint(1, 12))).looked()
    live = [each for each in hunt.all if hunt.weights[each.id] > 0]
    costs = []
    for here, there in pairwise(live):  # the cheapest test between the two
        cuts = [probe for probe in hunt.probes if probe.is_cut and (here.id in probe.covers) != (there.id in probe.covers)]
        costs.append(min(probe.minutes for probe in cuts))
    tests, minutes = hunt.expected()
    assert minutes == pytest.approx(best_tree(tuple(each.weight for each in live), tuple(costs)))
    bits = entropy([each.weight for each in live], base=2)
    flat = hunt_of(chain(random.Random(seed), random.Random(seed).randint(1, 12)).replace("jacks: side", "jacks: rear")).looked()
    assert bits <= flat.expected()[0] <= bits + 2
    assert tests >= bits


# --- fault-plan-from-symptom: both fixtures -----------------------------------------------------------------------------

THREE = "pedals: {tuner: {kind: tuner}, softdrive: {kind: overdrive}, echo: {kind: delay}}\naudio: [guitar > tuner > softdrive > echo > combo]\n"


def test_a_symptom_brings_a_plan_that_starts_in_the_middle():
    hunt = hunt_of("symptom: {kind: silent, when: always}\n" + THREE)
    step = hunt.looked().plan()
    assert isinstance(step, Step) and step.probe.is_cut
    total = sum(hunt.looked().weights.values())
    ahead = sum(hunt.looked().weights[name] for name in step.probe.covers) / total
    assert 0.35 < ahead < 0.65, "the middle by weight"
    assert step.probe.about not in ("guitar", "combo"), "and neither end of the board"


def test_no_symptom_brings_no_plan():
    from boardwright import check

    assert check(THREE).hunt is None
    assert check("symptom: {kind: silent, when: always}\n" + THREE + "amps: {combo: {kind: valve}}\n").hunt.tests


# --- broken rigs ------------------------------------------------------------------------------------------------------

SHORT = [name for name in CLEAN if name not in ("saltmarsh-tour",)]


@pytest.mark.parametrize("name", SHORT)
def test_whatever_breaks_on_a_demo_board_is_found(name):
    board = demo(name)
    unheard = []
    for broken in everything(board):
        hunted = caught(board, broken)
        if hunted is None:
            unheard.append(broken)
        else:
            assert hunted.named and hunted.left == 1, hunted
    assert all(_never_heard(board, broken) for broken in unheard), unheard


def test_whatever_breaks_on_the_largest_board_is_found_too():
    """A seventh of its 250 things, spread over all of them; `make bench` goes through them all."""
    board = demo("saltmarsh-tour")
    for broken in list(everything(board))[::7]:
        hunted = caught(board, broken)
        assert _never_heard(board, broken) if hunted is None else (hunted.named and hunted.left == 1), (broken, hunted)


def _never_heard(board, broken):
    """Whether nobody hears the difference: an outlet that feeds nothing, a tuner on a send, what passes the sound without power."""
    rig = Rig(board, broken)
    if broken.kind == "outlet":
        fed = [name for name, device in board.power.devices.items() if any(outlet.id == broken.name for outlet in device.outlets)]
        return all(_never_heard(board, Broken("box", name)) or _passes(board, name) for name in fed)
    if broken.kind == "power lead":
        return _passes(board, broken.name) or _never_heard(board, Broken("box", broken.name))
    things = broken.name.replace(">", " ").split()
    return rig.noticed() is None and any(_is_off_the_way(board, thing.partition(".")[0]) for thing in things)


def _passes(board, name):
    """Without power it lets the sound through whenever it should: it needs none, or is heard only while it is off."""
    device, stage = board.power.devices[name], board.signal.stages.get(name)
    heard_off_only = stage is not None and stage.mutes and stage.bypass == "true-bypass"
    return bool(device.takes_nothing or heard_off_only or (device.box and device.box.unpowered == "passes"))


def _is_off_the_way(board, name):
    """No way leads through it to an amplifier."""
    graph = board.signal.graph
    behind = graph.behind([board.signal.heard(amp) for amp in board.signal.amps])
    return not any(node.thing == name and any(edge.end in behind for edge in graph.leaving[node]) for node in graph.nodes)


# --- evidence ---------------------------------------------------------------------------------------------------------

TWO_AMPS = """
amps: {left: {kind: valve}, right: {kind: valve}}
pedals: {softdrive: {kind: overdrive}}
switchers: {fork: {kind: splitter, split: {a: left, b: right}}}
audio: [guitar > softdrive > fork]
"""


def test_what_plays_at_one_amplifier_clears_what_both_share():
    hunt = hunt_of(TWO_AMPS, kind="silent", at=["right"])
    likeliest = hunt.suspects[0][0]
    assert likeliest.id == "lead fork.b > right"
    both = hunt_of(TWO_AMPS, kind="silent")
    assert "lead fork.b > right" not in {each.id for each, _ in both.suspects}, "alone it cannot silence both"


def test_what_is_not_on_the_way_in_that_state_is_no_suspect():
    board = demo("saltmarsh-tour")
    always = {each.thing for each, _ in Hunt(board, Symptom(kind="silent", when=["always"], at=["centre"])).suspects}
    assert "oldfuzz" not in always and "hub" in always
    fuzz = Hunt(board, Symptom(kind="silent", when=["fuzz"], at=["centre"])).suspects
    names = [each.thing for each, _ in fuzz]
    assert "oldfuzz" in names and names.index("oldfuzz") < names.index("hub"), "the other presets play through the hub"


def test_a_sound_that_is_missed_is_hunted_along_its_own_way():
    board = demo("winter-tour")
    names = {each.id for each, _ in Hunt(board, Symptom(kind="silent", when=["tape"])).suspects}
    assert "lead split.b > tape" in names and "lead split.a > dry" not in names


@pytest.mark.parametrize(("said", "why"), [({"kind": "silent", "when": ["nowhere"]}, "no preset"), ({"kind": None}, "Say what is heard"), ({"kind": "silent", "at": ["echo"]}, "no amplifier")])
def test_a_symptom_that_cannot_be_is_told_so(said, why):
    with pytest.raises(NoHunt, match=why):
        hunt_of(THREE, **said)


def test_a_hunt_can_be_undone_and_repeats_itself():
    hunt = hunt_of(THREE, kind="silent", when=["always"])
    before = hunt.next_test
    hunt.answer("good")
    after = hunt.next_test
    hunt.answer("bad")
    hunt.undo()
    assert hunt.next_test == after
    hunt.undo()
    assert hunt.next_test == before and not hunt.record
    hunt.undo()


def test_cannot_tell_asks_something_else_and_changes_no_share():
    hunt = hunt_of(THREE, kind="silent", when=["always"]).looked()
    shares, first = hunt.suspects, hunt.next_test
    hunt.answer(Answer.CANNOT)
    assert hunt.suspects == shares and hunt.next_test != first


def test_answers_that_contradict_each_other_are_told_so():
    hunt = hunt_of(THREE, kind="silent", when=["always"])
    while hunt.next_test is not None:
        hunt.answer("good")
    assert hunt.ending in (Ending.FOUND, Ending.SEVERAL)
    hunt.record = [(probe, Answer.GOOD) for probe in hunt.probes]
    assert hunt.ending is Ending.LOST and hunt.suspects == []


def test_one_pass_clears_nothing_of_a_fault_that_comes_and_goes():
    hunt = hunt_of(THREE, kind="silent", when=["always"], comes_and_goes="yes").looked()
    test = hunt.next_test
    before = {each.id: share for each, share in hunt.suspects}
    hunt.answer("good")
    after = {each.id: share for each, share in hunt.suspects}
    inside = [name for name in before if name in test.covers]
    assert inside and all(0 < after[name] < before[name] for name in inside)
    passed = limits.FALSE_PASS.value
    covered = sum(before[name] for name in inside)
    assert after[inside[0]] == pytest.approx(before[inside[0]] * passed / (covered * passed + 1 - covered)), "Bayes"


def test_bending_proves_more_than_waiting():
    hunt = hunt_of(THREE, kind="crackle")
    bent = next(probe for probe in hunt.probes if probe.flexed)
    hunt.record.append((bent, Answer.GOOD))
    (name,) = bent.covers
    assert hunt.weights[name] == pytest.approx(limits.FALSE_PASS_FLEXED.value * next(each.weight for each in hunt.all if each.id == name))


@pytest.mark.parametrize("seed", range(10))
def test_a_fault_that_comes_and_goes_is_found_in_the_end(seed):
    random_ = random.Random(seed)
    hunt = hunt_of(THREE, kind="silent", when=["always"], comes_and_goes="yes")
    guilty = random_.choice([each for each in hunt.all if each.what is What.LEAD])
    while (test := hunt.next_test) is not None and len(hunt.record) < 200:
        shows = guilty.id in test.covers and (test.kind in (ProbeKind.LOOK, ProbeKind.LAMPS) or random_.random() > limits.FALSE_PASS.value)
        hunt.answer("bad" if shows else "good")
    assert len(hunt.record) < 200
    assert hunt.found == [guilty] or hunt.suspects[0][1] >= limits.HUNT_SURE.value


# --- causes, findings, danger --------------------------------------------------------------------------------------------


def test_what_the_check_found_comes_first_and_a_danger_ends_the_hunt():
    said = Explained("earth-loop-closed", "A loop.", "A transformer.", "two")
    hunt = Hunt(board_of(TWO_AMPS), Symptom(kind="hum"), [said])
    assert hunt.next_test.kind is ProbeKind.MEND and hunt.next_test.do == "A transformer."
    danger = Explained("mains-earth-lifted", "Never.", "Stop.", "two", danger=True)
    stopped = Hunt(board_of(TWO_AMPS), Symptom(kind="hum"), [danger])
    assert stopped.next_test is None and stopped.ending is Ending.STOP and not isinstance(stopped.plan(), Step)
    with pytest.raises(ValueError, match="over"):
        stopped.answer("good")


@pytest.mark.parametrize(
    ("kind", "change", "cause"),
    [("hum", "one-amp-alone", "earth loop"), ("hum", "turning-the-guitar", "field at the pickup"), ("buzz", "touching-strings", "no earth"), ("buzz", "lamps", "dimmer")],
)
def test_what_changes_it_gives_the_cause_away(kind, change, cause):
    hunt = hunt_of(TWO_AMPS, kind=kind, changes_with=[change])
    assert hunt.suspects[0][0].id == cause
    first = hunt.looked().next_test
    assert first.id == f"try {cause}"


FED = "supplies: {s: {isolated: yes, outlets: {1: 9V dc centre-negative 500mA}}}\n" + THREE.replace(
    "echo: {kind: delay}", "echo: {kind: delay, bypass: buffered, needs: 9V dc centre-negative 200mA, feed: s.1}"
)


@pytest.mark.parametrize(
    ("kind", "change", "sorts"),
    [("crackle", "wiggling", {What.LEAD, What.POWER_LEAD}), ("crackle", "stepping", {What.BOX}), ("reboot", "after-warm-up", {What.SUPPLY}), ("weak", "after-warm-up", {What.SUPPLY, What.AMP})],
)
def test_what_changes_it_points_at_a_sort_of_part(kind, change, sorts):
    before, after = (hunt_of(FED, kind=kind, changes_with=changes).weights for changes in (None, [change]))
    named = {each.id: each.what for each in hunt_of(FED, kind=kind).all}
    assert {named[name] for name in named if after[name] != before[name]} == sorts
    assert all(after[name] == pytest.approx(4 * before[name]) for name in named if named[name] in sorts)


def test_whatever_is_said_to_change_it_changes_the_hunt():
    board = board_of(TWO_AMPS.replace("{kind: overdrive}", "{kind: wah, bypass: buffered}"))
    tells = {cause.tells for kind in HEARD for cause in causes(situation(board, Symptom(kind=kind)))} - {None}
    assert tells | set(POINTS_AT) == set(CHANGES) and not tells & set(POINTS_AT)


def test_a_missing_earth_ends_in_stop_and_ask():
    hunt = hunt_of(TWO_AMPS, kind="buzz", changes_with=["touching-strings"])
    while (test := hunt.next_test) is not None:
        hunt.answer("bad" if "no earth" in test.covers else "good")
    assert hunt.ending is Ending.STOP and "a qualified person" in hunt.found[0].mend


def test_one_amplifier_alone_is_the_first_test_of_a_loop():
    both = TWO_AMPS.replace("{kind: valve}", "{kind: valve, class: I, earth_bond: hard}")
    assert hunt_of(both, kind="hum").next_test.id == "try earth loop"


def test_every_kind_has_weights_signs_and_rules_that_exist():
    assert set(FACTORS) == set(HEARD) == set(EXPLAINS) == {each.kind for each in SIGNATURES}
    named = {rule for rules in EXPLAINS.values() for rule in rules}
    assert named <= set(RULES), named - set(RULES)


@pytest.mark.parametrize("kind", HEARD)
@pytest.mark.parametrize("name", CLEAN)
def test_every_symptom_on_every_demo_board_ends(name, kind):
    """Whatever is answered: always good, always bad, or by turns."""
    for answers in (["good"], ["bad"], ["good", "bad"]):
        hunt = Hunt(demo(name), Symptom(kind=kind, when=["always"], comes_and_goes="no"))
        while hunt.next_test is not None:
            hunt.answer(answers[len(hunt.record) % len(answers)])
        assert hunt.ending in (Ending.FOUND, Ending.SEVERAL, Ending.STOP)
        assert len(hunt.record) <= len(hunt.probes)


@pytest.mark.parametrize("kind", HEARD)
@pytest.mark.parametrize("name", ["winter-tour", "builders-bench"])
def test_no_test_is_at_mains_voltage_and_none_opens_a_box(name, kind):
    hunt = Hunt(demo(name), Symptom(kind=kind, when=["always"]))
    for probe in hunt.probes:
        words = probe.do.lower()
        assert not any(word in words for word in ("mains", "at the wall", "230", "120 v", "open ", "cover", "lift", "fuse")), probe.do
        assert probe.kind is not ProbeKind.VOLTS or "dc volts" in words
        assert probe.ask.endswith("?") and probe.minutes > 0
        assert probe.covers <= {each.id for each in hunt.all}
    for each in hunt.all:
        assert each.mend.endswith(".")
    assert all(cause.ask.endswith("?") for cause in causes(hunt.situation))
