"""What the editor offers is what the checker reads: the words of the page are held to the models themselves."""

import json

import pytest

from boardwright.site.editor_words import editor_words
from boardwright.spec.language import ALIASES, SECTIONS, Shape
from boardwright.spec.read import _model_in, read
from parity import shown_boards


@pytest.fixture(scope="module")
def words():
    return json.loads(json.dumps(editor_words(shown_boards())))


def models():
    """Every model of the language by name, with those inside it."""
    found, left = {}, [kind.model for kind in SECTIONS.values()]
    while left:
        model = left.pop()
        if model.__name__ not in found:
            found[model.__name__] = model
            for info in model.model_fields.values():
                left += parts(info.annotation)
    return found


def parts(annotation):
    inner = _model_in(annotation)
    return ([inner] if inner else []) + [each for part in getattr(annotation, "__args__", ()) or () for each in parts(part)]


def test_it_has_every_section_with_its_shape(words):
    assert set(words["sections"]) == {*SECTIONS, *ALIASES}
    for key, kind in SECTIONS.items():
        said = words["sections"][key]
        assert (said["shape"], said["part"], said.get("short")) == (kind.shape.name.lower(), kind.model.__name__, kind.short)
        assert said["about"] and "``" not in said["about"]


def test_it_has_every_key_of_every_model_with_its_description(words):
    assert set(words["parts"]) == set(models())
    for name, model in models().items():
        said = {key: entry["about"] for key, entry in words["parts"][name].items()}
        assert said == {info.alias or key: info.description or "" for key, info in model.model_fields.items()}, name


@pytest.mark.parametrize("section", [key for key, kind in SECTIONS.items() if kind.shape is not Shape.ONE or key != "mains"])
def test_every_word_that_is_offered_can_be_read(words, section):
    said = words["sections"][section]
    for key, entry in words["parts"][said["part"]].items():
        if entry.get("shape") == "named" or (section == "pedals" and key == "mains"):
            continue
        for word in entry.get("words", ()):
            value = f"{{{key}: {word}}}"
            text = f"{section}: {value}\n" if said["shape"] == "one" else f"{section}: [{value}]\n" if said["shape"] == "list" else f"{section}: {{x: {value}}}\n"
            problems = [problem for problem in read(text).problems if key in problem.where]
            assert not problems, (text, problems)


def test_names_are_offered_where_names_are_due(words):
    parts = words["parts"]
    assert parts["Pedal"]["feed"]["names"] == parts["Feed"]["from"]["names"] == "outlet"
    assert parts["Feed"]["after"]["names"] == "thing"
    assert parts["AudioEntry"]["path"]["names"] == "chain"
    assert set(words["things"]) == {key for key, kind in SECTIONS.items() if kind.makes_things}


def test_it_is_small(words):
    """It travels with the first word that is offered."""
    import gzip

    assert len(gzip.compress(json.dumps(words, ensure_ascii=False, separators=(",", ":")).encode())) < 20_000


def test_pieces_name_sections_and_starters_are_in_order(words):
    for piece in words["pieces"]:
        assert set(piece["lines"]) <= set(SECTIONS) and {"title", "about", "then"} < set(piece)
    boards = {each.address: each for each in shown_boards().examples}
    assert len(words["starters"]) == 3
    for starter in words["starters"]:
        assert not boards[starter["address"]].report.findings
