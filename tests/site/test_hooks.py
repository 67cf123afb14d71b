"""What the hooks say when a part of the site is missing, and what they add to it."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from mkdocs.config import load_config
from mkdocs.exceptions import PluginError

from boardwright.site import hooks
from built_site import ROOT


@pytest.fixture
def config():
    loaded = load_config(str(ROOT / "mkdocs.yml"))
    loaded.plugins._current_plugin = "docs/hooks.py"  # as while MkDocs calls a hook
    return loaded


@pytest.fixture
def without_checker(tmp_path, monkeypatch):
    """A project whose checker has not been built."""
    page = tmp_path / "checker/browser/page"
    page.mkdir(parents=True)
    (page / "page.css").write_text('@import "./palette.css";\np { margin: 0; }\n', "utf-8")
    (page / "palette.css").write_text(":root { --ink: #000; }\n", "utf-8")
    monkeypatch.setattr(hooks, "_build", SimpleNamespace(root=tmp_path), raising=False)
    monkeypatch.delenv(hooks.WITHOUT_CHECKER, raising=False)


def test_a_site_without_its_checker_is_refused_in_plain_words(config, without_checker):
    with pytest.raises(PluginError, match=r"the checker has not been built.*BOARDWRIGHT_SITE_WITHOUT_CHECKER=1"):
        list(hooks._checker(config))


def test_a_site_without_its_checker_can_be_asked_for(config, without_checker, monkeypatch):
    monkeypatch.setenv(hooks.WITHOUT_CHECKER, "1")
    (styles,) = hooks._checker(config)
    assert styles.src_uri == "assets/checker/page.css"
    assert styles.content_string == ":root { --ink: #000; }\n\np { margin: 0; }\n"


def test_what_the_nav_does_not_name_is_added_behind_its_index():
    hooks.on_config(load_config(str(ROOT / "mkdocs.yml")))
    nav = [{"Learn": ["lessons/index.md", {"Power": ["lessons/labels.md"]}]}, {"See": ["examples/index.md"]}]
    hooks._complete(nav)
    learn, see = nav[0]["Learn"], nav[1]["See"]
    assert learn[:2] == ["lessons/index.md", {"Power": ["lessons/labels.md"]}]
    assert "lessons/current.md" in learn and "lessons/labels.md" not in learn
    twins = ["examples/spare-room-five.md", "examples/spare-room-five-before.md"]
    place = see.index(twins[0])
    assert see[place : place + 2] == twins
