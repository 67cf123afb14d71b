"""A hostile text of each kind, those that once did harm, and that harm is noticed. `make fuzz` goes on with more."""

import json

import pytest

from boardwright.browser import FORMS, answer, book, hunt, write
from boardwright.spec.schema import json_schema
from fuzz.reader import try_text, wrong_in
from fuzz.texts import KINDS, MARK, SCRIPTS, hostile, scripted_board

ONCE = (19,)
"""Texts that once brought a traceback."""


@pytest.mark.parametrize("number", [*range(len(KINDS)), *ONCE])
def test_a_hostile_text_does_no_harm(number):
    tried = try_text(number)
    # Time depends on the machine: its bound is held by `make fuzz`, and a hang by the copy's own limit.
    assert not [said for said in tried.wrong.split("; ") if said and not said.endswith(" s")]


def test_a_number_is_one_text_and_kinds_take_turns():
    assert hostile(7) == hostile(7) != hostile(7 + len(KINDS))
    assert [hostile(number)[0] for number in range(len(KINDS))] == list(KINDS)
    assert MARK in hostile(list(KINDS).index("script in every field"))[1]


def test_harm_is_noticed():
    said = {"headline": "x", "problems": [], "drawings": {}}
    assert not wrong_in("board:", said)
    assert wrong_in("board:", said | {"headline": ""})
    assert wrong_in("board:", said | {"problems": [{"message": "x", "span": {"line": 9}}]})
    for drawing in ("<svg><g></svg>", "<svg><script/></svg>", "<svg onload='x()'/>", "<svg><a href='javascript:x()'/></svg>"):
        assert wrong_in("board:", said | {"drawings": {"power": drawing}})


def keys_in(value):
    if isinstance(value, dict):
        yield from value
    for each in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from keys_in(each)


def test_a_scripted_board_has_every_field_of_the_language():
    schema = json_schema()
    fields = {key for model in (schema, *schema["$defs"].values()) for key in model.get("properties", {})}
    assert fields - {*keys_in(json.loads(scripted_board("x")))} == {"devices"}, "another name for `pedals`"


@pytest.mark.parametrize("words", ["".join(SCRIPTS[:3]), "unknown"], ids=["a script", "unknown"])
def test_a_board_with_the_same_words_in_every_field_comes_out_of_every_door(words):
    text = scripted_board(words)
    assert json.loads(answer(text))["headline"]
    assert "<script>document" not in list(book(text))[-1]
    assert all(write(text, form) for form in FORMS)
    assert json.loads(hunt(text, json.dumps({"heard": "silent", "answers": ["good"]})))["choices"]
