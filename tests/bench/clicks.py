"""What one reader waits for in a real browser: from a click to the painted page, from cold."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Page, sync_playwright

from tests.app.browser.servers import FLAGS, chromium

# Painted: the new title stands there, the script has ended, and two frames have been drawn.
_PAINTED = """(before) => new Promise(done => {
    const started = performance.now();
    const look = () => {
        const title = document.querySelector('.ro-title');
        const app = document.querySelector('.stApp');
        const isThere = title && title.innerText !== before
            && app.dataset.testScriptState === 'notRunning';
        if (isThere) requestAnimationFrame(() => requestAnimationFrame(
            () => done(performance.now() - started)));
        else requestAnimationFrame(look);
    };
    document.querySelectorAll('.st-key-nav a')[%d].click();
    look();
})"""
_FIRST_CHART = "() => document.querySelector('.ro-plot i')"
_WORDS_AND_CHART = """() => document.querySelector('.st-key-nav a')
    && document.querySelector('.ro-plot i')"""


@contextmanager
def browser() -> Iterator[Browser]:
    """The Chromium of this machine."""
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=chromium(), args=list(FLAGS))


def first_chart(started: Browser, address: str) -> float:
    """Seconds from an empty window to the first chart of the first page."""
    context = started.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    begun = time.perf_counter()
    page.goto(address)
    page.wait_for_function(_FIRST_CHART, timeout=60_000)
    took = time.perf_counter() - begun
    context.close()
    return took


def clicks(started: Browser, address: str, count: int) -> list[float]:
    """Milliseconds from a click on a word of the header to the painted page, `count` times."""
    context = started.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.goto(address)
    page.wait_for_function(_WORDS_AND_CHART, timeout=60_000)
    words = page.locator(".st-key-nav a").count()
    # Once round without the clock: code and figures are read in.
    took = [_click(page, (turn + 1) % words) for turn in range(words + count)]
    context.close()
    return took[words:]


def _click(page: Page, word: int) -> float:
    before = page.locator(".ro-title").inner_text()
    return float(page.evaluate(_PAINTED % word, before))
