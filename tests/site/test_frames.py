"""The frames that shops show: what they say is what the report says, and they load nothing from elsewhere."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
import zlib

import pytest

from boardwright.site.frames import FOLDER, HEIGHT
from built_site import ROOT, Document, Site
from parity import shown_boards

BOARDS = shown_boards()
WHOLE = list(BOARDS.by_path.values())


@pytest.mark.parametrize("shown", [pytest.param(each, id=each.name) for each in WHOLE])
def test_a_frame_says_what_the_report_says_and_links_to_its_board(site: Site, shown):
    page = Document(site.file(f"{FOLDER}/{shown.name}.html").read_text("utf-8"))
    assert [each.text for each in page.all("h1")] == [shown.title]
    assert shown.report.headline.replace("`", "") in page.all("main")[0].text
    assert "local electrical code" in page.all("footer")[0].text
    assert [each.attributes["href"] for each in page.all("a")] == [f"../{shown.checker_link}"]


def test_no_frame_loads_or_runs_anything_but_its_sheet_and_its_script(site: Site):
    frames = sorted((site.folder / FOLDER).glob("*.html"))
    assert len(frames) == len(WHOLE) + 1
    for file in frames:
        page = Document(file.read_text("utf-8"))
        loaded = [each.attributes.get("src") or each.attributes.get("href") for each in page.elements if each.tag in ("script", "link", "img", "iframe")]
        assert loaded == ["data:,", "../assets/checker/frame.css", "../assets/checker/frame.mjs"], file.name
        assert all(not each.text.strip() for each in page.all("script")) and not page.all("style")
        assert not [name for each in page.elements for name in each.attributes if name.startswith("on") or name == "style"]
        (policy,) = [each.attributes["content"] for each in page.all("meta") if each.attributes.get("http-equiv") == "Content-Security-Policy"]
        assert "default-src 'none'" in policy and "unsafe-inline" not in policy and "unsafe-eval'" not in policy.replace("wasm-unsafe-eval", "")
        assert len(page.ids) == len(set(page.ids))


def test_pictures_are_whole_drawings(site: Site):
    pictures = list((site.folder / FOLDER).glob("*.svg"))
    assert len(pictures) > len(BOARDS.examples)
    for file in pictures:
        assert ElementTree.parse(file).getroot().tag == "{http://www.w3.org/2000/svg}svg"


def test_everybody_means_the_same_height():
    told = [int(each) for each in re.findall(r'height="(\d+)"', (ROOT / "docs/for-shops.md").read_text("utf-8"))]
    script = (ROOT / "checker/browser/page/share_view.mjs").read_text("utf-8")
    assert {*told, int(re.search(r"FRAME_HEIGHT = (\d+)", script)[1])} == {HEIGHT}


def test_the_length_of_a_link_that_the_page_names_is_that_of_the_board():
    """Packed as the checker's page packs it (zlib, RFC 1950, in base64url, RFC 4648), behind an address of usual length."""
    prose = (ROOT / "docs/for-shops.md").read_text("utf-8")
    told = int(re.search(r"longest link of any of our worked\s+examples has about ([\d,]+)", prose)[1].replace(",", ""))
    links = [len("https://boards.example/checker/#board=1.") + 4 * len(zlib.compress(each.text.encode())) / 3 for each in BOARDS.examples]
    assert max(links) == pytest.approx(told, rel=0.05)
