"""No text of ours suggests doing without a protective earth, and whatever touches mains says whose work it is.

Every text that a reader can meet is gone through: pages, lessons, rule pages, the language's descriptions, the reasons of the
thresholds, comments in the boards, and what every case of every rule makes the checker say. The detector itself is tried on
sentences of the kind that kill, and on those that it must let pass.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from boardwright.board.assemble import assemble
from boardwright.limits import LIMITS
from boardwright.rules.registry import RULES
from boardwright.rules.run import run
from boardwright.rules.verdict import Severity, Verdict
from boardwright.rules.wall import DEFER, UNSURE
from boardwright.spec.read import read
from boardwright.spec.schema import json_schema
from parity import cases_in

ROOT = Path(__file__).parents[1]

# --- the detector -------------------------------------------------------------------------------------------------

_EARTH = "|".join(
    (
        r"(?:protective|mains|safety|wall|amplifier'?s?|amp'?s?) (?:earths?|grounds?)",
        r"earth(?:ing)? (?:pins?|wires?|contacts?|conductors?|prongs?|leads?|terminals?|straps?)",
        r"ground (?:pins?|wires?|prongs?|contacts?)",
        r"third (?:pin|prong|wire)",
        r"(?:the|an|its|their|one|both|all|every|each|your) (?:\w+ )?earths?\b(?! loop)",
    )
)
_DEFEAT = "|".join(
    (
        r"lift(?:ing)?|remov(?:e|ing)|cut(?:ting)?|snip(?:ping)?|clip(?:ping)?|tap(?:e|ing) (?:over|off|up)|break(?:ing)?(?: off)?",
        r"bypass(?:ing)?|defeat(?:ing)?|disconnect(?:ing)?|unhook(?:ing)?|unsolder(?:ing)?|interrupt(?:ing)?|disabl(?:e|ing)",
        r"(?:leave|leaving|tak(?:e|ing)|pull(?:ing)?|bend(?:ing)?|fil(?:e|ing)|saw(?:ing)?) (?:\w+ ){0,3}?(?:off|out|away|back)",
        r"open(?:ing)?|(?:do|doing|go|going|run|running|play|playing) without|float(?:ing)?|insulat(?:e|ing)|isolat(?:e|ing)",
    )
)
_UNEARTHED = "|".join(
    (
        r"(?:two|2)[- ](?:pin|prong|core|wire) (?:adaptor|adapter|plug|cord|lead|cable)",
        r"(?:ground|earth)[- ]lift(?:ing)? (?:adaptor|adapter|plug|cord)",
        r"unearthed (?:adaptor|adapter|plug|outlet|cord)",
    )
)
_TAKE = r"use|using|fit|fitting|buy|try|trying|get|swap to|change to|put on|plug it into|goes? through|add"
_REFUSES = (
    r"\b(?:never|not|no|nobody|nothing|none|neither|nor|cannot|can't|don't|doesn't|isn't|must not|kill\w*|danger\w*"
    r"|instead of|rather than|is for|are for|wrong)\b"
)
_BE_DEFEATED = (
    r"(?:can|could|may|should|must|might) (?:safely )?be (?:lifted|removed|cut|interrupted|broken|disconnected|left out|taken off|bypassed)"
)

_IS_REFUSED = re.compile(r"\bis (?:never|not|no) (?:an? )?(?:answer|cure|way|help|option)\b", re.I)
_CLAUSE = re.compile(r"[.!?;:,()\n]|\s(?:and|but|then|or)\s")
_SUGGESTS = re.compile(rf"\b(?:{_DEFEAT})\b.*(?:{_EARTH})|(?:{_EARTH}).*\b{_BE_DEFEATED}", re.I)
_ADAPTS = re.compile(rf"\b(?:{_TAKE})\b.*(?:{_UNEARTHED})", re.I)


def suggestions(text: str) -> list[str]:
    """Clauses that suggest doing without a protective earth."""
    plain = re.sub(r"\s+", " ", re.sub(r"[`*_#>|]", "", re.sub(r"\n(?:[ \t]*\n|\s*[-*#|] )", ". ", text)))
    plain = re.sub(r"\b(\w+), (\w+) or (\w+)\b", r"\1 \2 \3", plain)  # a list of verbs is refused or suggested as a whole
    found = []
    for clause in _CLAUSE.split(plain):
        suspect = _SUGGESTS.search(clause) or _ADAPTS.search(clause)
        if suspect and not re.search(_REFUSES, clause[: suspect.end()], re.I) and not _IS_REFUSED.search(clause, suspect.end()):
            found.append(clause.strip())
    return found


@pytest.mark.parametrize(
    "bad",
    [
        "Lift the earth at amplifier two, and the hum is gone.",
        "If it is not quiet, lift the mains earth.",
        "Try lifting the protective earth of one amplifier.",
        "The hum stops when you remove the earth pin.",
        "Just tape over the ground prong.",
        "Disconnect all the mains earths but one.",
        "Use a two-pin adaptor on the second amplifier.",
        "To break the loop, cut the earth wire in one plug.",
        "You can fit a ground-lift plug.",
        "One mains earth may be left out.",
        "In a pinch, break off the third pin.",
        "The amplifier's earth can safely be interrupted.",
        "Never mind the rules and snip its earth.",
        "Put insulating tape on, or bend the earth contact back and disconnect the earth wire.",
        "Bypass the earth conductor with a switch.",
        "Play without the earth and it is quiet.",
        "Open the safety ground at one end.",
        "Isolate the mains earth instead of the audio lead.",
        "Open, lift or bypass the protective earth, whichever is easiest.",
    ],
)
def test_the_detector_hears_what_must_not_be_said(bad):
    assert suggestions(bad)


@pytest.mark.parametrize(
    "good",
    [
        "Never lift the earth of an amplifier.",
        "Nobody lifts a mains earth here, whatever it hums like.",
        "Break the loop on the signal side with an isolating transformer, never the earth.",
        "A ground-lift switch on a direct box parts the screen of an audio lead.",
        "Set the screen of `iso` to lifted. Every mains earth stays in place.",
        "The mains earth of `two` is interrupted in the cord `c2`.",
        "Doing without the earth pin is not an answer to hum.",
        "A signal lift is another thing.",
        "Never open, lift or bypass a protective earth: hum is cured on the signal side.",
        "Do not use a two-pin adaptor with three-pin gear.",
        "Put an isolator into its lead. The earth stays.",
    ],
)
def test_and_lets_pass_what_may_be(good):
    assert not suggestions(good)


# --- all texts ----------------------------------------------------------------------------------------------------


def _pages() -> Iterator[tuple[str, str]]:
    for file in sorted([*(ROOT / "docs").rglob("*.md"), *ROOT.glob("*.md")]):
        yield str(file.relative_to(ROOT)), file.read_text("utf-8")


def _boards() -> Iterator[tuple[str, str]]:
    for file in sorted([*(ROOT / "docs").rglob("*.yaml"), *(ROOT / "demo_boards").glob("*.yaml")]):
        comments = "\n".join(line.partition("#")[2] for line in file.read_text("utf-8").splitlines())
        yield str(file.relative_to(ROOT)), comments


def _source() -> Iterator[tuple[str, str]]:
    for file in sorted((ROOT / "checker/boardwright").rglob("*.py")):
        yield str(file.relative_to(ROOT)), file.read_text("utf-8")


def _language() -> Iterator[tuple[str, str]]:
    def descriptions(value):
        if isinstance(value, dict):
            if isinstance(value.get("description"), str):
                yield value["description"]
            for each in value.values():
                yield from descriptions(each)
        elif isinstance(value, list):
            for each in value:
                yield from descriptions(each)

    yield "the language's descriptions", "\n\n".join(descriptions(json_schema()))
    yield "the reasons of the thresholds", "\n\n".join(f"{limit.why}. {limit.source}" for limit in LIMITS.values())


def _texts() -> list:
    texts = [*_pages(), *_boards(), *_source(), *_language()]
    return [pytest.param(text, id=name) for name, text in texts]


@pytest.mark.parametrize("text", _texts())
def test_no_text_suggests_doing_without_a_protective_earth(text):
    assert not suggestions(text)


def _said():
    """What every case of every rule makes the checker say."""
    for file in sorted((ROOT / "tests/rules").glob("*/*.yaml")):
        if file.stem not in RULES:
            continue
        for name, case in cases_in(file).items():
            for rule, judged in run(assemble(read(case["board"], fragment=True)), [file.stem]).judgements:
                if judged.verdict in (Verdict.TRIPS, Verdict.CANNOT_TELL):
                    yield f"{file.stem}: {name}", rule, judged


@pytest.fixture(scope="module")
def said():
    found = list(_said())
    assert len(found) > 200
    return found


def test_no_finding_suggests_doing_without_a_protective_earth(said):
    for where, _, judged in said:
        assert not suggestions(f"{judged.sentence}\n\n{judged.remedy}\n\n{judged.question}"), where


# --- whose work it is ---------------------------------------------------------------------------------------------

_QUALIFIED = re.compile(r"qualified person|licensed electrician", re.I)
_CODE = re.compile(r"electrical code", re.I)


def test_every_finding_on_mains_defers_to_the_code_and_to_a_qualified_person(said):
    seen = 0
    for where, rule, judged in said:
        if judged.verdict is Verdict.TRIPS and (rule.family == "mains" or (judged.severity is Severity.DANGER and rule.family == "earth")):
            assert judged.remedy.endswith(DEFER), where
            seen += 1
    assert seen > 50


def test_every_remedy_that_leaves_the_mains_earth_alone_says_whom_to_ask(said):
    for where, rule, judged in said:
        if rule.family == "earth" and re.search(r"mains earth", judged.remedy):
            assert _QUALIFIED.search(judged.remedy) and _CODE.search(judged.remedy), where


def test_every_question_about_mains_says_what_to_do_if_in_doubt(said):
    for where, rule, judged in said:
        if judged.verdict is Verdict.CANNOT_TELL and judged.severity is Severity.DANGER and rule.family in ("earth", "mains"):
            assert judged.question.endswith(UNSURE) or _QUALIFIED.search(judged.question), where


def test_every_rule_page_on_mains_defers():
    for name, rule in RULES.items():
        touches = rule.family == "mains" or re.search(r"mains (?:earth|cord)", rule.page)
        if touches and rule.family in ("mains", "earth"):
            assert _QUALIFIED.search(rule.page) or _CODE.search(rule.page), name
        if rule.family == "mains":
            assert _QUALIFIED.search(rule.page) and _CODE.search(rule.page), name


@pytest.mark.parametrize(("name", "text"), [pytest.param(name, text, id=name) for name, text in _pages()])
def test_every_page_that_touches_mains_defers(name, text):
    if name.startswith("docs/") and len(re.findall(r"\bmains\b", text, re.I)) >= 3:
        assert _QUALIFIED.search(text) or re.search(r"licensed person", text), name
        assert _CODE.search(text) or "cautions.md" in text, name


_INSTRUCTS = re.compile(
    r"\b(?:solder|wire|connect|attach|crimp|screw|strip|join|run)\b[^.]*\b"
    r"(?:live|neutral|hot wire|line wire|brown wire|blue wire|green wire|green-yellow|mains wires?|mains terminals?)\b",
    re.I,
)


def test_nothing_reads_as_an_instruction_to_wire_mains(said):
    texts = [*_pages(), *((rule, RULES[rule].page) for rule in RULES), *((where, f"{judged.sentence} {judged.remedy}") for where, _, judged in said)]
    for where, text in texts:
        for sentence in re.split(r"[.!?]\s", text):
            found = _INSTRUCTS.search(sentence)
            assert not found or re.search(_REFUSES, sentence, re.I), (where, sentence)
    assert _INSTRUCTS.search("Connect the live wire to the left terminal")


def test_dangers_are_told_calmly(said):
    for where, _, judged in said:
        text = judged.sentence + judged.remedy + judged.question
        assert "!" not in text and not re.search(r"\b[A-Z]{5,}\b", text.replace("GFCI", "")), where
        assert "safe" not in re.findall(r"[a-z]+", text), where
