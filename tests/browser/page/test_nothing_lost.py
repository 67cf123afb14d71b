"""Whatever is done at the page, every line that the reader wrote can be found again: sequences of actions by chance, and ways that once lost text."""

import json
import random

import pytest
from playwright.sync_api import expect

from browser.page.steps import CLEAN, HOUSE, editor_text, paste
from browser.page.test_desk import FULL, KEY, MINE, OTHER, boards, entry, kept, note
from browser.page.test_share import hop
from fuzz.damage import linked

SLIP = (HOUSE / "docs/lessons/boards/labels-exercise.yaml").read_text().replace("kind: phaser", "knid: phaser")
NO_MORE_FULL = "() => { if (window.room) { Storage.prototype.setItem = window.room; delete window.room } }"
EVERYWHERE = """() => Object.entries(localStorage).filter(([key]) => key.startsWith('boardwright/board/'))
    .flatMap(([, raw]) => { const { text, earlier } = JSON.parse(raw); return [text, earlier?.text ?? ''] })"""

ASIDE = """() => {
    const saved = [], make = URL.createObjectURL, click = HTMLAnchorElement.prototype.click;
    URL.createObjectURL = (blob) => { saved.push(blob.text()); return '#' };
    HTMLAnchorElement.prototype.click = () => {};
    document.querySelectorAll("[aria-label^='Download '][aria-label$='found no room']").forEach((button) => button.click());
    Object.assign(URL, { createObjectURL: make });
    HTMLAnchorElement.prototype.click = click;
    return Promise.all(saved);
}"""
"""What found no room can be downloaded; it is caught before it gets that far."""


def types(page, line, at="End"):
    page.locator(".cm-content").click()
    page.keyboard.press(f"Control+{at}")
    page.keyboard.insert_text(line)


class Reader:
    """Somebody at the page who does this and that, and remembers each line that was written."""

    def __init__(self, page, seed):
        self.page, self.chance, self.seed = page, random.Random(seed), seed
        self.written, self.done = [], []

    def act(self):
        for name in (["write"] if self.chance.random() < 0.5 else []) + [self.chance.choice(ACTIONS)]:
            self.done.append(name)
            getattr(self, name)()
        lost = [line for line in self.written if line not in self.to_be_found()]
        assert not lost, f"{self.seed} {self.done} {lost}"

    def to_be_found(self):
        """The text of the editor, of all boards that are kept or found no room, and what is offered to go back to."""
        page = self.page
        boards(page)
        return "\n".join([editor_text(page), *page.evaluate(EVERYWHERE), *page.evaluate(ASIDE)])

    # --- actions

    def write(self):
        line = f"# {self.seed} wrote {len(self.written)}."
        self.written.append(line)
        at = self.chance.choice(["Home", "End"])
        types(self.page, f"{line}\n" if at == "Home" else f"\n{line}", at)

    def sample(self):
        boards(self.page).get_by_role("button", name="Open the example").click()

    def new(self):
        boards(self.page).locator(".bw-desk__actions").get_by_role("button", name="New board").click()

    def link(self):
        text = self.chance.choice([MINE, OTHER, SLIP])
        hop(self.page, linked(text))
        self._comes(text)
        hop(self.page, "")

    def bad_link(self):
        hop(self.page, "#board=1.AAAA")
        expect(note(self.page)).to_contain_text("damaged")
        hop(self.page, "")

    def form(self):
        self.page.get_by_role("button", name="First board").click()
        self.page.get_by_role("button", name="Write this board").click()

    def tidy(self):
        self.page.get_by_role("button", name="Tidy").click()
        self._perhaps("Take it back")

    def put_in(self):
        self.page.locator("summary", has_text="Put in").click()
        self.page.locator(".bw-piece").nth(self.chance.randrange(5)).click()
        self._perhaps("Take it back")

    def mend(self):
        mends = self.page.locator(".bw-mend")
        if mends.count():
            mends.first.locator("summary").click()
            mends.first.get_by_role("button", name="Change the text").click()
            self._perhaps("Take it back")

    def file(self):
        boards(self.page)
        content = self.chance.choice([OTHER, json.dumps({"format": "boardwright-boards/1", "boards": [json.loads(entry("Carried", MINE))]})])
        self.page.locator("input[type=file]").set_input_files({"name": "a.yaml", "mimeType": "text/plain", "buffer": content.encode()})
        if content == OTHER:
            self._comes(OTHER)
        else:
            expect(note(self.page)).to_contain_text("From a.yaml")

    def back(self):
        button = note(self.page).get_by_role("button")
        if button.count():
            button.first.click()

    def earlier(self):
        rows = boards(self.page).get_by_role("button", name="Earlier state of").all()
        if rows:
            self.chance.choice(rows).click()

    def delete(self):
        rows = boards(self.page).locator("[aria-label^='Delete ']:not([aria-label*='for good'])").all()
        if rows:
            self.chance.choice(rows).click()

    def other(self):
        rows = boards(self.page).locator(".bw-boards__open").all()
        if rows:
            self.chance.choice(rows).click()

    def crash(self):
        types(self.page, "# crash\n", "Home")
        expect(self.page.locator(".bw-note__head").first).to_have_text("The checker has stopped")
        self.page.keyboard.press("Control+Home")
        self.page.keyboard.press("Shift+ArrowDown")
        self.page.keyboard.press("Delete")
        self.page.get_by_role("button", name="Start again").click()

    def full(self):
        self.page.evaluate(FULL if not self.page.evaluate("Boolean(window.room)") else NO_MORE_FULL)

    def reload(self):
        self.page.evaluate(NO_MORE_FULL)
        types(self.page, " ")  # with room again, what found none is kept
        self.page.reload()
        self.page.wait_for_selector(".cm-content")

    def _comes(self, text):
        self.page.wait_for_function("text => document.querySelector('.bw-code').shadowRoot.querySelector('.cm-content').cmTile.root.view.state.doc.toString() === text", arg=text)

    def _perhaps(self, name):
        button = self.page.get_by_role("button", name=name)
        if self.chance.random() < 0.5 and button.count():
            button.click()


