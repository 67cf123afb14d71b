"""Nothing is lost: boards that the browser keeps, the way back from whatever was opened, two tabs, bad and full storage."""

import json

import pytest
from playwright.sync_api import expect

from browser.page.steps import CLEAN, HOUSE, SAMPLE, editor_text, paste

DUO = (HOUSE / "demo_boards/cafe-duo.yaml").read_text()
MINE = "board: {name: Mine}\npedals: {a: {kind: fuzz}}\n"
OTHER = "board: {name: Other}\npedals: {b: {kind: delay}}\n"
KEY = "boardwright/board/"


@pytest.fixture
def browser_with(site_url, open_page):
    """A browser that keeps something already, and its tabs."""

    def visit(**storage):
        state = {"cookies": [], "origins": [{"origin": site_url.rstrip("/"), "localStorage": [{"name": key, "value": raw} for key, raw in storage.items()]}]}
        first = None

        def tab(path="checker/"):
            nonlocal first
            if first is None:
                first = open_page(path, storage_state=state)
                return first
            page = first.context.new_page()
            page.on("pageerror", lambda error: pytest.fail(str(error)))
            page.goto(site_url + path)
            page.wait_for_selector(".cm-content")
            page.wait_for_selector(".bw-headline")
            return page

        return tab

    return visit


def kept(page):
    """All that the browser keeps, by name."""
    raw = page.evaluate("Object.entries(localStorage).filter(([key]) => key.startsWith('boardwright/board/'))")
    return {board["name"]: board for board in (json.loads(value) for _, value in raw)}


def entry(name, text, **more):
    return json.dumps({"name": name, "text": text, "renamed": False, "changed": 1_790_000_000_000, **more})


def boards(page):
    """Opens the fold, and gives it."""
    fold = page.get_by_role("region", name="Boards kept in this browser")
    if not fold.is_visible():
        page.get_by_role("button", name="Boards", exact=True).click()
    return fold


def note(page):
    return page.locator(".bw-desk__note")


def state(page):
    return page.locator(".bw-desk__what")


def test_what_was_written_is_there_tomorrow(browser_with):
    tab = browser_with()
    page = tab()
    expect(state(page)).to_have_text("Spare-room five before an example; kept in this browser as soon as you change it")
    assert kept(page) == {}
    paste(page, MINE)
    expect(state(page)).to_have_text("Mine kept in this browser")
    page.reload()
    page.wait_for_selector(".cm-content")
    assert editor_text(page) == MINE
    page.close()
    assert editor_text(tab()) == MINE


def test_every_letter_is_kept_at_once(browser_with):
    page = browser_with()()
    paste(page, MINE)
    page.keyboard.type("# x")
    assert [board["text"] for board in kept(page).values()] == [f"{MINE}# x"]


def test_first_the_link_then_what_was_kept_then_the_sample(browser_with):
    tab = browser_with()
    page = tab()
    assert editor_text(page).strip() == SAMPLE.read_text().strip()
    paste(page, MINE)
    assert editor_text(tab()) == MINE
    linked = tab("checker/#example=boards/cafe-duo.yaml")
    expect(state(linked)).to_contain_text("Café duo an example")
    assert editor_text(linked) == DUO
    assert editor_text(tab()) == MINE


def test_a_board_from_a_link_is_only_kept_when_it_is_changed_and_then_the_link_gives_way(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})("checker/#example=boards/cafe-duo.yaml")
    assert list(kept(page)) == ["Mine"]
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# mine now\n")
    assert {name: board["text"] for name, board in kept(page).items()} == {"Mine": MINE, "Café duo": f"# mine now\n{DUO}"}
    page.reload()
    page.wait_for_selector(".cm-content")
    assert editor_text(page) == f"# mine now\n{DUO}"


def test_a_link_within_the_answer_does_not_take_the_place_of_the_boards_link(browser_with):
    page = browser_with()("checker/#example=boards/spare-room-five-before.yaml")
    page.locator(".bw-count").first.click()
    assert page.evaluate("document.activeElement.tagName") == "H3"
    assert page.url.endswith("#example=boards/spare-room-five-before.yaml")


def test_opening_another_board_can_be_undone_and_never_undone_into_it(browser_with):
    page = browser_with()()
    paste(page, MINE)
    page.evaluate("location.hash = '#example=boards/cafe-duo.yaml'")
    expect(note(page)).to_contain_text("Opened “Café duo”.")
    assert editor_text(page) == DUO
    page.locator(".cm-content").click()
    page.keyboard.press("Control+z")
    assert editor_text(page) == DUO
    note(page).get_by_role("button", name="Back to “Mine”").click()
    assert editor_text(page) == MINE
    note(page).get_by_role("button", name="Back to “Café duo”").click()
    assert editor_text(page) == DUO
    assert list(kept(page)) == ["Mine"]


