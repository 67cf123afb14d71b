"""Every kind of page for every reader: axe-core in light and dark, the keyboard alone, narrow and zoomed pages, no motion, paper.

Source: Web Content Accessibility Guidelines (WCAG) 2.2, level AA. axe-core finds what a program can find; the success
criteria that it cannot judge are named beside their checks.
"""

import re

import pytest
from playwright.sync_api import expect

from browser.page.steps import HOUSE, add_axe

EXERCISE = "lessons/current/"
KINDS = {
    "home": "",
    "lessons": "lessons/",
    "lesson": "lessons/one-earth/",
    "exercise": EXERCISE,
    "checker": "checker/",
    "examples": "examples/",
    "worked example": "examples/spare-room-five-before/",
    "fault finder": "fault-finder/",
    "handover book": "reference/handover-book/",
    "for shops": "for-shops/",
    "rules": "reference/rules/",
    "rule": "reference/rules/earth-loop-closed/",
    "language": "reference/language/",
    "limits": "reference/limits/",
    "countries": "reference/mains-by-country/",
    "report": "reference/report/",
    "sources": "reference/sources/",
    "cautions": "cautions/",
    "limits of the tool": "limits-of-the-tool/",
}


@pytest.fixture
def open_kind(open_page):
    """A page of a kind; of an exercise, in the middle of it."""

    def opened(kind, **settings):
        page = open_page(KINDS[kind], **settings)
        if kind == "exercise":
            page.locator("[data-bench] textarea").click()
            expect(page.locator(".bw-marking__count")).to_contain_text("0 of")
            page.locator(".bw-button--hint").first.click()
            page.get_by_role("button", name="Show the answer").click()
        return page

    return opened


def unfold(page):
    page.evaluate("for (const fold of document.querySelectorAll('details')) fold.open = true")


SHORTEN = "for (const part of document.querySelectorAll('article, article section, tbody')) [...part.children].slice(40).forEach(each => each.remove())"


@pytest.mark.parametrize("kind", KINDS)
def test_axe_finds_nothing_in_light_or_dark(open_kind, kind):
    page = open_kind(kind, color_scheme="light", reduced_motion="reduce")
    unfold(page)
    page.evaluate(SHORTEN)  # of the longest lists more is only more of the same
    add_axe(page)
    for scheme, rules in (("default", {}), ("slate", {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}})):  # in the dark, only colours are others
        page.evaluate("scheme => document.body.setAttribute('data-md-color-scheme', scheme)", scheme)
        found = page.evaluate("async rules => (await axe.run(rules)).violations.map(one => [one.id, one.nodes.map(node => node.html.slice(0, 200))])", rules)
        assert found == [], scheme


STOP = """() => {
    const at = document.activeElement;
    if (!at || at === document.body) return null;
    window.reached ??= new Set();
    window.reached.add(at);
    const header = document.querySelector("header.md-header");
    const look = getComputedStyle(at), box = at.getBoundingClientRect(), above = header.getBoundingClientRect();
    const framed = at.closest(".bw-code, .bw-plain");
    return {
        index: [...document.querySelectorAll("*")].indexOf(at),
        what: at.outerHTML.slice(0, 120),
        seen: Boolean(framed) || (look.outlineStyle !== "none" && parseFloat(look.outlineWidth) > 0) || Boolean(at.closest(".md-search, .md-header")),
        covered: !header.contains(at) && !at.closest(".md-skip") && at.className !== "md-skip" && box.height > 0 && box.bottom <= above.bottom,
    };
}"""

