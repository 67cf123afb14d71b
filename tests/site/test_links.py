"""Every link of the site leads somewhere, and so does every link that a finding carries."""

from __future__ import annotations

from urllib.parse import urlsplit

import pytest

from boardwright.rules.registry import HEADINGS, LESSONS, RULES
from built_site import ROOT, Site

EXAMPLE = "example="


def test_there_is_a_site(site: Site):
    assert len(site.pages) > len(RULES) + len(LESSONS) + 8


def test_every_link_and_anchor_leads_somewhere(site: Site):
    lost = []
    for address, page in site.pages.items():
        for link in (each.attributes["href"] or "" for each in page.all("a") if "href" in each.attributes):
            if urlsplit(link).scheme:
                continue
            target, anchor = site.resolve(address, link)
            if not site.file(target).is_file():
                lost.append(f"{address}: {link}")
            elif anchor.startswith(EXAMPLE):
                if not site.file(anchor.removeprefix(EXAMPLE)).is_file():
                    lost.append(f"{address}: {link}")
            elif anchor and anchor not in site.pages[target].ids:
                lost.append(f"{address}: {link}")
    assert lost == []


def test_everything_that_pages_load_is_there(site: Site):
    lost = []
    for address, page in site.pages.items():
        for each in page.elements:
            link = each.attributes.get("src") or (each.attributes.get("href") if each.tag == "link" else None)
            if link and not link.startswith("data:"):
                target, _ = site.resolve(address, link)
                of_the_checker = target.startswith("assets/checker/") and not (ROOT / "checker/browser/dist").is_dir()
                if not site.file(target).is_file() and not of_the_checker:
                    lost.append(f"{address}: {link}")
    assert lost == []


def test_no_page_uses_an_id_twice(site: Site):
    twice = {address: sorted({each for each in page.ids if page.ids.count(each) > 1}) for address, page in site.pages.items()}
    assert {address: ids for address, ids in twice.items() if ids} == {}


@pytest.mark.parametrize("name", RULES)
def test_a_findings_links_lead_to_its_lesson_and_its_page(site: Site, name: str):
    rule = RULES[name]
    lesson, anchor = rule.lesson_link.split("#")
    assert anchor in site.pages[lesson].ids
    page = site.pages[rule.page_link]
    assert page.all("h1")[0].text.rstrip("#").strip() == rule.title
    found = [each.text.rstrip("#").strip() for each in page.all("h2")]
    assert [each for each in found if each in HEADINGS] == list(HEADINGS)
    assert {"trips", "near-miss"} <= set(page.ids)
    index = site.pages["reference/rules/"]
    linked = {site.resolve("reference/rules/", each.attributes.get("href") or "") for each in index.all("a")}
    assert (rule.page_link, "") in linked
    assert (lesson, anchor) in linked


@pytest.mark.parametrize("name", RULES)
def test_a_lesson_leads_to_the_rule_that_it_teaches(site: Site, name: str):
    lesson = f"lessons/{RULES[name].lesson}/"
    linked = {site.resolve(lesson, each.attributes.get("href") or "")[0] for each in site.pages[lesson].all("a")}
    assert RULES[name].page_link in linked
