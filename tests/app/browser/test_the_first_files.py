"""A school that has nothing yet begins in the browser: files, a first build, then every page."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from ingest import start
from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, window
from tests.app.browser.test_the_desk import BASE, ended, send, troubles_in_every_window

pytestmark = pytest.mark.browser


def test_a_steward_brings_in_the_first_files_builds_and_finds_the_pages(
    browser: Browser, tmp_path: Path
) -> None:
    root = start.create(tmp_path / "ws", "Quillbrook (invented)", "quillbrook", "UTC").root
    with served(root, "steward") as address:
        context, seen = window(browser, 1280, "light")
        page = seen.page
        page.goto(address)
        page.get_by_role("heading", name="Bring in your first files").wait_for(timeout=45_000)
        page.wait_for_function(DRAWN, timeout=45_000)
        assert troubles_in_every_window(seen, "first-files") == {}
        send(page, sorted(BASE.glob("*.csv")))
        ended(page, "Done: every file was looked at.", 240)
        page.get_by_role("button", name="Build now").click()
        page.locator(".st-key-nav a", has_text="What came in").wait_for(timeout=570_000)
        page.get_by_role("heading", name="Bring in", exact=True).wait_for(timeout=45_000)
        assert (root / "snapshots" / "current").exists()
        assert seen.outside == []
        context.close()


@pytest.mark.parametrize("reader", ["principal", "teacher:room-3"])
def test_for_other_readers_the_first_page_says_whose_step_it_is(
    browser: Browser, tmp_path: Path, reader: str
) -> None:
    root = start.create(tmp_path / "ws", "Quillbrook (invented)", "quillbrook", "UTC").root
    with served(root, reader) as address:
        context, seen = window(browser, 390, "dark")
        seen.page.goto(address)
        seen.page.get_by_role("heading", name="Load your roster to begin").wait_for(timeout=45_000)
        assert seen.page.locator("input[type=file]").count() == 0
        assert "data steward" in seen.page.inner_text("body")
        context.close()