def test_what_is_left_before_it_is_checked_goes_by_its_own_name(browser_with):
    page = browser_with()()
    slow = '# wait 60000\nboard: {name: "Mine, for now"}\n'
    paste(page, slow)
    page.evaluate("location.hash = '#example=boards/cafe-duo.yaml'")
    note(page).get_by_role("button", name="Back to “Mine, for now”").click()
    assert editor_text(page) == slow
    assert list(kept(page)) == ["Mine, for now"]


def test_boards_are_opened_renamed_deleted_and_put_back_by_keyboard(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE), f"{KEY}o": entry("Other", OTHER, changed=1_780_000_000_000)})()
    assert editor_text(page) == MINE
    fold = boards(page)
    fold.get_by_role("button", name="Other", exact=True).press("Enter")
    assert editor_text(page) == OTHER
    expect(fold.get_by_role("button", name="Other", exact=True)).to_be_focused()
    expect(fold.get_by_role("button", name="Other", exact=True)).to_have_attribute("aria-current", "true")

    fold.get_by_role("button", name="Rename Other").press("Enter")
    expect(fold.get_by_label("New name of Other")).to_be_focused()
    page.keyboard.type("For the tour")
    page.keyboard.press("Enter")
    expect(state(page)).to_have_text("For the tour kept in this browser")
    expect(fold.get_by_role("button", name="For the tour", exact=True)).to_be_focused()
    assert kept(page)["For the tour"]["text"] == OTHER
    # A name of the reader's own stays, whatever the text calls itself.
    page.get_by_role("button", name="Check now").click()
    expect(page.locator(".bw-state")).to_contain_text("Up to date")
    assert "For the tour" in kept(page)

    fold.get_by_role("button", name="Delete For the tour").press("Enter")
    assert editor_text(page) == MINE
    expect(fold.get_by_role("button", name="Mine", exact=True)).to_be_focused()
    expect(note(page)).to_contain_text("Deleted “For the tour”.")
    note(page).get_by_role("button", name="Put it back").press("Enter")
    expect(note(page).get_by_role("button")).to_be_focused()
    assert editor_text(page) == OTHER
    assert "deleted" not in kept(page)["For the tour"]

    fold.get_by_role("button", name="Delete Mine").press("Enter")
    fold.get_by_text("Deleted boards").press("Enter")
    fold.get_by_role("button", name="Delete for good: Mine").press("Enter")
    assert "Mine" in kept(page)
    fold.get_by_role("button", name="Really, for good: delete Mine").press("Enter")
    assert list(kept(page)) == ["For the tour"]
    expect(fold.get_by_role("button", name="For the tour", exact=True)).to_be_focused()

    page.keyboard.press("Escape")
    expect(fold).to_be_hidden()
    expect(page.get_by_role("button", name="Boards", exact=True)).to_be_focused()


