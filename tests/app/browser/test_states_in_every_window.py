"""The door's own pages and the screens for when something is in the way, in every window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import duckdb
import pytest
from playwright.sync_api import Browser, Page

from tests.app.browser.conftest import served
from tests.app.browser.guarded import guarded, let_in, press_in, signed_in
from tests.app.browser.looking import DRAWN, WINDOWS, Looked, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser
BY_PROXY = {"mode": "proxy", "trusted_proxy": "127.0.0.1", "name_header": "x-remote-user"}
SIZES = [
    *[(width, 800, theme) for width, theme in WINDOWS],
    (640, 400, "dark"),
    (320, 640, "light"),
]


def is_sound_in_every_window(seen: Looked, name: str) -> None:
    """Axe finds nothing and all can be read, in the six windows, enlarged and on a small phone."""
    assert seen.page.locator("h1").count() == 1
    found, full = {}, None
    for width, height, theme in SIZES:
        seen.resize(width, theme, height)
        seen.save(f"{name}-{width}-{theme}")
        now = seen.read()
        full = full or now
        assert sum(full.texts.values()) >= 2
        lost = [f"lost: {text}" for text in full.lost_in(now)]
        found[width, theme] = seen.wider_than_the_window() + now.troubles + lost + seen.troubles()
    assert {size: trouble for size, trouble in found.items() if trouble} == {}
    assert seen.outside == []


@contextmanager
def looking(browser: Browser) -> Iterator[Looked]:
    context, seen = window(browser, 1280, "light")
    yield seen
    context.close()


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root = tmp_path_factory.mktemp("door")
    write_snapshot(root, rows(), is_demo=False)
    with guarded(let_in(root)) as at:
        yield at


def refused(page: Page, address: str) -> None:
    page.goto(address)
    press_in(page, "somebody", "no such words")
    page.wait_for_selector("[role=alert]")


def leaving(page: Page, address: str) -> None:
    signed_in(page, address, "anna", "grades")
    page.goto(f"{address}/signout")


def left(page: Page, address: str) -> None:
    leaving(page, address)
    page.get_by_role("button", name="Sign out", exact=True).click()
    page.wait_for_selector("[role=status]")


def ended_elsewhere(page: Page, address: str) -> None:
    """The visit is ended in another tab while this one is open."""
    signed_in(page, address, "anna", "grades")
    other = page.context.new_page()
    other.goto(f"{address}/signout")
    other.get_by_role("button", name="Sign out", exact=True).click()
    other.wait_for_selector("[role=status]")
    other.close()
    page.get_by_role("link", name="Calendar", exact=True).click()
    page.wait_for_function("document.querySelector('h1')?.innerText === 'You are signed out'")
    page.wait_for_function(DRAWN, timeout=45_000)


DOOR: dict[str, Callable[[Page, str], object]] = {
    "sign-in": lambda page, address: page.goto(f"{address}/grades"),
    "sign-in-refused": refused,
    "sign-out": leaving,
    "left": left,
    "signed-out": ended_elsewhere,
}


@pytest.mark.parametrize("name", DOOR)
def test_a_page_of_the_door_is_sound_in_every_window(
    house: str, browser: Browser, name: str
) -> None:
    with looking(browser) as seen:
        DOOR[name](seen.page, house)
        is_sound_in_every_window(seen, name)


def test_the_doors_answers_behind_a_web_server_are_sound_too(
    browser: Browser, tmp_path: Path
) -> None:
    write_snapshot(tmp_path, rows(), is_demo=False)
    with (
        guarded(let_in(tmp_path), **BY_PROXY) as at,
        looking(browser) as seen,
    ):
        seen.page.set_extra_http_headers({"x-remote-user": "a-stranger"})
        for path, name in (("signin", "not-signed-in"), ("signin?left=1", "signed-out-by-proxy")):
            seen.page.goto(f"{at}/{path}")
            is_sound_in_every_window(seen, name)


def nothing(root: Path) -> None:
    (root / "snapshots").mkdir()


def gone(root: Path) -> None:
    nothing(root)
    (root / "snapshots" / "current").write_text("gone", encoding="utf-8")


def without_a_card(root: Path) -> None:
    """A room whose class is not in it, as no build ever writes it."""
    folder = write_snapshot(root, rows(), is_demo=False)
    for file in (folder / "rooms").iterdir():
        with duckdb.connect(str(file)) as connection:
            connection.execute("delete from room_class")


def empty(root: Path) -> None:
    write_snapshot(root, rows(empty=True), is_demo=False)


STATES: dict[str, tuple[Callable[[Path], None], str, str, str]] = {
    "nothing-built": (nothing, "principal", "", "Load your roster to begin"),
    "broken": (gone, "principal", "", "This build cannot be shown"),
    "went-wrong": (without_a_card, "teacher:room-3", "my_turns", "Something on this page went"),
    "nothing-yet": (empty, "principal", "grades", "No grade has been visited yet"),
    "nobody-yet": (empty, "support", "meeting", "Nothing"),
}


@pytest.mark.parametrize("name", STATES)
def test_a_screen_for_something_in_the_way_is_sound_in_every_window(
    browser: Browser, tmp_path: Path, name: str
) -> None:
    make, reader, path, says = STATES[name]
    make(tmp_path)
    with served(tmp_path, reader) as at, looking(browser) as seen:
        seen.go(at, path)
        assert says in seen.page.inner_text("body")
        is_sound_in_every_window(seen, f"state-{name}")
