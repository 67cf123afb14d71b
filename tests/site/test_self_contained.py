"""The site asks no other host for anything, and its own pages hold no code that a strict policy would forbid."""

from __future__ import annotations

import re
from collections import Counter
from urllib.parse import urlsplit

from built_site import Site

LOADING = {"src", "srcset", "poster", "data", "action", "formaction", "background", "manifest", "ping", "xlink:href"}

NAMES_ONLY = ("http://www.w3.org/",)
"""Names of XML vocabularies look like addresses and are never asked for."""

NEVER_ASKED = {
    "unpkg.com": "diagrams, and a stand-in for very old browsers; no page holds a diagram",
    "api.github.com": "figures of a repository, and no repository is named",
    "clipboardjs.com": "a comment",
    "bit.ly": "a comment",
    "lunrjs.com": "a comment",
    "tartarus.org": "a comment",
    "fontawesome.com": "a comment",
    "cdn.jsdelivr.net": "where Python's loader looks unless it is told otherwise; the worker tells it",
}
"""Hosts that scripts and styles of others know, each with why it is never asked. The browser tests watch the wire."""

THEME_SCRIPTS = (
    "__md_scope=new URL(",  # where the reader's choices are kept
    'var palette=__md_get("__palette")',  # the choice of light or dark
    "var target=document.getElementById(location.hash.slice(1))",  # opens a tab that the address names
)
"""How the theme's inline scripts begin."""


def test_no_page_loads_anything_from_another_host(site: Site):
    outside = []
    for address, page in site.pages.items():
        for each in page.elements:
            loaded = {name: value for name, value in each.attributes.items() if name in LOADING or (name == "href" and each.tag not in ("a", "area"))}
            outside += [f"{address}: <{each.tag} {name}={value}>" for name, value in loaded.items() if value and _is_elsewhere(value)]
            if each.tag == "meta" and (each.attributes.get("http-equiv") or "").lower() == "refresh":
                outside.append(f"{address}: refresh")
    assert outside == []


def _is_elsewhere(value: str) -> bool:
    parts = urlsplit(value)
    return bool(parts.netloc) or parts.scheme not in ("", "data")


def test_links_to_other_hosts_are_plain_and_few(site: Site):
    hosts = {urlsplit(each.attributes.get("href") or "").netloc for page in site.pages.values() for each in page.all("a")}
    assert hosts - {""} == set()


def test_styles_load_nothing_from_another_host(site: Site):
    for file in site.folder.rglob("*.css"):
        text = file.read_text("utf-8")
        loaded = re.findall(r"url\(\s*['\"]?([^'\")]+)", text) + re.findall(r"@import\s+['\"]([^'\"]+)", text)
        assert [each for each in loaded if _is_elsewhere(each)] == [], file
        assert _hosts(text) <= set(NEVER_ASKED), file


def test_scripts_know_no_host_that_is_not_accounted_for(site: Site):
    scripts = [*site.folder.rglob("*.js"), *site.folder.rglob("*.mjs")]
    assert scripts
    for file in scripts:
        if not _is_of_the_runtime(file.name):
            assert _hosts(file.read_text("utf-8")) <= set(NEVER_ASKED), file


def _is_of_the_runtime(name: str) -> bool:
    """Python itself, as published: it knows where it could come from, and is told to come from here."""
    return name.startswith("pyodide")


def _hosts(text: str) -> set[str]:
    found = re.findall(r"https?://[^\s\"'`<>\\)]+", text)
    return {host for each in found if not each.startswith(NAMES_ONLY) and (host := urlsplit(each).netloc) and "$" not in host}


def test_what_would_make_the_theme_ask_elsewhere_is_on_no_page(site: Site):
    for address, page in site.pages.items():
        for each in page.elements:
            assert "mermaid" not in each.classes, address
            assert each.attributes.get("data-md-component") != "source", address


def test_inline_scripts_are_the_themes_own(site: Site):
    foreign = []
    for address, page in site.pages.items():
        for script in page.all("script"):
            inline = not script.attributes.get("src") and script.attributes.get("type") != "application/json"
            if inline and not script.text.strip().startswith(THEME_SCRIPTS):
                foreign.append(f"{address}: {script.text.strip()[:60]}")
    assert foreign == []


def test_no_element_carries_a_script_in_an_attribute(site: Site):
    handlers = []
    for address, page in site.pages.items():
        for each in page.elements:
            handlers += [f"{address}: <{each.tag} {name}>" for name in each.attributes if name.startswith("on")]
            handlers += [f"{address}: {value}" for value in each.attributes.values() if (value or "").strip().lower().startswith("javascript:")]
    assert handlers == []


def test_classes_that_pages_use_are_dressed(site: Site):
    """A class that no sheet knows is a slip of the pen, in the generator or in the checker's page."""
    styles = " ".join(file.read_text("utf-8") for file in site.folder.rglob("*.css"))
    used = Counter(name for page in site.pages.values() for each in page.elements for name in each.classes if name.startswith("bw-"))
    assert len(used) > 20
    assert sorted(name for name in used if f".{name}" not in styles) == sorted(UNDRESSED & set(used))


UNDRESSED = {"bw-answer__foot"}
"""Named for scripts only."""
