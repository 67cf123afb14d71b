"""The workbench: what is checked when, which answer is shown, how one gets from a finding to its line and back."""

import re

import pytest
from playwright.sync_api import expect

from boardwright import check
from boardwright.report.text import to_text
from browser.page.steps import BEFORE, CLEAN, SAMPLE, canned, editor_text, focused, paste

REPORT = to_text(check(SAMPLE.read_text("utf-8")))


def test_it_opens_with_the_sample_and_says_what_is_wrong_with_it(open_page):
    page = open_page()
    expect(page.locator(".bw-headline")).to_have_text(BEFORE["headline"])
    # Counted by the answer, not by the page: every finding and question has its card.
    assert page.locator(".bw-card").count() == sum(len(BEFORE[part]) for part in ("problems", "findings", "check_first", "undecided", "accepted"))
    expect(page.locator(".bw-card .bw-card__head").first).to_contain_text(BEFORE["check_first"][0]["things"][0]["name"])
    expect(page.locator(".bw-card__head", has_text=BEFORE["findings"][0]["title"]).first).to_be_visible()


def test_the_answer_of_the_build_is_there_at_once_and_the_checkers_own_takes_its_place(open_page, site_url):
    page = open_page("cautions/")
    held = []
    page.route("**/worker.mjs", lambda route: held.append(route))
    page.goto(f"{site_url}checker/")
    expect(page.locator(".bw-headline")).to_have_text(BEFORE["headline"])
    marked = page.get_by_text("This answer was made when this site was built.")
    expect(marked).to_be_visible()
    expect(page.get_by_text("Getting the checker ready")).to_be_visible()
    expect(page.locator(".bw-mark:visible").first).to_be_visible()
    card = page.locator(".bw-card").first.element_handle()
    held.pop().continue_()
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    expect(marked).to_have_count(0)
    # The two say the same, so what the reader has begun to read is not drawn anew.
    assert card.evaluate("card => card.isConnected")


def test_the_answer_of_the_build_goes_when_the_board_is_another(open_page, site_url):
    page = open_page("cautions/")
    page.route("**/worker.mjs", lambda route: None)
    page.goto(f"{site_url}checker/")
    expect(page.locator(".bw-card").first).to_be_visible()
    page.locator(".cm-content").click()
    page.keyboard.type("# mine")
    expect(page.locator(".bw-card")).to_have_count(0)
    expect(page.locator(".bw-mark:visible")).to_have_count(0)
    expect(page.get_by_text("when this site was built")).to_have_count(0)
    # A worked example brings its own.
    page.goto(f"{site_url}checker/#example=boards/saltmarsh-tour.yaml")
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    expect(page.get_by_text("when this site was built")).to_be_visible()


def test_headings_words_and_figures_are_those_of_the_text_report(open_page):
    page = open_page()
    for heading in page.locator(".bw-group__head > span:first-of-type").all_inner_texts():
        assert heading in REPORT
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    report = [" ".join(line.split()) for line in REPORT.split("\n")]
    for table, shared in (("Outlets", 5), ("Devices", 6), ("Supplies", 5)):
        for row in page.locator(f".bw-table:has(caption:text-is('{table}')) tbody tr").all():
            cells = [row.locator(".bw-jump__name").inner_text(), *row.locator("td").all_inner_texts()]
            words = " ".join(cells[:shared]).replace("not known", "?")
            assert any(line.startswith(words) for line in report), words


@pytest.fixture
def stopped_clock(open_page):
    """A page whose time stands still, but for what a test lets pass: how fast this machine is makes no difference."""
    page = open_page()
    page.clock.install()
    page.clock.pause_at(page.evaluate("Date.now()") + 1000)
    return page


def test_typing_is_checked_after_a_rest_and_a_paste_at_once(stopped_clock):
    page = stopped_clock
    asked = []
    page.on("request", lambda request: asked.append(request.post_data) if request.url.endswith("/fake-check") else None)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# one two three four")
    page.clock.run_for(200)
    page.keyboard.type("!")
    page.clock.run_for(200)
    assert asked == []
    with page.expect_request("**/fake-check"):
        page.clock.run_for(100)
    assert len(asked) == 1 and asked[0].startswith("# one two three four!")
    with page.expect_request("**/fake-check"):
        paste(page, CLEAN)
    assert len(asked) == 2 and asked[1] == CLEAN
    page.clock.resume()
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")


