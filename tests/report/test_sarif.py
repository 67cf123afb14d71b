"""SARIF against the OASIS schema, and against what the standard asks for beyond it.

The schema is that of version 2.1.0, from the npm package @microsoft/jest-sarif 1.0.0-beta.0 (lib/schemas/sarif-2.1.0-rtm.5.json, MIT).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft4Validator

from boardwright.report.sarif import FINGERPRINT, LEVELS, Judged, to_sarif
from boardwright.rules.registry import RULES
from boardwright.rules.verdict import Severity
from parity import boards, report_on

SCHEMA = json.loads((Path(__file__).parents[1] / "standards/sarif-2.1.0.schema.json").read_text("utf-8"))
VALIDATOR = Draft4Validator(SCHEMA, format_checker=Draft4Validator.FORMAT_CHECKER)

SUPPLY = "supplies: {s: {isolated: yes, total: 5 W, outlets: {1: 9V dc centre-negative 100mA, 2: 9V dc centre-negative 100mA}}}\n"
FAULTY = SUPPLY + "pedals:\n  a: {kind: chorus, needs: 9V dc centre-negative 200mA, feed: s.1}\n"
ACCEPTED = SUPPLY + (
    "pedals:\n  a: {kind: chorus, needs: 9V dc centre-negative 90mA, feed: s.1}\n"
    "accept: [{rule: outlet-headroom-thin, for: [a], because: it never gets warm}, {rule: bend-too-tight, for: [a], because: it is not}]\n"
)


def log(*texts, site=None):
    return json.loads(to_sarif((Judged(f"{n}.yaml", text, report_on(text)) for n, text in enumerate(texts)), site))


def results(text):
    return log(text)["runs"][0]["results"]


def utf16(lines, at, of):
    """The text of a region, by the standard's own columns: units of UTF-16, the end exclusive (3.30)."""
    start, end = ((at[f"{which}Line"] - 1, 2 * (at[f"{which}Column"] - 1)) for which in ("start", "end"))
    assert start[0] == end[0], of
    return lines[start[0]].encode("utf-16-le")[start[1] : end[1]].decode("utf-16-le")


def regions(node):
    if isinstance(node, dict):
        yield from [node["region"]] if "region" in node else []
        for each in node.values():
            yield from regions(each)
    elif isinstance(node, list):
        for each in node:
            yield from regions(each)


def test_the_schema_is_that_of_the_standard():
    Draft4Validator.check_schema(SCHEMA)
    assert SCHEMA["title"].startswith("Static Analysis Results Format (SARIF) Version 2.1.0")
    assert not VALIDATOR.is_valid({"version": "2.1.0", "runs": [{"tool": {}}]})


def test_every_board_keeps_to_the_schema():
    written = json.loads(to_sarif((Judged(f"{n}.yaml", text, report_on(text)) for n, (_, text) in enumerate(boards())), "https://example.org/boards/"))
    assert not [f"{'/'.join(map(str, error.absolute_path))}: {error.message}" for error in VALIDATOR.iter_errors(written)]
    (run,) = written["runs"]
    rules = run["tool"]["driver"]["rules"]
    assert len({rule["id"] for rule in rules}) == len(rules) > 60
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]  # 3.27.6
        assert result["kind"] == "fail" or result["level"] == "none"  # 3.27.10
        location = result["locations"][0]["physicalLocation"]["artifactLocation"]
        assert run["artifacts"][location["index"]]["location"]["uri"] == location["uri"]  # 3.4.5
    for rule in rules:
        assert rule["id"] not in RULES or rule["helpUri"] == f"https://example.org/boards/reference/rules/{rule['id']}/"


def test_nothing_of_a_report_is_left_out():
    for _, text in boards():
        report = report_on(text)
        expected = [
            *[("unreadable-text", "fail") for _ in report.problems],
            *[(finding.rule, "fail") for finding in report.findings],
            *[(question.rule, "open") for question in (*report.check_first, *report.undecided)],
            *[(accepted.rule, "fail") for accepted in report.accepted],
            *[("unused-accept", "informational") for _ in report.unused_accepts],
        ]
        (run,) = json.loads(to_sarif([Judged("b.yaml", text, report)]))["runs"]
        assert [(each["ruleId"], each["kind"]) for each in run["results"]] == expected
        looked_at = {each.rule for each in report.coverage if not each.not_applicable}
        assert run["artifacts"][0]["properties"]["coverage"].keys() == looked_at


