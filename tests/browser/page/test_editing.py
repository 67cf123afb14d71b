"""Help with writing: words offered and explained, offers to mend, pieces, tidying, the first-board form, an empty text."""

import pytest
from playwright.sync_api import expect

from boardwright.browser import answer
from browser.page.steps import CLEAN, HOUSE, SAMPLE, add_axe, editor_text, focused, paste

SLIP = CLEAN.replace("kind: tuner", "knid: tuner")
EXERCISE = (HOUSE / "docs/lessons/boards/labels-exercise.yaml").read_text()


def type_at_the_end(page, text):
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type(text)


# ---- words


def choose(page):
    """Takes the first of the words offered. The editor disregards an arrow that comes before anybody can have read them."""
    page.wait_for_timeout(120)
    page.keyboard.press("ArrowDown")
    expect(page.locator(".cm-tooltip-autocomplete li[aria-selected]")).to_have_count(1)
    page.keyboard.press("Enter")


def test_keys_words_and_names_are_offered_where_they_belong(open_page):
    page = open_page()
    paste(page, "supplies: {brick: {outlets: {left: 9V dc centre-negative 100mA}}}\npedals:\n")
    type_at_the_end(page, "  echo: {ki")
    options = page.locator(".cm-tooltip-autocomplete li")
    expect(options.first).to_have_text("kind")
    choose(page)
    page.keyboard.type("del")
    expect(options.first).to_have_text("delay")
    page.keyboard.type("ay, feed: bri")
    expect(options.first).to_contain_text("brick.left")
    choose(page)
    assert editor_text(page).endswith("  echo: {kind: delay, feed: brick.left")
    paste(page, "devices: {echo: {kind: delay}}\n")
    type_at_the_end(page, "audio: [guitar > ec")
    expect(options.first).to_contain_text("echo")
    choose(page)
    assert editor_text(page).endswith("audio: [guitar > echo")


def test_words_that_come_late_are_offered_for_what_was_typed_meanwhile(open_page):
    page = open_page()
    paste(page, "pedals:\n")
    held = []
    page.route("**/editor-words.json", lambda route: held.append(route))
    with page.expect_request("**/editor-words.json"):
        type_at_the_end(page, "  echo: {")
        page.wait_for_timeout(300)  # a reader who looks up from the keyboard
        page.keyboard.type("k")
    page.wait_for_timeout(300)
    page.keyboard.type("i")
    for route in held:
        route.continue_()
    expect(page.locator(".cm-tooltip-autocomplete li").first).to_have_text("kind")


def test_enter_is_a_new_line_until_a_word_is_chosen(open_page):
    page = open_page()
    paste(page, "")
    type_at_the_end(page, "ped")
    expect(page.locator(".cm-tooltip-autocomplete li").first).to_have_text("pedals")
    page.keyboard.press("Enter")
    page.keyboard.type("amps")
    assert editor_text(page) == "ped\namps"


def test_a_key_is_explained_by_the_keyboard_and_spoken(open_page):
    page = open_page()
    paste(page, "pedals: {a: {zin: 1M}}\n")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    for _ in range(15):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+F1")
    expect(page.locator(".bw-explained")).to_contain_text("zin Input impedance.")
    expect(page.locator(".cm-announced")).to_contain_text("zin: Input impedance.")
    page.keyboard.press("Escape")
    expect(page.locator(".bw-explained")).to_have_count(0)


def test_a_key_is_explained_under_the_mouse(open_page):
    page = open_page()
    page.locator(".cm-line span", has_text="pickups").first.hover()
    expect(page.locator(".bw-explained")).to_contain_text("What kind of pickups it has.")


# ---- offers to mend


def test_an_offer_is_previewed_applied_and_taken_back(open_page):
    page = open_page()
    paste(page, SLIP)
    offer = page.locator(".bw-mend")
    expect(offer).to_have_count(1)
    offer.locator("summary").focus()
    page.keyboard.press("Enter")
    expect(offer.locator("del")).to_have_text("knid")
    expect(offer.locator("ins")).to_have_text("kind")
    expect(offer.locator(".bw-mend__said")).to_contain_text("Nothing wrong found in what was described")
    expect(page.locator("[aria-busy]")).to_have_count(0)  # the drawings were not pushed aside
    assert editor_text(page).strip() == SLIP.strip()
    offer.get_by_role("button", name="Change the text").press("Enter")
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    assert editor_text(page).strip() == CLEAN.strip()
    page.get_by_role("button", name="Take it back").click()
    assert editor_text(page).strip() == SLIP.strip()
    page.keyboard.press("Control+z")  # one step of the editor's own undo, too
    assert editor_text(page).strip() == CLEAN.strip()


