"""What people call things: asked for by the words that they use, and answered with ours."""

from __future__ import annotations

import pytest

from boardwright.spec.called import CALLED
from boardwright.spec.read import read
from boardwright.spec.schema import json_schema


def _guess(text: str) -> str:
    [problem] = read(text).problems
    return problem.message


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("chain: [guitar > combo]", "audio"),
        ("signal_chain: [guitar > combo]", "audio"),
        ("Signal Path: [guitar > combo]", "audio"),
        ("psu: {brick: {class: II}}", "supplies"),
        ("power: {brick: {class: II}}", "supplies"),
        ("adapters: {brick: {class: II}}", "supplies"),
        ("effects: {echo: {kind: delay}}", "pedals"),
        ("amplifiers: {combo: {kind: valve}}", "amps"),
        ("laptops: {mine: {power: battery}}", "computers"),
        ("scenes: {verse: {hub: [1]}}", "presets"),
        ("amps: {combo: {kind: tube}}", "valve"),
        ("amps: {combo: {kind: transistor}}", "solid-state"),
        ("amps: {pa: {kind: mixing desk}}", "desk"),
        ("pedals: {glow: {kind: tube}}", "valve-preamp"),
        ("pedals: {echo: {kind: echo}}", "delay"),
        ("pedals: {a: {kind: auto-wah}}", "envelope-filter"),
        ("pedals: {a: {voltage: 9V dc}}", "needs"),
        ("pedals: {a: {powered_by: brick.1}}", "feed"),
        ("pedals: {a: {type: delay}}", "kind"),
        ("pedals: {a: {dimensions: [1, 2, 3]}}", "size"),
        ("supplies: {a: {outputs: {1: 9V dc centre-negative 100mA}}}", "outlets"),
        ("supplies: {a: {outlets: {1: {voltage: 9V dc centre-negative 100mA}}}}", "gives"),
    ],
)
def test_what_people_call_it_is_answered_with_our_word(written, meant):
    assert f"Did you mean `{meant}`?" in _guess(written)


def test_what_is_only_misspelt_is_still_guessed_by_its_spelling():
    assert "Did you mean `mains`?" in _guess("mians: {on_board: no}")
    assert "Did you mean `pedals`?" in _guess("pedlas: {}")


def test_every_word_that_is_offered_is_in_the_language():
    schema = json_schema()
    words = {*schema["properties"], *(key for model in schema["$defs"].values() for key in model.get("properties", {}))}
    words |= {each for each in _strings(schema) if isinstance(each, str)}
    assert {word for others in CALLED.values() for word in others} <= words


def _strings(node):
    if isinstance(node, dict):
        yield from node.get("enum", ())
        for value in node.values():
            yield from _strings(value)
    elif isinstance(node, list):
        for value in node:
            yield from _strings(value)
