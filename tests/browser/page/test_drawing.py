"""Drawings are part of the page, and only drawings are: nothing that acts or fetches gets in with them. They come behind the rest."""

from playwright.sync_api import expect

from browser.page.steps import BEFORE, canned, paste

WIDE = """() => [...document.querySelectorAll(".bw-drawing div")].filter((sheet) => sheet.shadowRoot)
    .map((sheet) => sheet.shadowRoot.querySelector("svg").getBoundingClientRect().right)"""
"""Where drawings end on the right."""


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 10 10">{}</svg>'

HOSTILE = {
    "script": SVG.format("<script>document.title = 'run'</script>"),
    "foreign object": SVG.format('<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>'),
    "foreign namespace": SVG.format('<img xmlns="http://www.w3.org/1999/xhtml" src="x" onerror="document.title = \'run\'"/>'),
    "event attribute": SVG.format("<rect width='9' height='9' onclick='document.title = 1'/>"),
    "event attribute of the root": SVG.format("").replace("viewBox", "onload=\"document.title = 'run'\" viewBox"),
    "link": SVG.format('<a href="https://elsewhere.example/"><text>x</text></a>'),
    "outside use": SVG.format('<use href="https://elsewhere.example/x.svg#a"/>'),
    "outside use, old form": SVG.format('<use xlink:href="https://elsewhere.example/x.svg#a"/>'),
    "picture": SVG.format('<image href="https://elsewhere.example/x.png"/>'),
    "outside paint": SVG.format('<rect width="9" height="9" fill="url( https://elsewhere.example/#a)"/>'),
    "style element": SVG.format("<style>@import 'https://elsewhere.example/x.css';</style>"),
    "style attribute": SVG.format('<rect style="background: url(https://elsewhere.example/x.png)"/>'),
    "animation": SVG.format('<rect><set attributeName="onclick" to="document.title = 1"/></rect>'),
    "not XML": "<svg><rect</svg>",
    "HTML": "<p>hello</p>",
}


def test_the_drawing_is_readable_and_follows_the_page(open_page):
    page = open_page(color_scheme="light")
    drawing = page.get_by_role("img", name="Power map of Spare-room five")
    expect(drawing).to_have_count(1)
    assert "echo" in drawing.locator("text").all_text_contents()
    colour = "drawing => getComputedStyle(drawing).color"
    light = drawing.evaluate(colour)
    page.evaluate("document.body.setAttribute('data-md-color-scheme', 'slate')")
    assert drawing.evaluate(colour) != light


def test_hostile_drawings_are_refused(open_page):
    # The page's policy complains of some of them before they are refused.
    page = open_page(expect_errors=True)
    for kind, drawing in HOSTILE.items():
        canned[f"# {kind}"] = {**BEFORE, "headline": kind, "drawings": {"power-map": drawing}}
        paste(page, f"# {kind}\n")
        expect(page.locator(".bw-headline")).to_have_text(kind)
        expect(page.locator(".bw-drawing"), kind).to_contain_text("The drawing is not shown, because")
        assert page.locator(".bw-drawing svg").count() == 0, kind
    assert page.title() not in ("run", "1")


def test_a_drawing_may_refer_to_its_own_parts(open_page):
    drawing = SVG.format('<defs><circle id="dot" r="2"/></defs><use href="#dot"/><rect width="9" height="9" fill="url(#dot)"/>')
    canned["# own parts"] = {**BEFORE, "headline": "own parts", "drawings": {"power-map": drawing}}
    page = open_page()
    paste(page, "# own parts\n")
    expect(page.locator(".bw-headline")).to_have_text("own parts")
    expect(page.locator(".bw-drawing svg use")).to_have_count(1)


def test_the_verdict_does_not_wait_for_drawings(open_page):
    page = open_page()
    place, figure = page.locator(".bw-drawings"), page.locator(".bw-drawing svg use")
    drawing = SVG.format('<defs><circle id="dot" r="2"/></defs><use href="#dot"/>')
    canned["# draw 700"] = {**BEFORE, "headline": "drawn later", "drawings": {"power-map": drawing}}
    paste(page, "# draw 700\n")
    expect(page.locator(".bw-headline")).to_have_text("drawn later")
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    expect(place).to_have_attribute("aria-busy", "true")
    expect(figure).to_have_count(1)
    assert place.get_attribute("aria-busy") is None


def test_a_drawing_that_did_not_change_stays_as_the_reader_left_it(open_page):
    page = open_page()
    same, changed = SVG.format("<g data-live='verse'/><g data-live='solo'/>"), SVG.format("<rect width='{}'/>")
    for width in (1, 2):
        drawings = {"signal-map": same, "layout": changed.format(width)}
        canned[f"# {width}"] = {**BEFORE, "headline": f"width {width}", "drawings": drawings}
    paste(page, "# 1\n")
    page.locator(".bw-drawings select").select_option("preset solo")
    paste(page, "# 2\n")
    expect(page.locator(".bw-drawing rect")).to_have_attribute("width", "2")
    expect(page.locator(".bw-drawings select")).to_have_value("live solo")


def test_drawings_that_fail_take_nothing_else_with_them(open_page):
    page = open_page()
    canned["# undrawn"] = {**BEFORE, "headline": "found, not drawn"}
    paste(page, "# undrawn\n")
    expect(page.locator(".bw-headline")).to_have_text("found, not drawn")
    expect(page.locator(".bw-drawings")).to_have_text("The drawings could not be made. The checker met an error of its own.")
    assert page.locator(".bw-card").count() > 0


def test_on_paper_no_drawing_is_cut_off(open_page):
    page = open_page(viewport={"width": 700, "height": 900})
    expect(page.locator(".bw-drawing").nth(3)).to_be_attached()
    assert max(page.evaluate(WIDE)) > 700
    page.emulate_media(media="print")
    assert len(ends := page.evaluate(WIDE)) > 3 and max(ends) <= 700
