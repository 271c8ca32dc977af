"""A look of ten beeps with five children each, over a slow net beside the same without any net.

Both are recorded in turns in one Chromium by the same taps. Beeps are brought forward on a clock
that the benchmark moves, so that what is timed is the taps and the saving, not the waiting.
"""

from __future__ import annotations

from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, Page, sync_playwright

from tests.app.browser.servers import FLAGS, chromium
from tests.bench.figure import Figure, Options
from tests.bench.slow_school import slow_school

LATENCY_SECONDS = 0.3
BEEPS, CHILDREN = 10, 5
_SLOWER = 1.1
# One tap: from the press until the page has painted what it did.
_TAP = """(word) => new Promise((done) => {
    const key = [...document.querySelectorAll('.looks button')].find(b => b.textContent === word);
    const from = realNow();
    key.click();
    const channel = new MessageChannel();
    channel.port1.onmessage = () => done(realNow() - from);
    void document.body.offsetHeight;
    channel.port2.postMessage(null);
})"""

_COUNT = """() => JSON.parse(localStorage[
    Object.keys(localStorage).find(name => name.endsWith(' look'))]).acts.length"""
# The clock that the benchmark moves must not be the one that it is timed by.
_CLOCK = "window.realNow = performance.now.bind(performance);"


def run(folder: Path, options: Options) -> list[Figure]:
    """The taps of a whole look with 300 ms to every answer, and the same offline."""
    with sync_playwright() as playwright, slow_school(LATENCY_SECONDS) as address:
        browser = playwright.chromium.launch(executable_path=chromium(), args=list(FLAGS))
        turns = [
            (_look(browser, address, is_offline=False), _look(browser, address, is_offline=True))
            for _ in range(options.repeats)
        ]
        browser.close()
    value = median(slow for slow, _ in turns)
    ratio = median(slow / offline for slow, offline in turns)
    name = f"a look of {BEEPS} x {CHILDREN} children over {1000 * LATENCY_SECONDS:g} ms, all taps"
    target = f"<= {_SLOWER:g} x the same offline"
    return [Figure(name, value, "ms", "the same offline", ratio, target, ratio <= _SLOWER)]


def _look(browser: Browser, address: str, *, is_offline: bool) -> float:
    """Milliseconds that the taps of one look took together."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    context.add_init_script(_CLOCK)
    page = context.new_page()
    page.clock.install()
    page.goto(f"{address}/classroom#look")
    page.get_by_role("radio", name="Settling to listen").check()
    page.locator(".preset summary").click()
    for group, key in (("Seconds from beep to beep", "30"), ("Children at each beep", "5")):
        page.get_by_role("group", name=group).get_by_role("radio", name=key, exact=True).check()
    context.set_offline(is_offline)
    page.get_by_role("button", name="Begin the look").click()
    page.locator(".seat b").wait_for()
    took = sum(_beep(page) for _ in range(BEEPS))
    assert page.evaluate(_COUNT) == BEEPS * CHILDREN
    context.close()
    return took


def _beep(page: Page) -> float:
    page.clock.run_for(30_050)
    words = ("Yes", "Yes, their agreed way", "Not at this moment", "Can’t see", "Yes")
    return sum(float(page.evaluate(_TAP, word)) for word in words)
