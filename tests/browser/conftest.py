"""A Chromium for all tests of this folder, and the built checker served below a path of its own."""

import shutil
from pathlib import Path

import chromium
import pytest
from playwright.sync_api import sync_playwright
from serve import StaticFiles, serving

BROWSER = Path(__file__).parents[2] / "checker/browser"


class Strict(StaticFiles):
    """Allows scripts and connections to this host alone, no inline code, and of evaluation only WebAssembly's."""

    def end_headers(self):
        self.send_header("Content-Security-Policy", "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src data:")
        super().end_headers()


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as playwright:
        running = chromium.launch(playwright)
        yield running
        running.close()


@pytest.fixture(scope="session")
def checker_url(tmp_path_factory):
    """Address of an empty page of a site below a path; its checker is in ``assets/checker/``."""
    assert (BROWSER / "dist/worker.mjs").exists(), "The checker has not been built. `make runtime` builds it."
    folder = tmp_path_factory.mktemp("served")
    assets = folder / "a/site/assets/checker"
    shutil.copytree(BROWSER / "dist", assets)
    shutil.copy(BROWSER / "client.mjs", assets)
    (folder / "a/site/index.html").write_text("<!doctype html><link rel=icon href=data:,><title>Checker</title>")
    with serving(folder, files=Strict) as address:
        yield f"{address}a/site/"
