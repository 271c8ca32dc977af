"""Readers who use no mouse: every stop can be seen, in order, and the main tasks can be done."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.app.browser.guarded import PEOPLE, guarded, let_in, signed_in
from tests.app.browser.looking import DRAWN, Looked, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser
STOPS = (Path(__file__).parent / "stops.js").read_text("utf-8").split("\n\n", 1)[1]
NAMES = {role: name for name, _, role, _ in PEOPLE}
MAIN = (
    ("principal", "schoolwide"),
    ("principal", "routines"),
    ("support", "meeting"),
    ("support", "visits"),
    ("teacher", "my_class"),
    ("teacher", "my_lessons"),
    ("steward", "bring_in"),
    ("steward", "set_aside"),
)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root = tmp_path_factory.mktemp("keyboard")
    write_snapshot(root, rows(), is_demo=False)
    with guarded(let_in(root)) as at:
        yield at


@pytest.mark.parametrize(("role", "path"), MAIN)
def test_every_stop_of_the_keyboard_can_be_seen_and_none_is_a_trap(
    address: str, browser: Browser, role: str, path: str
) -> None:
    context, seen = window(browser, 1280, "light")
    signed_in(seen.page, address, NAMES[role], path)
    seen.page.evaluate(STOPS)
    for _ in range(400):
        seen.page.keyboard.press("Tab")
        if not seen.page.evaluate("keyboardWalk.stop()"):
            break
    else:
        pytest.fail("the keyboard does not come out of the page again")
    assert seen.page.evaluate("keyboardWalk.count()") > 10
    assert seen.page.evaluate("keyboardWalk.end()") == []
    context.close()


def test_a_stop_that_is_not_as_it_should_be_is_found(browser: Browser) -> None:
    context, seen = window(browser, 820, "light")
    seen.page.set_content(
        "<style>a, button { outline: none; display: block } a:focus { outline: 2px solid }</style>"
        "<a href='#1'>First</a><button>Bare</button><a href='#2' tabindex='2'>Early</a>"
        "<div style='position: fixed; inset: 90px 0 0; background: white'></div>"
        "<a href='#3' style='margin-top: 80px'>Under</a><input style='display: none'>"
    )
    seen.page.evaluate(STOPS)
    for _ in range(5):
        seen.page.keyboard.press("Tab")
        seen.page.evaluate("keyboardWalk.stop()")
    found = seen.page.evaluate("keyboardWalk.end()")
    assert found == [
        "out of the order of reading: Early",
        "back up the page: Early / First",
        "no sign of the focus: Bare",
        "hidden while it has the focus: Under",
    ]
    context.close()


def press_to(page: Page, place: Locator, key: str = "Enter") -> None:
    """With the Tab key alone to a place that shows that it has the focus, and press there."""
    for _ in range(200):
        if place.evaluate("one => one === document.activeElement"):
            page.keyboard.press(key)
            return
        page.keyboard.press("Tab")
    pytest.fail("the keyboard does not reach it")


def go_by_word(page: Page, word: str) -> None:
    """A page by its word in the header."""
    press_to(page, page.locator(".st-key-nav").get_by_role("link", name=word, exact=True))
    page.wait_for_function(DRAWN, timeout=45_000)


@pytest.fixture
def principal(address: str, browser: Browser) -> Iterator[Looked]:
    context, seen = window(browser, 1280, "light")
    signed_in(seen.page, address, NAMES["principal"], "schoolwide")
    yield seen
    context.close()


def test_a_principal_opens_a_number_and_takes_a_routine_away(
    principal: Looked, tmp_path: Path
) -> None:
    page = principal.page
    press_to(page, page.locator("a.ro-number").first)
    page.wait_for_url("**/number?*")
    page.wait_for_function(DRAWN, timeout=45_000)
    expect(page.locator("body")).to_contain_text("What is counted")
    page.go_back()
    page.wait_for_url("**/schoolwide*")
    page.wait_for_function(DRAWN, timeout=45_000)
    go_by_word(page, "By routine")
    expect(page.locator("h1")).to_have_text("Settling to listen")
    choice = page.get_by_role("combobox", name="Routine", exact=False).first
    press_to(page, choice, "ArrowDown")
    expect(page.get_by_role("option", name="Lining up")).to_be_visible()
    page.keyboard.type("Lining")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Lining up")
    page.wait_for_function(DRAWN, timeout=45_000)
    fold = page.locator(".ro-fold summary").first
    press_to(page, fold)
    button = page.get_by_role("link", name="Download as CSV").first
    expect(button).to_be_visible()
    with page.expect_download() as told:
        press_to(page, button)
    told.value.save_as(tmp_path / "table.csv")
    assert len(pd.read_csv(tmp_path / "table.csv", comment="#")) > 2


def test_an_observer_finds_where_to_look_next_and_reads_a_wide_table(
    address: str, browser: Browser
) -> None:
    context, seen = window(browser, 390, "dark")
    page = seen.page
    signed_in(page, address, NAMES["support"])
    go_by_word(page, "Visits")
    expect(page.locator("body")).to_contain_text("Where to look next")
    press_to(page, page.get_by_role("combobox", name="Term", exact=False).first, "ArrowDown")
    page.get_by_role("option").first.wait_for()
    page.keyboard.type("Winter")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_contain_text("winter")
    page.wait_for_function(DRAWN, timeout=45_000)
    table = page.get_by_role("region").last
    press_to(page, table, "ArrowRight")
    page.wait_for_function("document.activeElement.scrollLeft > 0")
    press_to(page, page.get_by_role("link", name="What these numbers mean"))
    expect(page.locator("h1")).to_have_text("What these numbers mean")
    context.close()