def test_escape_leaves_a_name_as_it_is(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    fold = boards(page)
    fold.get_by_role("button", name="Rename Mine").click()
    page.keyboard.type("Nonsense")
    page.keyboard.press("Escape")
    expect(fold).to_be_visible()
    expect(fold.get_by_role("button", name="Mine", exact=True)).to_be_focused()
    assert list(kept(page)) == ["Mine"]


def test_the_state_before_this_sitting_can_be_had_back_and_swapped_again(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    paste(page, OTHER)
    fold = boards(page)
    fold.get_by_role("button", name="Earlier state of Other").click()
    assert editor_text(page) == MINE
    note(page).get_by_role("button", name="As it was before that").click()
    assert editor_text(page) == OTHER
    assert len(kept(page)) == 1


def test_new_boards_and_the_example_overwrite_nothing(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    fold = boards(page)
    fold.get_by_role("button", name="New board").click()
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("# first")
    fold.get_by_role("button", name="Open the example").click()
    assert editor_text(page).strip() == SAMPLE.read_text().strip()
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# changed\n")
    assert {board["text"].split("\n")[0] for board in kept(page).values()} == {"board: {name: Mine}", "board: {name: New board}", "# changed"}


# ---- two tabs


def test_two_tabs_with_two_boards_do_not_meet(browser_with):
    tab = browser_with()
    one, other = tab(), tab()
    paste(one, MINE)
    paste(other, OTHER)
    expect(state(other)).to_contain_text("Other")
    assert {board["text"] for board in kept(one).values()} == {MINE, OTHER}


def test_two_tabs_with_one_board_lose_nothing(browser_with):
    tab = browser_with(**{f"{KEY}m": entry("Mine", MINE)})
    one, other = tab(), tab()
    paste(one, f"{MINE}# from one\n")
    expect(note(other)).to_contain_text("This board was changed in another tab.")
    assert editor_text(other) == MINE
    paste(other, f"{MINE}# from the other\n")
    expect(note(other)).to_contain_text("Nothing is lost: what you write here is kept as “Mine (from another tab)”.")
    paste(one, f"{MINE}# from one, again\n")
    assert {name: board["text"] for name, board in kept(one).items()} == {
        "Mine": f"{MINE}# from one, again\n",
        "Mine (from another tab)": f"{MINE}# from the other\n",
    }


def test_what_another_tab_wrote_can_be_shown(browser_with):
    tab = browser_with(**{f"{KEY}m": entry("Mine", MINE)})
    one, other = tab(), tab()
    paste(one, f"{MINE}# from one\n")
    note(other).get_by_role("button", name="Show it as it is there").click()
    assert editor_text(other) == f"{MINE}# from one\n"
    paste(other, f"{MINE}# from the other\n")
    assert [board["text"] for board in kept(one).values()] == [f"{MINE}# from the other\n"]


def test_a_board_deleted_in_another_tab_is_kept_again_when_it_is_changed_here(browser_with):
    tab = browser_with(**{f"{KEY}m": entry("Mine", MINE)})
    one, other = tab(), tab()
    boards(one).get_by_role("button", name="Delete Mine").click()
    expect(note(other)).to_contain_text("This board was deleted in another tab.")
    assert editor_text(other) == MINE
    paste(other, OTHER)
    assert OTHER in {board["text"] for board in kept(other).values() if "deleted" not in board}


# ---- all boards in one file


def exported(page):
    with page.expect_download() as download:
        boards(page).get_by_role("button", name="Export all to one file").click()
    return download.value


def import_file(page, name, content):
    boards(page)
    page.locator("input[type=file]").set_input_files({"name": name, "mimeType": "text/plain", "buffer": content if isinstance(content, bytes) else content.encode()})


def test_all_boards_leave_as_one_file_and_come_back_without_overwriting(browser_with, tmp_path):
    storage = {f"{KEY}m": entry("Mine", MINE), f"{KEY}o": entry("Other", OTHER, renamed=True), f"{KEY}d": entry("Gone", CLEAN, deleted=1_790_000_000_001)}
    download = exported(browser_with(**storage)())
    assert download.suggested_filename.startswith("boardwright-boards-20")
    download.save_as(tmp_path / "all.json")
    content = (tmp_path / "all.json").read_text()
    assert {board["name"]: board["text"] for board in json.loads(content)["boards"]} == {"Mine": MINE, "Other": OTHER}

    page = browser_with(**{f"{KEY}m": entry("Mine", f"{MINE}# newer\n"), f"{KEY}x": entry("The same as Other", OTHER)})()
    import_file(page, "all.json", content)
    expect(note(page)).to_contain_text("From all.json: 1 added, 1 were here already. No board was replaced.")
    everything = page.evaluate("Object.entries(localStorage).filter(([key]) => key.startsWith('boardwright/board/')).map(([, raw]) => raw)")
    assert sorted(json.loads(raw)["text"] for raw in everything) == sorted([MINE, f"{MINE}# newer\n", OTHER])
    assert editor_text(page) == f"{MINE}# newer\n"


def test_a_board_in_a_file_is_opened_beside_the_others(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    import_file(page, "tour.yaml", OTHER)
    expect(note(page)).to_contain_text("Opened “Other”.")
    assert editor_text(page) == OTHER
    assert {board["text"] for board in kept(page).values()} == {MINE, OTHER}


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"\xff\xfe\x00pedals", "is not a text file. It was not opened."),
        (json.dumps({"format": "boardwright-boards/9", "boards": []}), "was written by another version of this page (boardwright-boards/9). It was not opened."),
        (json.dumps({"format": "boardwright-boards/1", "boards": {"length": 3}}), "was written by another version of this page"),
        (json.dumps({"format": "boardwright-boards/1", "boards": [1, None, {"name": "x"}, {"name": 3, "text": "a", "changed": 1}]}), "0 added, 4 could not be read. No board was replaced."),
    ],
    ids=["binary", "another version", "no list", "no boards"],
)
def test_a_file_that_holds_no_boards_says_so_and_changes_nothing(browser_with, content, said):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    import_file(page, "a.json", content)
    expect(note(page)).to_contain_text(said)
    assert editor_text(page) == MINE and list(kept(page)) == ["Mine"]


def test_a_file_that_is_far_too_large_is_not_read(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE)})()
    boards(page)
    page.evaluate(
        """() => {
            const carried = new DataTransfer();
            carried.items.add(new File(["x".repeat(20_000_001)], "a.json"));
            const picker = document.querySelector("input[type=file]");
            picker.files = carried.files;
            picker.dispatchEvent(new Event("change"));
        }"""
    )
    expect(note(page)).to_contain_text("a.json is larger than 20 MB, which no set of boards is. It was not opened.")
    assert editor_text(page) == MINE and list(kept(page)) == ["Mine"]