def test_a_device_is_moved_to_an_outlet_that_fits(open_page):
    page = open_page()
    paste(page, EXERCISE)
    offer = page.locator(".bw-mend").filter(has_text="Feed softdrive from brick.5, which is free")
    offer.locator("summary").click()
    expect(offer.locator(".bw-mend__note")).to_contain_text("only when you build it so")
    offer.get_by_role("button", name="Change the text").click()
    expect(page.locator(".bw-mend").filter(has_text="softdrive")).to_have_count(0)
    assert "softdrive: {kind: overdrive, needs: 9V dc centre-negative 6mA 5.5x2.1, feed: brick.5}" in editor_text(page)


def test_an_offer_for_an_older_text_is_not_applied(open_page):
    page = open_page()
    paste(page, SLIP)
    offer = page.locator(".bw-mend")
    offer.locator("summary").click()
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# x")
    offer.get_by_role("button", name="Change the text").click()
    expect(offer.locator(".bw-mend__said")).to_contain_text("The text has changed meanwhile")
    assert "knid" in editor_text(page)


def test_in_the_plain_text_box_offers_work_too(open_page):
    page = open_page(block="**/editor-*.mjs", expect_errors=True)
    box = page.get_by_role("textbox", name="Your board")
    box.fill("# 🎸🎸\npedals: {a: {kind: fuzz, needs: none}}\n# 🎸\namps: {c: {kind: valve, clas: I}} # 🎸\n")
    page.locator(".bw-mend summary").click()
    page.get_by_role("button", name="Change the text").click()
    assert "amps: {c: {kind: valve, class: I}} # 🎸\n" in box.input_value()
    page.get_by_role("button", name="Take it back").click()
    assert "clas: I" in box.input_value()


def test_a_lesson_does_not_give_its_answers_away(open_page):
    page = open_page("lessons/labels/")
    page.locator("[data-bench] textarea").last.click()
    expect(page.locator("[data-bench] .bw-headline").last).to_contain_text("Found")
    assert page.locator(".bw-mend, .bw-tools").count() == 0


# ---- pieces and tidying


