"""Dangers are never hidden: not by what is left out, not by errors elsewhere, not by accepting, not by other findings."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from boardwright import check
from boardwright.board.assemble import assemble
from boardwright.report.text import CHECK_FIRST, HEADINGS, to_text
from boardwright.rules.registry import RULES
from boardwright.rules.run import run
from boardwright.rules.verdict import Severity, Verdict
from boardwright.spec.read import read
from parity import cases_in

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
DANGEROUS = [name for name, rule in RULES.items() if Severity.DANGER in rule.severities]
FAMILIES = sorted({RULES[name].family for name in DANGEROUS})

SEEN = {"damaged", "cover", "signs", "planned_work", "touch", "mark", "same_connectors", "ends"}
"""Keys that report what somebody saw. Without them nothing else hints at the hazard, so it is the look-over that must be asked for."""

LOOKED_OVER = "looked_over"


def _load(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text)


def _boards() -> Iterator[Any]:
    """Every case that trips at danger level."""
    for family in FAMILIES:
        for file in sorted((HERE / family).glob("*.yaml")):
            for name, case in cases_in(file).items():
                if case.get("severity") == "danger":
                    yield pytest.param(file.stem, case["board"], id=f"{file.stem}: {name}")


def _as_text(value: Any) -> Any:
    """As the board's own reader leaves scalars, so that a dumped board is read as it was written."""
    if isinstance(value, dict):
        return {str(key): _as_text(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_as_text(each) for each in value]
    return {True: "yes", False: "no", None: "unknown"}.get(value, str(value)) if not isinstance(value, str) else value


def _without(data: Any, path: tuple = ()) -> Iterator[tuple[tuple, Any]]:
    """The board once for each key in it at any depth, without that key."""
    if isinstance(data, dict):
        for key in data:
            here = (*path, key)
            rest = copy.deepcopy(data)
            del rest[key]
            yield here, rest
            for below, inner in _without(data[key], here):
                yield below, {**data, key: inner}
    elif isinstance(data, list):
        for place, each in enumerate(data):
            for below, inner in _without(each, (*path, place)):
                yield below, [*data[:place], inner, *data[place + 1 :]]


def _spoken(data: Any) -> tuple[bool, list[str]]:
    """Whether a danger trips on a board, and every question that danger rules ask about it."""
    judged = [each for _, each in run(assemble(read(json.dumps(data), fragment=True)), DANGEROUS).judgements]
    asked = [each.question for each in judged if each.verdict is Verdict.CANNOT_TELL and each.severity is Severity.DANGER]
    return any(each.verdict is Verdict.TRIPS for each in judged), asked


def _looked_over(data: Any) -> Any:
    """The board with the look-over done: nothing but the rest is left to ask about."""
    return {**data, "mains": {**data.get("mains", {}), LOOKED_OVER: "yes"}}


def _describes_mains(data: Any) -> bool:
    """Whether anything is left that plugs into the wall, or that holds high voltage by itself."""
    board = assemble(read(json.dumps(data), fragment=True))
    valves = any(pedal.kind == "valve-preamp" for pedal in board.spec.pedals.values())
    return bool(valves or board.wall.described or board.wall.links or any(item.says_mains for item in board.wall.items.values()))


@pytest.mark.parametrize(("name", "text"), list(_boards()))
def test_leaving_out_any_single_field_never_turns_a_danger_into_silence(name, text):
    data = _as_text(_load(text))
    outcome = run(assemble(read(json.dumps(data), fragment=True)), [name])
    found = [judged for _, judged in outcome.judgements if judged.verdict is Verdict.TRIPS]
    assert any(judged.severity is Severity.DANGER for judged in found), "the case trips as it is written"
    silent = []
    for path, rest in _without(data):
        trips, asked = _spoken(rest)
        if not trips and not asked and _describes_mains(rest):
            silent.append(path)
    assert not silent, f"silent without {silent}"


@pytest.mark.parametrize(("name", "text"), list(_boards()))
def test_a_look_over_answers_for_nothing_but_what_can_be_seen(name, text):
    """With the look-over done, what it cannot see must still be asked for by the questions that are about it."""
    data = _as_text(_load(text))
    assert LOOKED_OVER not in data.get("mains", {})
    silent = []
    for path, rest in _without(data):
        if any(_spoken(_looked_over(rest))) or _takes_the_thing_away(path, data):
            continue
        _, asked = _spoken(rest)
        if not SEEN & {each for each in path if isinstance(each, str)} or not any("looked over" in each for each in asked):
            silent.append(path)
    assert not silent, f"silent without {silent}"


def _takes_the_thing_away(path: tuple, data: Any) -> bool:
    """Whether what is left out is no field of a thing but the very thing that the danger is about, so that nothing is left of it."""
    named = path[0] in ("supplies", "amps", "pedals") and len(path) == 2
    on_the_wall = path[:1] == ("mains",) and len(path) > 1 and path[1] in ("cords", "inlets", "blocks", "enclosure") and len(path) <= 3
    field_of_enclosure = path[:2] == ("mains", "enclosure") and len(path) == 3
    return len(path) == 1 or named or (on_the_wall and not field_of_enclosure)


def test_every_rule_that_can_give_a_danger_has_a_dangerous_case():
    assert len(list(_boards())) >= 30
    assert {parameters.values[0] for parameters in _boards()} == set(DANGEROUS)


def test_what_somebody_saw_is_a_key_of_the_language():
    from boardwright.spec.schema import json_schema

    keys = {key for model in json_schema()["$defs"].values() for key in model.get("properties", {})}
    assert keys >= {*SEEN, LOOKED_OVER}


DANGER = "amps: {combo: {kind: valve, class: I}}\nmains: {cords: {c1: {to: combo, cores: 3, earth_lifted: yes}}}\n"


@pytest.mark.parametrize(
    "slip",
    [
        "pedals: {echo: {kind: dealy}}\n",
        "pedals: {echo: {needs: 9}}\n",
        "pedalz: {}\n",
        "supplies:\n  brick: {outlets: {1: 9V dc 100mA}}\n",
        "audio: [guitar > > combo]\n",
        "audio: [guitar > nobody > combo]\n",
        "pedals:\n  a: {kind: delay}\n  a: {kind: reverb}\n",
        'board: {name: "never closed}\n',
        "pedals:\n  echo: {kind: delay\n",
        "presets: [1, 2]\n",
        "place: {country: Germany}\n",
        "accept: [{rule: no-such-rule}]\n",
        "\t\n",
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_errors_elsewhere_do_not_hide_a_danger(slip, first):
    report = check(slip + DANGER if first else DANGER + slip)
    assert report.problems or slip == "\t\n"
    assert "mains-earth-lifted" in {finding.rule for finding in report.findings if finding.severity == "danger"}, report.problems


@pytest.mark.parametrize(
    "slip",
    [
        DANGER.replace("class: I}", "class: one}"),
        DANGER.replace("cores: 3", "cores: three"),
        DANGER.replace("earth_lifted: yes", "earth_lifted: perhaps"),
        DANGER.replace("earth_lifted", "earth_liftd"),
        DANGER.replace("to: combo", "to: cmbo"),
        DANGER.replace("kind: valve", "kind: tube"),
    ],
)
def test_an_error_in_the_dangerous_line_itself_asks_at_least(slip):
    report = check(slip)
    assert report.problems
    assert report.check_first or any(finding.severity == "danger" for finding in report.findings)


def test_a_danger_cannot_be_accepted():
    board = DANGER + "accept: [{rule: mains-earth-lifted, because: it hums otherwise}, {rule: mains-earth-lifted, for: combo}]\n"
    report = check(board)
    assert [finding.rule for finding in report.findings if finding.severity == "danger"] == ["mains-earth-lifted"]
    assert not report.accepted and len(report.unused_accepts) == 2


def test_a_question_about_a_danger_cannot_be_accepted():
    board = "amps: {combo: {kind: valve, class: I}}\naccept: [{rule: class-one-without-earth-contact, because: x}, {rule: mains-earth-lifted}]\n"
    assert [question.things[0].name for question in check(board).check_first] == ["combo", "all that plugs in"]


def test_a_danger_is_folded_under_nothing():
    report = check(DANGER.replace("cores: 3", "cores: 2"))
    dangers = {finding.rule for finding in report.findings if finding.severity == "danger"}
    assert {"mains-earth-lifted", "class-one-without-earth-contact"} <= dangers
    assert not any(folded.rule in dangers for finding in report.findings for folded in finding.folded)


EVERYTHING = (
    DANGER
    + """
place: {country: US}
supplies: {s: {class: II, input: 120V ac 60Hz, mark: unknown}}
pedals: {a: {kind: delay, needs: 9V dc centre-negative 5mA}}
"""
)


def test_dangers_stand_first_and_their_questions_right_behind():
    text = to_text(check(EVERYTHING))
    places = [text.index(heading) for heading in (HEADINGS[Severity.DANGER], CHECK_FIRST, HEADINGS[Severity.FAULT])]
    assert places == sorted(places)


def test_one_line_for_each_thing_whatever_rules_ask():
    report = check(
        'place: {country: "GB"}\namps: {combo: {kind: valve, class: I}, two: {kind: solid-state}}\n'
        "board: {frame: {size: [800, 400], material: metal}}\nmains: {on_board: yes, loose_wiring: unknown}\n"
    )
    things = [question.things[0].name for question in report.check_first]
    assert sorted(things) == ["all that plugs in", "combo", "mains", "two"]
    assert all(question.question.count("?") == 1 for question in report.check_first)


@pytest.mark.parametrize("name", ["practice-four", "spare-room-five"])
def test_clean_home_boards_have_no_finding_and_one_question_for_the_amplifier(name):
    report = check((ROOT / "demo_boards" / f"{name}.yaml").read_text("utf-8"))
    families = {each.rule: each.family for each in report.coverage}
    assert not [finding.rule for finding in report.findings if families[finding.rule] in FAMILIES]
    assert [question.things[0].name for question in report.check_first] == ["combo" if name == "spare-room-five" else "little"]


def test_a_low_voltage_board_off_the_mains_is_asked_for_a_look_over_and_no_more():
    board = "board: {for: stage}\nsupplies: {brick: {class: II, input: 100-240V ac 50/60Hz}}\n"
    report = check(board)
    assert [question.things[0].name for question in report.check_first] == ["all that plugs in"]
    report = check(board + "mains: {looked_over: yes}\n")
    assert not report.check_first and not [finding for finding in report.findings if finding.severity == "danger"]


@pytest.mark.parametrize("board", ["guitar: {lead: 3 m}\n", "supplies: {pack: {kind: battery-pack}}\n", "pedals: {a: {kind: delay, feed: battery}}\n"])
def test_where_nothing_plugs_into_the_wall_nobody_is_asked_to_look(board):
    assert not check(board).check_first