# ---- bad, full and missing storage

BROKEN = {
    "not JSON": "{",
    "nothing": "",
    "null": "null",
    "a list": "[]",
    "a number as text": json.dumps({"name": "x", "text": 3, "changed": 1}),
    "no date": json.dumps({"name": "x", "text": "a", "changed": "yesterday"}),
    "a date beyond time": json.dumps({"name": "x", "text": "a", "changed": 1e300}),
    "a name that is an object": json.dumps({"name": {"toString": 1}, "text": "a", "changed": 1}),
}


def test_entries_that_cannot_be_read_break_nothing_and_stay(browser_with):
    broken = {KEY + kind: raw for kind, raw in BROKEN.items()}
    page = browser_with(**broken, **{f"{KEY}m": entry("Mine", MINE), "boardwright/open": "../x"})()
    assert editor_text(page) == MINE
    fold = boards(page)
    assert fold.get_by_text("cannot be read").count() == len(BROKEN)
    with page.expect_download() as download:
        fold.get_by_role("button", name="Download it: the entry boardwright/board/not JSON").click()
    assert download.value.path().read_text() == "{"
    paste(page, OTHER)
    stays = page.evaluate("keys => keys.map(key => localStorage.getItem(key))", list(broken))
    assert stays == list(broken.values())


def test_hostile_names_and_texts_are_text(browser_with):
    name = "<img src=x onerror=\"document.title='run'\">\u202e\u0007"
    page = browser_with(**{f"{KEY}m": entry(name, f"board: {{name: {json.dumps(name)}}}\n", renamed=True, earlier={"text": 3, "changed": 1}, __proto__=1)})()
    expect(page.locator(".bw-desk__name")).to_have_text("<img src=x onerror=\"document.title='run'\">")
    boards(page)
    assert page.locator(".bw-desk img").count() == 0
    assert page.title() != "run"


FULL = "() => { window.room = Storage.prototype.setItem; Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') } }"


def test_full_storage_is_said_and_the_text_is_not_lost(browser_with):
    page = browser_with(**{f"{KEY}m": entry("Mine", MINE), f"{KEY}o": entry("Other", OTHER, changed=1)})()
    page.evaluate(FULL)
    paste(page, CLEAN)
    expect(note(page)).to_contain_text("Your last changes are not kept: the browser has no room left for this site.")
    expect(state(page)).to_have_text("Spare-room five not kept")
    boards(page).get_by_role("button", name="Other", exact=True).click()
    assert editor_text(page) == OTHER
    note(page).get_by_role("button", name="Back to").click()
    assert editor_text(page) == CLEAN
    page.evaluate("() => { Storage.prototype.setItem = window.room }")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("# x")
    assert {board["text"] for board in kept(page).values()} == {MINE, OTHER, f"{CLEAN}# x"}


def test_really_full_storage(browser_with):
    """Not only a made-up error: the browser's own limit."""
    page = browser_with()()
    page.evaluate("try { for (let size = 4e6, n = 0; size >= 1; ) try { localStorage.setItem(`fill${n++}`, 'x'.repeat(size)) } catch { size = Math.floor(size / 2) } } catch {}")
    paste(page, MINE)
    expect(note(page)).to_contain_text("the browser has no room left for this site")
    assert editor_text(page) == MINE


def test_without_storage_the_page_works_and_says_that_nothing_is_kept(open_page, site_url, browser):
    context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError') } })")
    page.goto(f"{site_url}checker/#example=boards/cafe-duo.yaml")
    page.wait_for_selector(".cm-content")
    assert editor_text(page) == DUO
    paste(page, MINE)
    expect(note(page)).to_contain_text("Your last changes are not kept: this browser keeps nothing for this site. Download the board or copy its link.")
    expect(state(page)).to_have_text("Mine not kept")
    boards(page)
    context.close()
