"""What stands on the pages is what the checker and the files say."""

from __future__ import annotations

import json
import re
from dataclasses import fields

import jsonschema
import pytest

from boardwright.browser import answer
from boardwright.limits import LIMITS
from boardwright.report.json import to_plain
from boardwright.report.prose import say_limit
from boardwright.report.text import HEADINGS
from boardwright.rules.registry import RULES
from boardwright.rules.verdict import Severity
from boardwright.site.kinds import NAMES, read_kinds
from boardwright.site.language import example_of
from boardwright.site.limits_page import subjects
from boardwright.site.report_page import MEANINGS, classes
from boardwright.spec.language import SECTIONS
from boardwright.spec.read import read
from boardwright.spec.schema import fields_of
from built_site import ROOT, Site
from parity import shown_boards

BOARDS = shown_boards()


def words(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_every_board_is_served_as_it_is(site: Site):
    for shown in BOARDS.everything:
        assert site.file(shown.address).read_text("utf-8") == shown.text


def test_the_answer_to_every_whole_board_is_served_as_the_checker_gives_it(site: Site):
    for shown in BOARDS.by_path.values():
        assert site.file(shown.answer_address).read_text("utf-8") == answer(shown.text)


def test_the_checkers_page_names_the_board_that_it_opens_with(site: Site):
    page = site.pages["checker/"]
    (bench,) = (each for each in page.elements if "data-bench" in each.attributes)
    (box,) = page.all("textarea")
    assert site.file(bench.attributes["data-sample"] or "").read_text("utf-8").strip() == box.text.strip()


def test_the_text_of_a_board_survives_colouring_letter_by_letter(site: Site):
    """Also the proof that nothing in it was taken for markup."""
    shown = {code.text for page in site.pages.values() for code in page.all("code")}
    for board in [*BOARDS.examples, *(case for cases in BOARDS.cases.values() for case in cases.values())]:
        assert board.text.rstrip("\n") in {text.rstrip("\n") for text in shown}, board.name


def test_an_exercise_can_be_read_without_a_script(site: Site):
    found = {}
    for page in site.pages.values():
        for each in page.elements:
            if "data-exercise" in each.attributes:
                found[each.attributes["data-exercise"]] = (each, page)
    keys = {file.stem for file in (ROOT / "docs/lessons/keys").glob("*.yaml")}
    assert set(found) == keys
    for name, (bench, page) in found.items():
        text = (ROOT / "docs/lessons/boards" / f"{name}.yaml").read_text("utf-8")
        assert text.strip() in {box.text.strip() for box in page.all("textarea")}
        key = json.loads(bench.attributes["data-key"])
        assert key and all({"rule", "about", "severity", "because", "look", "mend", "title", "lesson"} == set(each) for each in key)
        words = " ".join(item.text for item in page.all("li"))
        assert all(each[part].replace("`", "") in words for each in key for part in ("look", "because", "mend"))
        assert f"#example=boards/{name}.yaml" in " ".join(link.attributes.get("href") or "" for link in page.all("a"))


def test_the_checkers_page_opens_with_a_whole_board(site: Site):
    (box,) = site.pages["checker/"].all("textarea")
    assert box.text.strip() in {shown.text.strip() for shown in BOARDS.examples}


@pytest.mark.parametrize("shown", [pytest.param(each, id=each.name) for each in BOARDS.examples])
def test_a_worked_example_says_what_the_report_says(site: Site, shown):
    page = site.pages[f"examples/{shown.name}/"]
    said = words(" ".join(each.text for each in page.all("article")))
    report = shown.report
    for sentence in [report.headline, *(finding.sentence for finding in report.findings), *(finding.remedy for finding in report.findings)]:
        assert words(sentence.replace("`", "")) in said
    headings = [each.text for each in page.all("h4")]
    due = [HEADINGS[severity] for severity in Severity if report.count(severity)]
    assert [heading for heading in HEADINGS.values() if any(heading in text for text in headings)] == due
    captions = " ".join(each.text for each in page.all("caption"))
    assert "Outlets" in captions and "Devices" in captions and "Supplies" in captions
    assert page.all("svg") and any("boardwright-drawing" in each.classes for each in page.all("svg"))


def test_every_line_that_a_finding_names_can_be_gone_to(site: Site):
    page = site.pages["examples/spare-room-five-before/"]
    places = [each for each in page.all("a") if "bw-jump" in each.classes]
    marks = [each for each in page.all("a") if "bw-line__mark" in each.classes]
    assert places and marks
    assert all((each.attributes["href"] or "").removeprefix("#") in page.ids for each in [*places, *marks])


def test_every_limit_stands_on_its_page_with_its_value(site: Site):
    page = site.pages["reference/limits/"]
    said = words(" ".join(each.text for each in page.all("table")))
    for limit in LIMITS.values():
        assert limit.name in page.ids
        assert say_limit(limit.name) in said and words(limit.why.replace("`", "")) in said
    assert [limit for _, group in subjects() for limit in group] == list(LIMITS.values())


def test_every_limit_is_told_to_be_judgement_or_not_and_leads_to_its_row(site: Site):
    page = site.pages["limits-of-the-tool/"]
    links = [element for element in page.elements if (element.attributes.get("href") or "").startswith("../reference/limits/#")]
    assert sorted(element.text for element in links) == sorted(LIMITS)
    assert all(element.attributes["href"].endswith(f"#{element.text}") for element in links)


@pytest.mark.parametrize(
    ("name", "judged"),
    [("outlet-headroom", True), ("plug-flat", True), ("core-flux", True), ("switch-spacing-advice", True), ("rcd-trip", False), ("shoe-breadth", False)],
)
def test_what_is_judgement(name: str, judged: bool):
    assert LIMITS[name].is_judgement is judged


@pytest.mark.parametrize("name", RULES)
def test_a_rules_page_gives_every_threshold_that_its_text_names(site: Site, name: str):
    page = site.pages[RULES[name].page_link]
    linked = {(each.attributes.get("href") or "").rpartition("#")[2] for each in page.all("a")}
    assert set(re.findall(r"\{\{ limit ([\w-]+) \}\}", RULES[name].page)) <= linked
    assert "{{" not in " ".join(each.text for each in page.all("article"))


def test_the_language_has_every_section_and_key(site: Site):
    page = site.pages["reference/language/"]
    coded = {each.text for each in page.all("code")}
    for section in SECTIONS.values():
        assert section.key in page.ids
        assert {key for key, _, _ in fields_of(section.model)} <= coded


@pytest.mark.parametrize("section", SECTIONS)
def test_what_is_cut_out_as_the_example_of_a_section_can_be_read(section: str):
    example = example_of(BOARDS, section)
    found = read(example, fragment=True)
    assert not [problem for problem in found.problems if problem.kind != "name"]
    if example:
        assert getattr(found, section)


def test_every_field_of_the_report_is_explained_and_no_other():
    assert {kind.__name__: {each.name for each in fields(kind)} for kind in classes()} == {kind: set(meanings) for kind, meanings in MEANINGS.items()}


def test_the_schema_of_the_report_fits_whole_boards_and_one_case_of_each_rule(site: Site):
    """Checked by the jsonschema library, which knows JSON Schema 2020-12 and nothing of boards."""
    schema = json.loads(site.file("reference/report.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for shown in (*BOARDS.by_path.values(), *(next(iter(cases.values())) for cases in BOARDS.cases.values())):
        assert not list(validator.iter_errors(to_plain(shown.report))), shown.name


def test_the_schema_of_the_language_is_one(site: Site):
    schema = json.loads(site.file("reference/board.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    assert set(SECTIONS) <= set(schema["properties"])


def test_every_page_carries_the_caution(site: Site):
    for address, page in site.pages.items():
        foot = " ".join(each.text for each in page.all("footer"))
        assert "local electrical code" in foot, address


def test_everything_wide_can_be_scrolled_by_keyboard_and_has_a_name(site: Site):
    for address, page in site.pages.items():
        frames = [each for each in page.elements if "bw-scroll" in each.classes]
        assert all(each.attributes.get("tabindex") == "0" and each.attributes.get("aria-label") for each in frames), address
        assert all("bw-table" in each.classes for each in page.all("table")), address
        (search,) = [each for each in page.elements if each.attributes.get("role") == "dialog"]
        assert search.attributes.get("aria-label") == "Search"


def test_the_checkers_page_draws_every_kind():
    kinds = read_kinds(ROOT)
    assert set(kinds) == set(NAMES)
    assert len({kind.outline + kind.sign for kind in kinds.values()}) == len(kinds), "two kinds would look alike without colour"