ACTIONS = ("reload", "reload", "earlier", "earlier", "sample", "new", "link", "bad_link", "form", "tidy", "put_in", "mend", "file", "back", "delete", "other", "crash", "full")


@pytest.mark.parametrize("seed", range(2))
def test_whatever_is_done_every_line_is_found_again(open_page, seed):
    page = open_page(expect_errors=True)  # the checker crashes now and then
    wrong = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    reader = Reader(page, seed)
    for _ in range(10):
        reader.act()
    assert len(reader.written) > 2 and not wrong


# ---- ways that once lost text


def browser_at(open_page, site_url, storage, path="checker/"):
    kept_there = [{"name": key, "value": raw} for key, raw in storage.items()]
    return open_page(path, storage_state={"cookies": [], "origins": [{"origin": site_url.rstrip("/"), "localStorage": kept_there}]})


def texts(page):
    return set(page.evaluate(EVERYWHERE)) | {editor_text(page)}


def test_what_was_written_before_the_scripts_came_is_a_board_of_its_own(browser, site_url):
    context = browser.new_context(storage_state={"cookies": [], "origins": [{"origin": site_url.rstrip("/"), "localStorage": [{"name": f"{KEY}m", "value": entry("Mine", MINE)}]}]})
    page, late = context.new_page(), []
    page.route("**/assets/checker/page.mjs", lambda route: late.append(route))
    page.goto(f"{site_url}checker/", wait_until="commit")
    page.locator("textarea").first.press_sequentially("# early\n")
    late[0].continue_()
    page.wait_for_selector(".cm-content")
    page.unroute_all()
    assert "# early" in editor_text(page) and MINE in texts(page)
    page.reload()
    page.wait_for_selector(".cm-content")
    assert "# early" in editor_text(page) and len(kept(page)) == 2
    context.close()


def test_what_found_no_room_outlives_the_next_boards_and_is_kept_as_soon_as_there_is_room(open_page, site_url):
    page = browser_at(open_page, site_url, {f"{KEY}m": entry("Mine", MINE), f"{KEY}o": entry("Other", OTHER, changed=1)})
    page.evaluate(FULL)
    paste(page, CLEAN)
    boards(page).get_by_role("button", name="Other", exact=True).click()
    boards(page).get_by_role("button", name="Open the example").click()
    fold = boards(page)
    expect(fold).to_contain_text("Spare-room five found no room, and is lost when this page is closed.")
    fold.get_by_role("button", name="Open Spare-room five, which found no room").click()
    assert editor_text(page) == CLEAN
    fold.get_by_role("button", name="Other", exact=True).click()
    page.evaluate(NO_MORE_FULL)
    types(page, "# x")
    assert {board["text"] for board in kept(page).values()} == {MINE, f"{OTHER}# x", CLEAN}
    expect(fold).not_to_contain_text("found no room")


@pytest.mark.parametrize("press", ["Delete Mine", "Earlier state of Mine"])
def test_what_found_no_room_is_not_lost_with_what_was_kept(open_page, site_url, press):
    page = browser_at(open_page, site_url, {f"{KEY}m": entry("Mine", MINE, earlier={"text": OTHER, "changed": 1})})
    page.evaluate(FULL)
    paste(page, CLEAN)
    page.evaluate(NO_MORE_FULL)
    boards(page).get_by_role("button", name=press).click()
    assert {MINE, CLEAN} <= texts(page)


def test_a_board_can_be_deleted_where_there_is_no_room_even_for_saying_so(open_page, site_url):
    page = browser_at(open_page, site_url, {f"{KEY}m": entry("Mine", MINE), f"{KEY}o": entry("Other", OTHER, changed=1)})
    page.evaluate(FULL)
    boards(page).get_by_role("button", name="Delete Other").click()
    expect(note(page)).to_contain_text("There is no room even to mark “Other” as deleted.")
    note(page).get_by_role("button", name="Delete it for good").click()
    expect(note(page)).to_contain_text("“Other” is deleted for good.")
    assert list(kept(page)) == ["Mine"]


def test_what_was_gone_back_from_is_not_lost_with_the_next_sitting(open_page, site_url):
    page = browser_at(open_page, site_url, {f"{KEY}m": entry("Mine", MINE)})
    types(page, "# newest")
    boards(page).get_by_role("button", name="Earlier state of Mine").click()
    page.reload()
    page.wait_for_selector(".cm-content")
    types(page, "# other way")
    assert texts(page) == {MINE, f"{MINE}# newest", f"{MINE}# other way", ""}
    assert "deleted" in kept(page)["Mine (before going back)"]
