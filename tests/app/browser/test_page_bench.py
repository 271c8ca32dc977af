"""The page benchmark's own instruments, on the small invented school."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.app.browser.conftest import served
from tests.bench.clicks import clicks, first_chart
from tests.bench.crowd import Crowd, ask

pytestmark = pytest.mark.browser


def test_a_crowd_gets_whole_pages_and_every_ask_is_timed(school: Path) -> None:
    pages = ("schoolwide", "routines")
    with served(school, "principal") as address:
        one = ask(Crowd(address, pages[:1], sessions=1, think_seconds=0.01, asks=2))
        many = ask(Crowd(address, pages, sessions=3, think_seconds=0.01, asks=2))
    assert len(one.seconds) == 2
    assert len(many.seconds) == 6
    assert min(many.seconds) > 0
    assert one.deltas > 3 * 30  # a page has some dozens of pieces; none came only in part


def test_a_click_is_timed_to_another_page_that_is_painted(browser: Browser, school: Path) -> None:
    with served(school, "principal") as address:
        assert first_chart(browser, address) > 0
        took = clicks(browser, address, 3)
    assert len(took) == 3
    assert min(took) > 0
