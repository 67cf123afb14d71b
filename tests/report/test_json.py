"""The answer in JSON: its schema is valid, every answer keeps to it, and nothing is lost on the way."""

from __future__ import annotations

import json

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator
from pydantic import TypeAdapter

import boardwright
from board_texts import as_text, power_boards
from boardwright.browser import answer
from boardwright.report.json import json_schema, to_json
from boardwright.report.report import Report
from boardwright.spec.schema import json_schema as board_schema
from parity import pieces, whole_boards

BOARDS = [*whole_boards(), *list(pieces())[::9]]
BROKEN = {"nothing": "", "an essay": "Dear shop\n", "a broken one": "pedals:\n  a: {kind: fuzz\n  b: {kind: 7}\n", "astral": "pedals: {🎸: {kind: fuzz, needs: 9}}\n"}


@pytest.fixture(scope="module")
def validator():
    return Draft202012Validator(json_schema())


@pytest.mark.parametrize("schema", [json_schema, board_schema])
def test_the_schemas_are_schemas(schema):
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("text", [*(text for _, text in BOARDS), *BROKEN.values()], ids=[*(name for name, _ in BOARDS), *BROKEN])
def test_every_report_keeps_to_its_schema_and_survives_the_journey(text, validator):
    report = boardwright.check(text)
    written = json.loads(to_json(report))
    assert written == TypeAdapter(Report).dump_python(report, mode="json")  # pydantic's own way from the same classes
    validator.validate(written)


@given(power_boards())
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_so_does_the_report_on_any_board(validator, board):
    validator.validate(json.loads(to_json(boardwright.check(as_text(board)))))


def test_every_field_of_the_schema_is_required_and_none_is_free():
    def walk(schema):
        if isinstance(schema, dict):
            if schema.get("type") == "object" and "properties" in schema:
                assert set(schema.get("required", ())) >= set(schema["properties"]) - {"schema"}, schema
            for each in schema.values():
                walk(each)
        elif isinstance(schema, list):
            for each in schema:
                walk(each)

    walk(json_schema())


def test_the_page_counts_columns_as_javascript_does():
    text = "guitar: {pickups: 🎸🎸, lead: 9}\n"
    here = boardwright.check(text).problems[1].at
    there = json.loads(answer(text))["problems"][1]["at"]
    assert there["column"] == here.column + 2 and there["end_column"] == here.end_column + 2
    assert text.encode("utf-16-le")[2 * (there["column"] - 1) : 2 * (there["end_column"] - 1)].decode("utf-16-le") == "9"


def test_whatever_ends_a_line_columns_are_counted_within_it():
    """YAML 1.2.2, section 5.4: a lone carriage return ends a line too."""
    for end in ("\n", "\r\n", "\r"):
        (problem,) = json.loads(answer(f"guitar: {{pickups: single-coil}}{end}board: {{name: 🎸🎸, purpozz: home}}{end}"))["problems"]
        assert (problem["at"]["line"], problem["at"]["column"]) == (2, 1 + len("board: {name: 🎸🎸, ".encode("utf-16-le")) // 2), repr(end)


def test_of_a_flood_of_problems_the_first_are_shown_and_the_rest_counted():
    report = boardwright.check("pedals:\n" + "".join(f"  p{n}: {{kind: nonsense}}\n" for n in range(1000)))
    assert len(report.problems) == 201
    assert [problem.at.line for problem in report.problems] == list(range(2, 203))
    assert report.problems[-1].message.startswith("There are 800 more things like these.")
    assert "cannot be read in 1000 places" in report.headline