def test_severities_become_levels():
    assert {level.value: LEVELS[level] for level in Severity} == {"danger": "error", "fault": "error", "risk": "warning", "advice": "note"}
    (found,) = [each for each in results(FAULTY) if each["ruleId"] == "outlet-current-overdrawn"]
    assert found["level"] == "error" and found["properties"] == {"severity": "fault"}


def test_what_is_accepted_is_suppressed_with_its_reason_and_a_needless_accept_is_told():
    by_rule = {each["ruleId"]: each for each in results(ACCEPTED)}
    suppression = {"kind": "inSource", "status": "accepted", "justification": "it never gets warm"}
    assert by_rule["outlet-headroom-thin"]["suppressions"] == [suppression]
    assert "bend-too-tight" in by_rule["unused-accept"]["message"]["text"]


@pytest.mark.parametrize("name", ["naïve", "𝄞𝄞 clef", "日本 fuzz"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_columns_count_units_of_utf16(name, line_end):
    text = f'board: {{name: "{name}", purpozz: x}}\n'.replace("\n", line_end)
    (problem,) = [each for each in results(text) if each["ruleId"] == "unreadable-text"]
    assert utf16(text.splitlines(), problem["locations"][0]["physicalLocation"]["region"], name) == "purpozz"
    assert problem["partialFingerprints"][FINGERPRINT].endswith(":1")


def test_every_region_lies_in_its_text():
    for name, text in boards():
        lines = text.replace("\r\n", "\n").split("\n")
        for at in regions(results(text)):
            first, last = lines[at["startLine"] - 1], lines[min(at["endLine"], len(lines)) - 1]
            assert 1 <= at["startColumn"] <= 1 + len(first.encode("utf-16-le")) // 2, name
            assert 1 <= at["endColumn"] <= 1 + len(last.encode("utf-16-le")) // 2, name


def test_a_fix_says_what_the_offered_edit_says():
    text = "board: {name: 𝄞, framme: {size: [500, 300]}}\n"
    offered = report_on(text).problems[0].edits[0]
    (change,) = results(text)[0]["fixes"][0]["artifactChanges"]
    (replacement,) = change["replacements"]
    assert replacement["insertedContent"]["text"] == offered.edits[0].text == "frame"
    assert utf16(text.splitlines(), replacement["deletedRegion"], text) == "framme"


def test_braces_that_mean_themselves_are_doubled():
    # 3.11.5: a single one would begin a placeholder.
    for result in results("pedals: {'{0}': {kindd: fuzz, needs: 9V}}\n"):
        assert "{" not in result["message"]["text"].replace("{{", "") and "}" not in result["message"]["text"].replace("}}", "")


def fingerprints(text):
    return {(each["ruleId"], each["kind"], each["partialFingerprints"][FINGERPRINT]) for each in results(text)}


def test_fingerprints_outlive_edits_elsewhere():
    before = fingerprints(FAULTY)
    moved = "# Written down on a train.\n\n" + FAULTY.replace("  a:", "  quiet: {kind: tuner, needs: 9V dc centre-negative 10mA, feed: s.2}\n  a:")
    assert ("outlet-current-overdrawn", "fail") in {each[:2] for each in before}
    assert before <= fingerprints(moved)
    chain = "audio: [guitar > a > amp]\namps: {amp: {}}\n"
    led = "audio: [other > b > amp, guitar > a > amp]\namps: {amp: {}}\npedals: {b: {kind: fuzz}}\nguitar: {}\n"
    assert len(fingerprints(chain)) == len(results(chain)) and len(fingerprints(led)) == len(results(led)), "no two are alike"


def test_fingerprints_tell_matters_apart():
    for _, text in boards():
        every = [each["partialFingerprints"][FINGERPRINT] for each in results(text)]
        assert len(set(every)) == len(every)


def test_several_boards_are_one_run():
    (run,) = log(FAULTY, SUPPLY, FAULTY)["runs"]
    assert [each["location"]["uri"] for each in run["artifacts"]] == ["0.yaml", "1.yaml", "2.yaml"]
    places = {each["locations"][0]["physicalLocation"]["artifactLocation"]["index"] for each in run["results"]}
    assert places >= {0, 2}
