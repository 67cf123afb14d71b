"""The content security policy of each kind of page: nothing of ours offends against it, and it stops what it is there to stop."""

import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest
from playwright.sync_api import expect

PAGES = {
    "home": "",
    "lesson": "lessons/current/",
    "lesson that explains with a symbol": "lessons/labels/",
    "worked example": "examples/saltmarsh-tour/",
    "rule": "reference/rules/outlet-current-overdrawn/",
    "language": "reference/language/",
    "checker": "checker/",
    "lost": "404.html",
}


@pytest.mark.parametrize("path", [pytest.param(path, id=kind) for kind, path in PAGES.items()])
def test_a_page_lives_within_its_policy(open_page, path):
    """``open_page`` fails on every violation: Chromium writes each to the console."""
    page = open_page(path)
    assert page.locator("meta[http-equiv='Content-Security-Policy']").count() == 1
    # What the theme does when asked: change the palette, search in a worker.
    page.evaluate("document.querySelector('[data-md-component=palette] input:not(:checked)').click()")
    page.evaluate("document.querySelector('[data-md-toggle=search]').click()")
    expect(page.locator(".md-search-result__meta")).to_have_text("Type to start searching")
    page.locator(".md-search__input").press_sequentially("outlet")
    expect(page.locator(".md-search-result__item").first).to_be_visible()


def test_an_exercise_lives_within_it_too(open_page):
    page = open_page("lessons/current/")
    page.locator(".bw-exercise textarea").focus()
    expect(page.locator(".bw-exercise")).to_contain_text("0 of 5 mended.")
    expect(page.locator(".bw-exercise .cm-content")).to_be_visible()


@pytest.fixture(scope="module")
def elsewhere():
    """Another host, which notes whatever it is asked for."""

    class Asked(BaseHTTPRequestHandler):
        def do_GET(self):
            listening.asked.append(self.path)
            self.send_response(204)
            self.end_headers()

        do_POST = do_GET

        def log_message(self, *_):
            """Say nothing."""

    listening = ThreadingHTTPServer(("127.0.0.1", 0), Asked)
    listening.asked = []
    threading.Thread(target=listening.serve_forever, daemon=True).start()
    yield listening
    listening.shutdown()
    listening.server_close()


HOSTILE = {
    "script-src-elem": "document.body.append(Object.assign(document.createElement('script'), {textContent: 'window.ran = true'}))",
    "script-src-attr": "document.body.setAttribute('onclick', 'window.ran = true'); document.body.click()",
    "script-src": "setTimeout('window.ran = true')",
    "img-src": "document.body.append(Object.assign(new Image(), {src: HOST}))",
    "connect-src": "fetch(HOST).catch(() => {})",
    "base-uri": "document.head.append(Object.assign(document.createElement('base'), {href: HOST}))",
    "frame-src": "document.body.append(Object.assign(document.createElement('iframe'), {src: HOST}))",
    "object-src": "document.body.append(Object.assign(document.createElement('object'), {data: HOST}))",
    "worker-src": "try { new Worker('data:text/javascript,0') } catch {}",
    "form-action": "const form = document.createElement('form'); form.action = HOST; document.body.append(form); form.submit()",
}


STOPPED = """HOST => new Promise((resolve) => {
    document.addEventListener("securitypolicyviolation", (event) => resolve(event.effectiveDirective));
    TRY
})"""


@pytest.mark.parametrize("directive", HOSTILE)
def test_it_stops_what_a_hostile_text_would_need(browser, site_url, elsewhere, directive):
    """Whatever may get past the page's own care finds no way to run or to leave."""
    page = browser.new_page()
    page.goto(f"{site_url}lessons/current/")
    stopped = page.evaluate(STOPPED.replace("TRY", HOSTILE[directive]), f"http://127.0.0.1:{elsewhere.server_port}/board")
    assert stopped == directive
    page.wait_for_timeout(50)
    assert page.evaluate("window.ran") is None
    page.close()
    assert elsewhere.asked == []
