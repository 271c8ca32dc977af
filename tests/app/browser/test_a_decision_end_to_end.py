"""A click in the browser, a file in the inbox, `load`, `build`: an old action on the page."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from app.capture.keep import read
from ingest import demo, sample
from ingest.demo import School
from ingest.sample import SampleManifest
from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, window
from tests.ingest.test_cli import run

pytestmark = pytest.mark.browser
AT = datetime(2025, 12, 19, 18, 0, tzinfo=UTC)
WAITS = "waiting for the next build"


def small(folder: Path) -> SampleManifest:
    return sample.generate(folder, size=sample.SMALL)


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four rooms of the invented school up to the winter break, really loaded and built."""
    folder = tmp_path_factory.mktemp("around") / "demo"
    return demo.prepare(folder, lambda: AT, school=School(generate=small)).workspace.root


def drawn(page: Page, address: str) -> None:
    page.goto(f"{address}/meeting?view_as=Support+team")
    page.wait_for_function(DRAWN, timeout=60_000)


def test_what_was_decided_in_the_browser_is_an_old_action_after_the_next_build(
    browser: Browser, workspace: Path
) -> None:
    with served(workspace, "support") as address:
        context, seen = window(browser, 1280, "light")
        drawn(seen.page, address)
        action = seen.page.locator("[class*=st-key-action-]").first
        name = action.locator("h3").inner_text()
        action.locator("summary").first.click()
        action.locator("label").filter(has_text="It holds: close it").click()
        action.get_by_label("Note").fill("The class keeps it up")
        action.get_by_role("button", name="Write it down").click()
        expect(seen.page.get_by_text(WAITS)).to_be_visible()
        [path] = (workspace / "inbox").iterdir()
        record = read(path) or {}
        assert (record["decision"], record["note"]) == ("close", "The class keeps it up")

        assert run("load", "-w", str(workspace))[0] == 0
        assert list((workspace / "inbox").iterdir()) == []
        drawn(seen.page, address)
        expect(seen.page.get_by_text(WAITS)).to_be_visible()

        assert run("build", "-w", str(workspace), "--as-of", "2025-12-19")[0] == 0
        drawn(seen.page, address)
        expect(seen.page.get_by_text(WAITS)).to_have_count(0)
        said = seen.page.locator(".st-key-card-said")
        expect(said.locator("h3").filter(has_text=name)).to_have_count(0)
        expect(said.get_by_text(f"{name}: closed on")).to_be_visible()
        context.close()