LEFT_OUT = """() => [...document.querySelectorAll(
        "a[href], button:not([disabled]), select, textarea, summary, [tabindex='0'], [contenteditable='true']")]
    .filter(one => one.checkVisibility({visibilityProperty: true}) && one.tabIndex >= 0 && !one.closest("[inert], .md-search")
        && !reached.has(one) && !(one.matches("summary") && reached.has(one)))
    .map(one => one.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize("kind", ["checker", "exercise", "worked example", "rule"])
def test_tab_goes_through_everything_and_out_again(open_kind, kind):
    """WCAG 2.1.1, 2.1.2 (no trap), 2.4.7 (the focus is seen), 2.4.11 (and is not covered by the header)."""
    page = open_kind(kind, reduced_motion="reduce")
    page.locator(".md-skip").focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    for key in ("Tab", "Shift+Tab"):
        page.evaluate("window.reached = new Set()")
        stops = [page.evaluate(STOP) or _next(page, key)]
        while (stop := _next(page, key)) and stop["index"] != stops[0]["index"]:
            assert stop["index"] != stops[-1]["index"], f"{key} does not leave {stop['what']}"
            assert len(stops) < 700
            stops.append(stop)
        assert len(stops) > 20
        assert [stop["what"] for stop in stops if not stop["seen"]] == []
        assert [stop["what"] for stop in stops if stop["covered"]] == []
        assert page.evaluate(LEFT_OUT) == []


def _next(page, key):
    page.keyboard.press(key)
    return page.evaluate(STOP)


LOOSE = """() => [...document.querySelectorAll("article *")].filter(one =>
    one.scrollWidth > one.clientWidth + 1 && ["auto", "scroll"].includes(getComputedStyle(one).overflowX)
    && one.clientWidth > 0 && !one.closest(".cm-editor, .bw-plain")
    && !(one.tabIndex >= 0 && (one.ariaLabel || one.matches("code, textarea")))).map(one => one.outerHTML.slice(0, 200))"""


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_needs_scrolling_both_ways(open_kind, kind):
    """WCAG 1.4.10 (320 px, which is 1280 px at 400 %) and 1.4.4 (200 %, 640 px): only tables and drawings scroll sideways, in boxes
    of their own that have a name and can be scrolled by keyboard."""
    page = open_kind(kind)
    unfold(page)
    for width in (640, 320):
        page.set_viewport_size({"width": width, "height": 740})
        for _ in range(50):  # after a change of width, the theme looks which of the texts in code have to be scrolled
            if page.evaluate("document.documentElement.scrollWidth <= innerWidth") and page.evaluate(LOOSE) == []:
                break
            page.wait_for_timeout(100)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(LOOSE) == []


def test_what_scrolls_sideways_says_so_until_its_end(open_page):
    page = open_page("examples/spare-room-five-before/", viewport={"width": 390, "height": 800})
    box = page.locator(".bw-drawing .bw-scroll").first
    box.scroll_into_view_if_needed()
    expect(box).to_have_attribute("data-more", "right")
    assert "Scrolls sideways" in box.evaluate("box => getComputedStyle(box, '::before').content")
    box.focus()
    page.keyboard.press("ArrowRight")
    expect(box).to_have_attribute("data-more", "both")
    box.evaluate("box => { box.scrollLeft = box.scrollWidth }")
    expect(box).to_have_attribute("data-more", "left")
    page.set_viewport_size({"width": 1900, "height": 800})
    narrow = page.locator(".bw-table--figures").first
    narrow.evaluate("table => table.closest('details').open = true")
    expect(page.locator(".bw-scroll:has(.bw-table--figures)").first).not_to_have_attribute("data-more", re.compile(".*"))


def test_what_the_checker_draws_says_so_too(open_page):
    page = open_page(viewport={"width": 390, "height": 800})
    expect(page.locator(".bw-drawings .bw-scroll").first).to_have_attribute("data-more", "right")


@pytest.mark.parametrize("kind", ["home", "checker", "exercise"])
def test_nothing_moves_where_motion_is_not_wanted(open_kind, kind):
    page = open_kind(kind, reduced_motion="reduce")
    moving = """() => [...document.querySelectorAll("*")].filter(one => {
        const look = getComputedStyle(one);
        const longest = times => Math.max(...times.split(",").map(parseFloat));
        return longest(look.transitionDuration) > 0.001 || (look.animationName !== "none" && longest(look.animationDuration) > 0.001);
    }).map(one => one.outerHTML.slice(0, 120))"""
    assert page.evaluate(moving) == []
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"


def test_an_exercise_is_read_in_the_order_in_which_it_is_worked(open_kind):
    """The accessibility tree: names, roles, order. WCAG 1.3.1, 1.3.2, 4.1.2."""
    page = open_kind("exercise")
    expect(page.locator(".bw-exercise")).to_match_aria_snapshot("""
      - region "The board":
        - text: /Four on a small supply/
        - button "Check now"
        - status
        - textbox "Four on a small supply"
      - region "What is left to find":
        - status: /Two pedals share the outlet/
        - paragraph: 0 of 5 mended.
        - group: "Hint: how to look"
        - list:
          - listitem:
            - paragraph: /Fault Outlet asked for more current than it gives/
            - paragraph: /Where to look/
            - button /what is wrong.*Outlet asked for more current than it gives/
        - button "Hide the answer" [expanded]
        - button "Begin again"
        - group "The answer"
        - group: What the checker says, in full
    """)


def test_an_exercise_on_paper_has_its_text_and_nothing_to_press(open_kind):
    page = open_kind("exercise", color_scheme="dark")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    text = (HOUSE / "docs/lessons/boards/current-exercise.yaml").read_text().rstrip().split("\n")
    assert page.locator(".bw-exercise .bw-printed > div").all_inner_texts() == [line or " " for line in text]
    assert page.locator(".bw-exercise button:visible").count() == 0
    for ink in page.locator(".bw-exercise :is(.bw-marking__count, .bw-fault__title)").evaluate_all("all => all.map(one => getComputedStyle(one).color)"):
        assert max(map(int, re.findall(r"\d+", ink))) < 110, "pale ink on paper"


def test_a_worked_example_begins_with_its_answer(open_page):
    page = open_page("examples/spare-room-five-before/", viewport={"width": 390, "height": 800})
    heads = page.locator("article h2").evaluate_all("all => all.map(one => one.id)")
    assert heads[:3] == ["answer", "drawings", "board"]
    assert page.locator("article .bw-headline").bounding_box()["y"] < 1000
    assert page.locator("[id$=-coverage]").evaluate("fold => fold.open") is False
