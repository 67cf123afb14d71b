"""The checker's page as a reader meets it, without the wait for Python.

It is the built site; only the worker is replaced, by ``fake_worker.mjs``, and the search knows few pages: every page that is
opened reads all that can be searched, which takes nearly as long as all else. Answers come from the checker itself, run by this
Python, except where a test puts one of its own into ``canned``.
"""

import json
from functools import cache, lru_cache
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from serve import StaticFiles, serving

from boardwright.browser import answer, book, hunt, write
from browser.page.steps import HOUSE, canned

SITE = HOUSE / "site"
WORKER = Path(__file__).with_name("fake_worker.mjs")


answered = lru_cache(answer)
"""Most pages open with the same board."""


@cache
def few_pages_to_search():
    index = json.loads((SITE / "search/search_index.json").read_text("utf-8"))
    return json.dumps({**index, "docs": index["docs"][:10]})


class SiteWithFakeWorker(StaticFiles):
    def translate_path(self, path):
        return str(WORKER) if path.endswith("/assets/checker/worker.mjs") else super().translate_path(path)

    def do_GET(self):
        if self.path.endswith("/search/search_index.json"):
            self.send(few_pages_to_search())
        else:
            super().do_GET()

    def do_POST(self):
        text = self.rfile.read(int(self.headers["Content-Length"])).decode()
        asked = urlsplit(self.path)
        if asked.path == "/fake-hunt":
            said = hunt(*json.loads(text))
        elif asked.path == "/fake-book":
            said = json.dumps(list(book(text)))
        elif asked.path == "/fake-write":
            said = write(text, **dict(parse_qsl(asked.query)))
        elif found := canned.get(text.split("\n")[0]):
            said = json.dumps(found)
        else:
            said = answered(text)
        self.send(said)

    def send(self, said):
        body = said.encode()
        self.send_response(200)
        self.send_header("Content-Type", "application/json")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


@pytest.fixture(scope="session")
def site_url():
    assert (SITE / "checker/index.html").exists(), "The site has not been built. `make site` builds it."
    with serving(SITE, files=SiteWithFakeWorker) as address:
        yield address


@pytest.fixture
def open_page(site_url, browser):
    """Opens a page of the site; a console error, a page error or a request to another host fails the test.

    What a page's content security policy forbids is a console error too.
    """
    contexts, wrong = [], []

    def opened(path: str = "checker/", block: str = "", expect_errors: bool = False, **settings):
        usual = {"viewport": {"width": 1280, "height": 900}, "permissions": ["clipboard-read", "clipboard-write"]}
        context = browser.new_context(**usual | settings)
        contexts.append(context)
        # What is kept for use without a network has tests of its own; these readers spare the line.
        context.add_init_script("Object.defineProperty(navigator, 'connection', { value: { saveData: true } })")
        page = context.new_page()
        if not expect_errors:
            page.on("console", lambda message: wrong.append(message.text) if message.type in ("error", "warning") else None)
            page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("request", lambda request: None if request.url.startswith(site_url) else wrong.append(request.url))
        if block:
            page.route(block, lambda route: route.abort())
        page.goto(site_url + path)
        if path.startswith("checker/"):
            page.wait_for_selector(".bw-state:has-text('Up to date')")
            page.wait_for_selector(".bw-plain" if block else ".cm-content")
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not wrong, wrong