def test_an_answer_for_older_text_is_dropped(open_page):
    page = open_page()
    paste(page, f"# wait 700\n{SAMPLE.read_text()}")
    page.wait_for_timeout(100)
    paste(page, CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    page.wait_for_timeout(900)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")


def test_a_slow_check_says_so_and_a_quick_one_does_not_flicker(stopped_clock):
    page = stopped_clock
    state = page.locator(".bw-state")
    seen = page.evaluate_handle(
        "() => { const seen = []; new MutationObserver(() => seen.push(document.querySelector('.bw-state').textContent))"
        ".observe(document.querySelector('.bw-state'), {childList: true, characterData: true, subtree: true}); return seen; }"
    )
    page.get_by_role("button", name="Check now").click()
    expect(state).to_contain_text("ms")
    held = []
    page.route("**/fake-check", lambda route: held.append(route))
    with page.expect_request("**/fake-check"):
        paste(page, CLEAN)
    page.clock.run_for(300)
    assert "Checking…" not in seen.json_value()
    page.clock.run_for(200)
    expect(state).to_have_text("Checking…")
    held[0].continue_()
    expect(state).to_contain_text("Up to date")


def test_from_a_finding_to_its_line_and_back_with_the_keyboard_alone(open_page):
    page = open_page()
    button = page.locator(".bw-jump").first
    line = int(button.inner_text().split("line ")[-1])
    button.focus()
    page.keyboard.press("Enter")
    assert focused(page, "className").startswith("bw-code")
    assert page.locator(".cm-activeLine").inner_text() == SAMPLE.read_text().split("\n")[line - 1]
    page.keyboard.press("Tab")
    assert focused(page) == "Back to the finding"
    page.keyboard.press("Enter")
    expect(button).to_be_focused()


def test_tab_leaves_the_editor_both_ways(open_page):
    page = open_page()
    page.locator(".cm-content").click()
    before = editor_text(page)
    page.keyboard.press("Tab")
    assert focused(page) == "1 to check first"
    page.keyboard.press("Shift+Tab")
    assert focused(page, "className").startswith("bw-code")
    page.keyboard.press("Shift+Tab")
    assert focused(page) == "Tidy"
    assert editor_text(page) == before


def test_letters_typed_into_the_editor_are_no_shortcuts_of_the_site(open_page):
    page = open_page()
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("fs/np,.")  # the theme's: search, search, search, next, previous, previous, next page
    assert editor_text(page).startswith("fs/np,.")
    assert page.url.endswith("/checker/")
    assert not page.locator("[data-md-toggle=search]").is_checked()


def test_each_marked_line_has_a_shape_that_leads_to_its_card(open_page):
    # High enough for the whole text: the editor draws no line that is out of sight.
    page = open_page(viewport={"width": 1280, "height": 1500})
    places = [finding["at"]["line"] for part in ("findings", "check_first", "undecided") for finding in BEFORE[part]]
    marks = page.locator(".bw-mark:visible")
    assert marks.count() == len(set(places))
    marks.last.click()
    assert page.evaluate("document.activeElement.classList.contains('bw-card')")


def test_without_the_code_editor_the_text_box_does_it_all(open_page):
    page = open_page(block="**/editor-*.mjs", expect_errors=True)
    box = page.get_by_role("textbox", name="Your board")
    assert box.input_value().strip() == SAMPLE.read_text().strip()
    page.locator(".bw-jump").first.click()
    line = int(page.locator(".bw-jump").first.inner_text().split("line ")[-1])
    assert box.evaluate("box => box.value.slice(0, box.selectionStart).split('\\n').length") == line
    assert page.locator(".bw-plain__marked").count() > 0
    box.fill(CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    box.press("Shift+Tab")
    assert focused(page) == "Tidy"


def test_a_crash_is_told_and_mended_without_losing_text(open_page):
    page = open_page(expect_errors=True)
    paste(page, f"# crash\n{CLEAN}")
    expect(page.locator(".bw-note--bad")).to_contain_text("The checker has stopped")
    expect(page.locator(".bw-note--bad")).to_contain_text("Your text is untouched. What is shown below belongs to an earlier state of it.")
    assert editor_text(page).startswith("# crash")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.press("Shift+End")
    page.keyboard.press("Delete")
    page.get_by_role("button", name="Start again").click()
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    expect(page.locator(".bw-note--bad")).to_have_count(0)


def test_a_check_that_fails_is_told(open_page):
    page = open_page(expect_errors=True)
    paste(page, "# fail\n")
    expect(page.locator(".bw-note--bad")).to_contain_text("the checker met an error of its own")
    paste(page, CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    expect(page.locator(".bw-note--bad")).to_have_count(0)


def test_a_check_that_never_ends_is_told(open_page):
    page = open_page(expect_errors=True)
    page.clock.install()
    paste(page, "# silent\n")
    page.clock.run_for(25_000)
    expect(page.locator(".bw-note--bad")).to_contain_text("This text could not be checked")
    page.clock.resume()
    paste(page, CLEAN)
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")


def test_stages_and_results_are_spoken(open_page):
    page = open_page()
    status = page.get_by_role("status").filter(has_text=BEFORE["headline"])
    expect(status).to_have_count(1)
    paste(page, CLEAN)
    expect(page.get_by_role("status").filter(has_text="Nothing wrong found")).to_have_count(1)


def test_what_came_from_a_board_is_shown_as_text(open_page):
    page = open_page()
    hostile = "<img src=x onerror=document.title=1>"
    paste(page, f'pedals:\n  "{hostile}": {{kind: delay, feed: nowhere.1}}\n  b: {{kind: "<script>1</script>"}}\n')
    expect(page.locator(".bw-answer")).to_contain_text(hostile)
    assert page.locator(".bw-answer :is(img, script)").count() == 0
    assert page.title() != "1"


def test_the_page_never_scrolls_sideways(open_page):
    page = open_page()
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    for width in (320, 400, 820, 1440):
        page.set_viewport_size({"width": width, "height": 740})
        # The theme takes a moment to settle. Asked from here, since a policy without eval stops a page from asking itself.
        for _ in range(30):
            if page.evaluate("document.documentElement.scrollWidth <= innerWidth"):
                break
            page.wait_for_timeout(100)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"it scrolls sideways at {width} px"


def test_targets_are_at_least_24_pixels(open_page):
    # WCAG 2.2, success criterion 2.5.8; links inside a sentence or a table's cell are excepted there.
    page = open_page()
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    for width in (360, 1280):
        page.set_viewport_size({"width": width, "height": 800})
        small = page.evaluate(
            "[...document.querySelectorAll('.bw-bench :is(button, summary, .bw-count, .bw-links a)')].filter(one => one.offsetHeight)"
            ".map(one => [one.textContent, one.getBoundingClientRect()]).filter(([, box]) => box.width < 24 || box.height < 24)"
            ".map(([text]) => text)"
        )
        assert small == [], width


def test_print_has_every_line_of_the_text_and_every_fold_open(open_page):
    page = open_page(color_scheme="dark")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    ink = page.locator(".bw-headline").evaluate("headline => getComputedStyle(headline).color")
    assert max(map(int, re.findall(r"\d+", ink))) < 64, "pale ink on paper"
    assert page.locator(".bw-printed > div").all_inner_texts() == [line or " " for line in SAMPLE.read_text().rstrip().split("\n")]
    assert not page.locator(".bw-code").is_visible()
    assert page.locator("details.bw-fold:not([open])").count() == 0
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.locator("details.bw-fold[open]").count() == 0


def test_every_link_stays_on_the_site(open_page):
    page = open_page()
    for link in page.locator(".bw-answer a[href]").all():
        href = link.evaluate("link => link.href")
        assert href.startswith(page.url.removesuffix("checker/")), href


def test_a_link_that_would_leave_the_site_is_not_made(open_page):
    finding = {**BEFORE["findings"][0], "lesson": "https://elsewhere.example/", "page": "javascript:alert(1)"}
    canned["# evil links"] = {**BEFORE, "findings": [finding]}
    page = open_page()
    paste(page, "# evil links\n")
    expect(page.locator(".bw-group--risk .bw-card")).to_have_count(1)
    assert page.locator(".bw-group--risk .bw-links a").count() == 0


def test_a_link_opens_a_board_of_the_site(open_page):
    page = open_page("checker/#example=boards/spare-room-five.yaml")
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    assert editor_text(page).strip() == CLEAN.strip()
    page.evaluate("location.hash = '#example=boards/spare-room-five-before.yaml'")
    expect(page.locator(".bw-headline")).to_have_text(BEFORE["headline"])


def test_a_link_opens_nothing_else(open_page):
    page = open_page("checker/#example=https://elsewhere.example/b.yaml")
    for example in ("//elsewhere.example/b.yaml", "boards/../../x.yaml", "boards/../index.html", "/boards/spare-room-five.yaml", ""):
        page.evaluate("example => { location.hash = `#example=${example}` }", example)
    page.wait_for_timeout(200)
    assert editor_text(page).strip() == SAMPLE.read_text().strip()


def test_a_link_to_a_board_that_is_not_there_says_so(open_page):
    page = open_page("checker/#example=boards/no-such-board.yaml", expect_errors=True)
    expect(page.locator(".bw-desk__note")).to_have_text("The example boards/no-such-board.yaml could not be fetched.")
    assert editor_text(page).strip() == SAMPLE.read_text().strip()


def test_a_workbench_in_a_lesson_sleeps_until_it_is_wanted(open_page):
    page = open_page("lessons/current/")
    asked = []
    page.on("request", lambda request: asked.append(request.url.split("/")[-1]))
    page.wait_for_load_state("networkidle")
    assert [name for name in asked if name.endswith(".mjs")] == []
    box = page.locator("[data-bench] textarea")
    expect(page.locator("[data-answer]")).to_contain_text("Open in the checker")
    box.click()
    expect(page.locator("[data-bench] .bw-headline")).to_contain_text("Found")
    expect(page.locator(".cm-content")).to_be_focused()
    assert "worker.mjs" in asked


def test_a_new_answer_keeps_focus_and_open_folds(open_page):
    page = open_page()
    canned["# wait 300"] = {**BEFORE, "headline": "Once more."}
    page.locator("details.bw-fold summary").last.click()
    paste(page, "# wait 300\n")
    page.locator(".bw-jump").first.focus()
    expect(page.locator(".bw-headline")).to_have_text("Once more.")
    expect(page.locator(".bw-jump").first).to_be_focused()
    assert page.locator("details.bw-fold[open]").count() == 1
