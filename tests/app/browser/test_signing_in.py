"""Signing in, being kept to one's own pages, and being signed out, in a real browser and server."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser

from ingest import accounts
from ingest.workspace import Workspace
from tests.app.browser.guarded import WORDS, guarded, let_in, press_in, signed_in
from tests.app.browser.looking import DRAWN, SHOTS, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser

WINDOWS = [(width, theme) for theme in ("light", "dark") for width in (1280, 820, 390)]


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Workspace:
    root = tmp_path_factory.mktemp("signed-in")
    write_snapshot(root, rows(), is_demo=False)
    return let_in(root)


@pytest.fixture(scope="module")
def address(workspace: Workspace) -> Iterator[str]:
    with guarded(workspace) as at:
        yield at


def test_keyboard_alone_signs_in_reads_and_signs_out(address: str, browser: Browser) -> None:
    context, seen = window(browser, 1280, "light")
    page = seen.page
    signed_in(page, address, "anna", "grades")
    assert page.inner_text("h1").startswith("By grade")
    assert "Anna Berg · Principal" in page.inner_text(".st-key-who")
    leave = page.get_by_role("link", name="Sign out")
    for _ in range(40):
        page.keyboard.press("Tab")
        if leave.evaluate("one => one === document.activeElement"):
            break
    assert leave.evaluate("one => getComputedStyle(one).outlineStyle") == "solid"
    assert leave.bounding_box()["height"] >= 24  # type: ignore[index]
    assert seen.troubles() == []
    page.keyboard.press("Enter")
    page.wait_for_url("**/signout")
    assert seen.troubles() == []
    page.screenshot(path=SHOTS / "sign-out-1280-light.png")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/signin?left=1")
    assert page.inner_text("[role=status]") == "You are signed out."
    page.goto(f"{address}/grades")
    assert urlsplit(page.url).path == "/signin"
    assert seen.outside == []
    context.close()


@pytest.mark.parametrize(("width", "theme"), [*WINDOWS, (320, "light")])
def test_the_sign_in_page_is_sound_in_every_window(
    address: str, browser: Browser, width: int, theme: str
) -> None:
    context, seen = window(browser, width, theme)
    page = seen.page
    page.goto(f"{address}/grades")
    SHOTS.mkdir(parents=True, exist_ok=True)
    for name in ("sign-in", "sign-in-refused"):
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.locator("h1").count() == 1
        assert seen.troubles() == []
        page.screenshot(path=SHOTS / f"{name}-{width}-{theme}.png")
        small = page.evaluate(
            """() => [...document.querySelectorAll('input:not([type=hidden]), button')]
                .filter(one => one.getBoundingClientRect().height < 44).length"""
        )
        assert small == 0
        press_in(page, f"{width}{theme}", "no such words")
        page.wait_for_selector("[role=alert]")
    assert seen.outside == []
    context.close()


def test_the_page_works_without_scripts_and_twice_as_large(address: str, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 640, "height": 400})
    page = context.new_page()
    page.goto(f"{address}/signin")
    page.fill("#name", "anna")
    page.fill("#password", WORDS)
    with page.expect_navigation():
        page.click("button")
    assert page.url == f"{address}/"
    context.close()


def test_a_wrong_password_is_told_in_words_tied_to_the_fields(
    address: str, browser: Browser
) -> None:
    context, seen = window(browser, 820, "light")
    seen.page.goto(address)
    press_in(seen.page, "tadeo", "not the right words")
    alert = seen.page.locator("[role=alert]")
    assert alert.inner_text() == "This name and this password do not belong together."
    for field in ("#name", "#password"):
        where = seen.page.locator(field)
        assert where.get_attribute("aria-describedby") == alert.get_attribute("id")
        assert where.get_attribute("aria-invalid") == "true"
    assert seen.page.input_value("#name") == "tadeo"
    assert seen.page.input_value("#password") == ""
    context.close()


def test_many_wrong_tries_are_followed_by_a_wait_even_for_the_right_word(
    workspace: Workspace, browser: Browser, tmp_path: Path
) -> None:
    write_snapshot(tmp_path, rows(), is_demo=False)
    with guarded(let_in(tmp_path)) as at:
        context, seen = window(browser, 390, "dark")
        seen.page.goto(at)
        for number in range(6):
            words = WORDS if number == 5 else f"wrong words {number}"
            seen.page.fill("#name", "imke")
            seen.page.fill("#password", words)
            with seen.page.expect_navigation():
                seen.page.keyboard.press("Enter")
        assert "Please try again in a minute." in seen.page.inner_text("[role=alert]")
        assert seen.troubles() == []
        context.close()


def test_closing_an_account_ends_its_visit_with_the_next_click(
    address: str, workspace: Workspace, browser: Browser
) -> None:
    context, seen = window(browser, 820, "dark")
    page = seen.page
    signed_in(page, address, "imke", "meeting")
    page.get_by_role("link", name="Classes", exact=True).click()
    page.wait_for_url("**/classes*")
    page.wait_for_function(DRAWN, timeout=45_000)
    accounts.close(workspace, "imke", datetime.now(UTC))
    page.get_by_role("link", name="Meeting", exact=True).click()
    page.wait_for_function("document.querySelector('h1')?.innerText === 'You are signed out'")
    page.wait_for_function(DRAWN, timeout=45_000)
    assert page.locator(".st-key-head").count() == 0
    assert seen.troubles() == []
    page.screenshot(path=SHOTS / "signed-out-820-dark.png")
    page.get_by_role("link", name="Sign in again").click()
    page.wait_for_url("**/signin*")
    context.close()


def test_a_teacher_who_types_another_address_is_kept_to_her_own_class(
    address: str, browser: Browser
) -> None:
    context, seen = window(browser, 1280, "light")
    page = seen.page
    signed_in(page, address, "maren", "my_turns")
    assert "Room 3" in page.inner_text(".ro-sub")
    for path in ("meeting", "classes", "came_in", "grades"):
        page.goto(f"{address}/{path}?view_as=support&class=room-1")
        page.wait_for_function(DRAWN, timeout=45_000)
        assert "This page belongs to" in page.inner_text("body"), path
    page.goto(f"{address}/my_turns?view_as=teacher%3Aroom-1&class=room-1")
    page.wait_for_function(DRAWN, timeout=45_000)
    assert "Room 3" in page.inner_text(".ro-sub")
    context.close()


def test_two_people_at_two_browsers_each_see_their_own(address: str, browser: Browser) -> None:
    one, anna = window(browser, 820, "light")
    two, maren = window(browser, 820, "light")
    signed_in(anna.page, address, "anna", "")
    signed_in(maren.page, address, "maren", "")
    assert "Anna Berg" in anna.page.inner_text(".st-key-who")
    assert "Maren Oyelaran" in maren.page.inner_text(".st-key-who")
    assert "Imani" not in anna.page.inner_text("body")
    one.close()
    two.close()


def test_the_invented_school_is_entered_with_one_button_and_no_switch_is_left(
    browser: Browser, tmp_path: Path
) -> None:
    write_snapshot(tmp_path, rows(), is_demo=True)
    with guarded(let_in(tmp_path, is_demo=True)) as at:
        for width, theme in WINDOWS:
            context, seen = window(browser, width, theme)
            seen.page.goto(at)
            assert "invented school only" in seen.page.inner_text("main")
            assert seen.page.evaluate("document.documentElement.scrollWidth") <= width
            assert seen.troubles() == []
            seen.page.screenshot(path=SHOTS / f"sign-in-demo-{width}-{theme}.png")
            context.close()
        context, seen = window(browser, 390, "light")
        seen.page.goto(f"{at}/my_turns?view_as=support")
        seen.page.get_by_role("button", name="Teacher").press("Enter")
        seen.page.wait_for_url("**/my_turns*")
        seen.page.wait_for_function(DRAWN, timeout=45_000)
        assert "Maren Oyelaran · Teacher" in seen.page.inner_text(".st-key-who")
        assert seen.page.get_by_role("combobox", name="Demo: view as").count() == 0
        assert seen.troubles() == []
        assert seen.wider_than_the_window() == []
        seen.page.screenshot(path=SHOTS / "signed-in-390-light.png")
        context.close()