def test_a_piece_is_put_in_by_the_keyboard(open_page):
    page = open_page()
    paste(page, CLEAN)
    page.locator(".bw-menu summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".bw-piece").first).to_be_visible()
    page.keyboard.press("Tab")
    assert focused(page).startswith("A pedal")
    page.keyboard.press("Enter")
    expect(page.locator(".bw-remark")).to_contain_text("Put in: a pedal.")
    expect(page.locator(".cm-content")).to_be_focused()
    assert "\n  pedal: {kind: unknown, needs: unknown, feed: unknown}\n" in editor_text(page)
    page.keyboard.type("delay")  # the first thing to fill in is selected
    assert "\n  pedal: {kind: delay, needs: unknown, feed: unknown}\n" in editor_text(page)
    expect(page.locator(".bw-group--problem")).to_have_count(0)


def test_the_menu_of_pieces_closes_by_escape(open_page):
    page = open_page()
    page.locator(".bw-menu summary").click()
    expect(page.locator(".bw-piece").first).to_be_visible()
    page.locator(".bw-piece").first.focus()
    page.keyboard.press("Escape")
    expect(page.locator(".bw-piece").first).not_to_be_visible()
    assert focused(page) == "Put in"


def test_tidying_says_what_it_did_and_can_be_taken_back(open_page):
    page = open_page()
    messy = CLEAN.replace("  tuner: {kind: tuner", "  tuner:   { kind:  tuner") + "\n\n"
    paste(page, messy)
    page.get_by_role("button", name="Tidy").click()
    expect(page.locator(".bw-remark")).to_contain_text("only spaces and empty lines have changed")
    assert editor_text(page).strip() == CLEAN.strip()
    page.get_by_role("button", name="Take it back").click()
    assert editor_text(page).strip() == messy.strip()


# ---- the first board


def test_a_first_board_by_form(open_page):
    page = open_page()
    page.get_by_role("button", name="First board").click()
    window = page.locator(".bw-window")
    expect(window.locator("label", has_text="What it is called")).to_have_css("border-top-width", "0px")  # its box is drawn once
    window.get_by_label("What it is called").fill("Kitchen board")
    window.get_by_label("Where it is used").select_option("home")
    window.get_by_label("Country, two letters").fill("ie")
    window.get_by_label("Pickups").select_option("humbucker")
    window.get_by_label("Guitar lead, metres").fill("3")
    window.get_by_label("Protection class").first.select_option("II")
    window.get_by_label("Are its outlets isolated").select_option("yes")
    outlet = window.get_by_role("listitem", name="Outlet 1")
    outlet.get_by_label("Volts").fill("9")
    outlet.get_by_label("Plug").select_option("centre-negative")
    outlet.get_by_label("mA").fill("300")
    window.get_by_role("button", name="Add an outlet").click()
    window.get_by_role("listitem", name="Outlet 2").get_by_label("mA").fill("300")
    for number, (name, kind, milliamps) in enumerate((("Tuner", "tuner", "40"), ("Long echo", "delay", "150")), 1):
        if number > 1:
            window.get_by_role("button", name="Add a pedal").click()
        pedal = window.get_by_role("listitem", name=f"Pedal {number}")
        pedal.get_by_label("What you call it").fill(name)
        pedal.get_by_label("What it is").select_option(kind)
        pedal.get_by_label("mA").fill(milliamps)
        if number == 1:
            pedal.get_by_label("Volts").fill("9")
            pedal.get_by_label("Plug").select_option("centre-negative")
    window.get_by_label("What it is").last.select_option("solid-state")
    window.get_by_label("Protection class").last.select_option("II")
    window.get_by_role("button", name="Write this board").click()
    expect(window).not_to_be_visible()
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    text = editor_text(page)
    assert "  tuner: {kind: tuner, needs: 9V dc centre-negative 40mA, feed: supply.1}\n" in text
    assert "  long_echo: {kind: delay, needs: 9V dc centre-negative 150mA, feed: supply.2}\n" in text
    assert "guitar > tuner > long_echo > amp" in text
    assert '"problems": []' in answer(text)
    page.get_by_role("button", name="Take it back").click()
    assert editor_text(page).strip() == SAMPLE.read_text().strip()


def test_a_board_from_the_form_leaves_a_kept_one_alone(open_page):
    page = open_page()
    mine = f"# mine\n{CLEAN}"
    paste(page, mine)
    expect(page.locator(".bw-desk")).to_contain_text("kept in this browser")
    page.get_by_role("button", name="First board").click()
    page.get_by_label("What it is called").fill("Second thoughts")
    page.get_by_role("button", name="Write this board").click()
    expect(page.locator(".bw-desk")).to_contain_text("Opened “Second thoughts”.")
    assert "name: Second thoughts" in editor_text(page)
    page.locator(".bw-desk__note").get_by_role("button").click()
    assert editor_text(page).strip() == mine.strip()
    texts = page.evaluate("Object.entries(localStorage).filter(([key]) => key.startsWith('boardwright/board/')).map(([, kept]) => JSON.parse(kept).text)")
    assert len(texts) == 2 and any("Second thoughts" in text for text in texts) and any("# mine" in text for text in texts)


def test_the_form_by_the_keyboard_alone(open_page):
    page = open_page()
    page.get_by_role("button", name="First board").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".bw-window")).to_be_visible()
    assert focused(page, "name") == "name"
    page.keyboard.type("fsnp")  # no shortcuts of the site
    page.get_by_role("button", name="Add a pedal").focus()
    page.keyboard.press("Enter")
    assert page.get_by_role("listitem", name="Pedal 2").locator("input").first.evaluate("input => input === document.activeElement")
    page.keyboard.type("second")
    page.get_by_role("button", name="Earlier: pedal 2").focus()
    page.keyboard.press("Enter")
    assert page.get_by_role("listitem", name="Pedal 1").locator("input").first.input_value() == "second"
    page.get_by_role("button", name="Remove: pedal 2").press("Enter")
    assert page.get_by_role("listitem", name="Pedal 2").count() == 0
    page.keyboard.press("Escape")
    expect(page.locator(".bw-window")).not_to_be_visible()
    assert focused(page) == "First board"
    assert editor_text(page).strip() == SAMPLE.read_text().strip()
    page.keyboard.press("Enter")  # what was filled in is still there
    assert page.get_by_label("What it is called").input_value() == "fsnp"
    page.get_by_label("What it is called").press("Enter")
    expect(page.locator(".bw-window")).not_to_be_visible()
    assert "name: fsnp" in editor_text(page)


