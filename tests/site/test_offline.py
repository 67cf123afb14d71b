"""What the site's build tells the browser to keep."""

from __future__ import annotations

import hashlib
import json
import shutil

import pytest

from boardwright.rules.registry import RULES
from boardwright.site.offline import write_offline
from built_site import ROOT, Site

DIST = ROOT / "checker/browser/dist"
CHECKER = "assets/checker"

@pytest.fixture(scope="module")
def listed(site: Site) -> dict[str, dict[str, str]]:
    return json.loads((site.folder / "offline.json").read_text("utf-8"))


def test_every_page_is_kept(site: Site, listed):
    assert set(site.pages) <= {*listed["pages"], *listed["checker"]}
    assert {address for address in site.pages if address in listed["checker"]} == {rule.page_link for rule in RULES.values()}


def test_what_pages_need_is_kept_with_them(site: Site, listed):
    for address, page in site.pages.items():
        for each in page.elements:
            loaded = each.tag == "link" and each.attributes.get("rel") in ("stylesheet", "icon")
            link = each.attributes.get("src") or (each.attributes.get("href") if loaded else None)
            if link and not link.startswith("data:"):
                assert site.resolve(address, link)[0] in listed["pages"], f"{address}: {link}"


def test_the_checker_is_kept_apart_and_without_what_no_check_loads(listed):
    first_visit = json.loads((DIST / "manifest.json").read_text("utf-8"))["first_visit"]
    assert {f"{CHECKER}/{name}" for name in first_visit} <= set(listed["checker"])
    assert not [path for path in listed["pages"] if "pyodide-" in path or "/packed/" in path]
    assert not [path for part in listed.values() for path in part if path.endswith("python_stdlib.zip")]


def test_each_file_is_listed_with_its_hash_and_the_version_is_that_of_the_list(site: Site, listed):
    for part in listed.values():
        for address, hashed in part.items():
            assert hashlib.sha256(site.file(address).read_bytes()).hexdigest().startswith(hashed), address
    version = hashlib.sha256((site.folder / "offline.json").read_bytes()).hexdigest()[:32]
    assert (site.folder / "offline.js").read_text("utf-8").startswith(f'const VERSION = "{version}";\n')


def test_the_version_changes_with_the_content_and_with_nothing_else(site: Site, tmp_path):
    copy = tmp_path / "site"
    shutil.copytree(site.folder, copy, ignore=shutil.ignore_patterns("reference", "boards"))

    def version() -> str:
        write_offline(copy, DIST, CHECKER)
        return (copy / "offline.js").read_text("utf-8").partition("\n")[0]

    first = version()
    (copy / "sitemap.xml").write_text("another date", "utf-8")
    assert version() == first
    lesson = copy / "lessons/current/index.html"
    lesson.write_text(lesson.read_text("utf-8") + " ", "utf-8")
    assert version() != first
