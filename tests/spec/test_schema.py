"""The JSON Schema of a board: valid by itself, and in agreement with the reader on every board that we ship."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from boardwright.spec.read import read
from boardwright.spec.schema import json_schema

ROOT = Path(__file__).parents[2]
BOARDS = sorted([*ROOT.glob("demo_boards/*.yaml"), *ROOT.glob("docs/lessons/boards/*.yaml")])


@pytest.fixture(scope="module")
def validator():
    schema = json_schema()
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def _plain(value):
    """YAML's numbers as keys, and its dates, become text, as in JSON."""
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, dict):
        return {str(key): _plain(each) for key, each in value.items()}
    return [_plain(each) for each in value] if isinstance(value, list) else value


def _load(text):
    return _plain(YAML(typ="safe", pure=True).load(text))


@pytest.mark.parametrize("board", BOARDS, ids=lambda path: path.stem)
def test_boards_that_can_be_read_fit_the_schema(board, validator):
    text = board.read_text("utf-8")
    assert not read(text).problems
    assert [error.message for error in validator.iter_errors(_load(text))] == []


@pytest.mark.parametrize(
    "text",
    [
        "pedls: {}",
        "pedals: {a: {kind: bitcrushed}}",
        "pedals: {a: {digitl: yes}}",
        "supplies: {s: {outlets: {1: {peek: 2 A}}}}",
        "audio: 3",
        "board: {frame: {size: [100]}}",
    ],
)
def test_what_the_reader_refuses_by_form_the_schema_refuses_too(text, validator):
    assert read(text).problems
    assert list(validator.iter_errors(_load(text)))