def test_a_chain_of_plugs_and_batteries(open_page):
    page = open_page()
    page.get_by_role("button", name="First board").click()
    page.get_by_label("One adaptor, on a lead with many plugs").check()
    expect(page.get_by_role("button", name="Add an outlet")).not_to_be_visible()
    page.get_by_role("button", name="Add a pedal").click()
    page.locator(".bw-window summary").click()
    expect(page.locator(".bw-window pre")).to_contain_text("feed: {from: supply.1, after: pedal}")
    page.get_by_label("Batteries").check()
    expect(page.locator(".bw-window pre")).not_to_contain_text("supplies")
    expect(page.locator(".bw-window pre")).to_contain_text("feed: battery")


# ---- an empty text


def test_an_empty_text_offers_something_to_begin_with(open_page):
    page = open_page()
    expect(page.locator(".bw-start")).not_to_be_visible()
    paste(page, "# nothing yet\n")
    expect(page.locator(".bw-start")).to_contain_text("Begin with:")
    page.locator(".bw-start").get_by_role("button", name="Practice four").click()
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    assert "Practice four" in editor_text(page)
    expect(page.locator(".bw-start")).not_to_be_visible()
    expect(page.locator(".bw-remark")).to_contain_text("Practice four is in the text now.")
    page.get_by_role("button", name="Take it back").click()
    page.locator(".bw-start").get_by_role("button", name="A form for a first board").click()
    expect(page.locator(".bw-window")).to_be_visible()


@pytest.mark.parametrize("before", ["#" * 60, "\n" * 60, "  \n  # so\n" * 30], ids=["a line of signs", "empty lines", "comments"])
def test_whether_a_text_is_empty_is_seen_at_once(open_page, before):
    page = open_page()
    paste(page, f"{before}\n{CLEAN}")
    expect(page.locator(".bw-headline")).to_contain_text("Nothing wrong found")
    expect(page.locator(".bw-start")).not_to_be_visible()
    paste(page, f"{before}\n")
    expect(page.locator(".bw-start")).to_be_visible()


# ---- for everyone


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_what_opens(open_page, scheme):
    page = open_page(color_scheme=scheme)
    paste(page, EXERCISE.replace("kind: phaser", "knid: phaser"))
    expect(page.locator(".bw-mend").first).to_be_visible()
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    expect(page.locator(".bw-piece").first).to_be_visible()
    add_axe(page)
    run = "async where => (await axe.run(where)).violations.map(one => [one.id, one.nodes.map(node => node.html)])"
    assert page.evaluate(run, ".bw-bench") == []
    page.keyboard.press("Escape")
    page.get_by_role("button", name="First board").click()
    page.get_by_role("button", name="Add a pedal").click()
    page.locator(".bw-window summary").click()
    assert page.evaluate(run, ".bw-window") == []


def test_nothing_that_opens_is_too_wide_or_too_small_for_a_phone(open_page):
    page = open_page(viewport={"width": 320, "height": 640})
    paste(page, EXERCISE.replace("kind: phaser", "knid: phaser"))
    expect(page.locator(".bw-mend").first).to_be_visible()
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    page.wait_for_timeout(300)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.evaluate("document.querySelector('.bw-menu').open = false")
    page.get_by_role("button", name="First board").click()
    page.get_by_role("button", name="Add a pedal").click()
    window = page.locator(".bw-window")
    assert window.evaluate("window => window.scrollWidth <= window.clientWidth")
    small = "all => all.filter(one => one.offsetHeight).map(one => [one.textContent, one.offsetWidth, one.offsetHeight]).filter(([, width, height]) => width < 24 || height < 24)"
    assert page.locator(".bw-window :is(button, input:not([type=radio]), select, summary, .bw-radio)").evaluate_all(small) == []
