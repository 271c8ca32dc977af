"""The buttons hand out real files: a brief to the principal, one class's page to the team."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.app.browser.conftest import served
from tests.app.browser.looking import window
from tests.app.invented import rows
from tests.app.paper.reading import Printed
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    workspace = tmp_path_factory.mktemp("paper")
    write_snapshot(workspace, rows(), is_demo=True)
    with served(workspace, "principal") as at:
        yield at


@pytest.mark.parametrize(
    ("reader", "path", "label", "name", "pages"),
    [
        ("Principal", "schoolwide", "Brief on two pages (PDF)", "brief-quillbrook-spring", 2),
        ("Support team", "meeting", "Coach’s page on paper (PDF)", "coach-room-3-voice", 1),
    ],
)
def test_a_page_can_be_had_by_keyboard(
    address: str, browser: Browser, tmp_path: Path,
    reader: str, path: str, label: str, name: str, pages: int,
) -> None:  # fmt: skip
    context, seen = window(browser, 1280, "light")
    seen.open(address, path, reader)
    button = seen.page.get_by_role("button", name=label)
    button.focus()
    with seen.page.expect_download(timeout=60_000) as handed:
        seen.page.keyboard.press("Enter")
    assert handed.value.suggested_filename.startswith(name)
    file = tmp_path / "page.pdf"
    handed.value.save_as(file)
    page = Printed(file.read_bytes())
    assert len(page.file.pages) == pages
    assert "Invented school" in page.text
    box = button.bounding_box()
    assert box is not None
    assert box["height"] >= 24
    assert seen.outside == []
    context.close()
