"""The screens of the classroom page on a real server: a teacher's phone, and what it wrote."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from app.capture.packed import rows_in
from ingest import accounts
from ingest.workspace import Workspace
from tests.app.browser.guarded import let_in
from tests.app.browser.looking import SHOTS, Looked
from tests.app.classroom.serving import Server, arrive, sent_away

WIDTHS = ((320, 640), (390, 844), (820, 1100))


@contextmanager
def opened(real_school: Path, folder: Path) -> Iterator[Server]:
    """A server over a copy of the small school, where Maren and Imke are in the people file."""
    shutil.copytree(real_school, folder)
    workspace = let_in(folder)
    workspace.make_folders()
    for name, person in (("maren", "st-102"), ("imke", "st-900")):
        accounts.set_person(workspace, name, person, datetime.now(UTC))
    server = Server(workspace).start()
    yield server
    server.stop()


def phone(browser: Browser, server: Server, screen: str, name: str = "maren") -> Page:
    """A phone on which somebody has signed in, showing one screen."""
    page = browser.new_context(viewport={"width": 390, "height": 844}).new_page()
    arrive(page, server.address, name)
    page.goto(f"{server.address}/classroom#{screen}")
    page.locator(f".screen.{screen} h1").wait_for()
    return page


def fresh_phone(browser: Browser, server: Server, screen: str) -> Iterator[Page]:
    """The same over an inbox in which nothing waits, put away at the end; for a fixture."""
    for path in server.workspace.inbox.iterdir():
        path.unlink()
    made = phone(browser, server, screen)
    yield made
    made.context.close()


def records(workspace: Workspace, feed: str, table: str = "") -> list[dict[str, Any]]:
    """The rows of a feed (or of one of its tables) that lie in the inbox, by name of file."""
    found: list[dict[str, Any]] = []
    for path in sorted(workspace.inbox.glob(f"{feed}-*")):
        found += rows_in(path, table or feed) or []
    return found


def looked_at(page: Page, name: str) -> None:
    """At three widths, light and dark: nothing sticks out, axe finds nothing; kept as pictures."""
    SHOTS.mkdir(parents=True, exist_ok=True)
    for width, height in WIDTHS:
        page.set_viewport_size({"width": width, "height": height})
        for theme in ("light", "dark"):
            page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (name, width)
            found = Looked(page).troubles()
            assert found == [], (name, width, theme, found)
            page.screenshot(path=SHOTS / f"class-{name}-{width}-{theme}.png", full_page=True)
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 390, "height": 844})


def small_targets(page: Page, least: float) -> list[str]:
    """What can be tapped on the screen and is smaller than a thumb needs."""
    found: list[str] = page.evaluate(
        """(least) => [...document.querySelectorAll('#place button, #place .key, #place summary,'
                + '#place select, #place .field input')]
            .filter(one => one.offsetParent !== null)
            .map(one => [one.textContent, one.getBoundingClientRect()])
            .filter(([, box]) => box.width < least || box.height < least)
            .map(([text, box]) => `${text} ${Math.round(box.width)}x${Math.round(box.height)}`)""",
        least,
    )
    return found


__all__ = ["looked_at", "opened", "phone", "records", "sent_away", "small_targets"]
