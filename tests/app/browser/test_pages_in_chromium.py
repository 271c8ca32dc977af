"""The dashboard of the demo in a real browser: who reads, addresses, words that lead on.

Every page of every reader, signed in, is looked at in `test_every_page_for_every_role`.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, WINDOWS, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser

READERS = {
    "principal": "Principal",
    "support": "Support team",
    "steward": "Data steward",
    "teacher": "Teacher, Room 3",
}
FIRST = {
    "principal": "schoolwide",
    "support": "meeting",
    "steward": "bring_in",
    "teacher": "my_class",
}


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    workspace = tmp_path_factory.mktemp("looked-at")
    write_snapshot(workspace, rows(), is_demo=True)
    with served(workspace, "principal") as at:
        yield at


@pytest.mark.parametrize("role", READERS)
def test_a_first_page_of_the_demo_is_sound_in_every_window(
    address: str, browser: Browser, role: str
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, FIRST[role], READERS[role])
    found = {}
    for width, theme in [*WINDOWS, (320, "light")]:
        seen.resize(width, theme)
        found[width, theme] = seen.wider_than_the_window() + seen.read().troubles + seen.troubles()
    assert {size: trouble for size, trouble in found.items() if trouble} == {}
    assert seen.outside == []
    context.close()


def test_a_number_is_reached_by_keyboard_and_opens_with_one_press(
    address: str, browser: Browser
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, "schoolwide", "Support team")
    link = seen.page.locator("a.ro-number").first
    for _ in range(40):
        seen.page.keyboard.press("Tab")
        if link.evaluate("one => one === document.activeElement"):
            break
    assert link.evaluate("one => one === document.activeElement"), "the keyboard does not reach it"
    ring = link.evaluate("one => getComputedStyle(one).outlineStyle")
    under = link.evaluate("one => getComputedStyle(one).textDecorationLine")
    assert (ring, under) == ("solid", "underline")
    seen.page.keyboard.press("Enter")
    seen.page.wait_for_url("**/number?*")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    assert "What is counted" in seen.page.inner_text("body")
    assert seen.page.get_by_role("link", name="Meeting").count() == 1, "it is another reader now"
    context.close()


@pytest.mark.parametrize("reader", ["Support team", "Data steward", "Teacher, Room 3"])
def test_changing_who_reads_leads_to_their_first_page(
    address: str, browser: Browser, reader: str
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, "grades", "Principal")
    choice = seen.page.get_by_role("combobox", name="Demo: view as")
    choice.click()
    seen.page.get_by_role("option", name=reader).click()
    seen.page.wait_for_function(
        "document.querySelector('h1') && !document.querySelector('h1').innerText.includes('grade')"
    )
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    role = next(role for role, shown in READERS.items() if shown == reader)
    assert seen.page.url.split("?")[0] == f"{address}/{FIRST[role]}"
    assert seen.page.get_by_text("went wrong").count() == 0
    context.close()


def test_another_readers_page_is_answered_kindly(address: str, browser: Browser) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, "meeting", "Principal")
    assert "belongs to the support team" in seen.page.inner_text("body")
    assert seen.troubles() == []
    context.close()


def test_junk_in_the_address_is_ignored(address: str, browser: Browser) -> None:
    context, seen = window(browser, 1280, "light")
    seen.page.goto(f"{address}/routines?routine=%27%3B--&measure=zz&term=999&school=x&view_as=root")
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    assert seen.page.inner_text("h1") == "Settling to listen"
    assert seen.page.get_by_text("went wrong").count() == 0
    context.close()


def test_a_choice_stands_in_the_address_and_can_be_shared(address: str, browser: Browser) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, "routines", "Principal")
    seen.page.get_by_label("Routine", exact=False).first.click()
    seen.page.get_by_role("option", name="Lining up").click()
    seen.page.wait_for_function("document.querySelector('h1')?.innerText === 'Lining up'")
    shared = seen.page.url
    assert "routine=Lining" in shared
    seen.page.goto(shared)
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    assert seen.page.inner_text("h1") == "Lining up"
    context.close()


def test_the_header_leads_to_a_page_and_a_number_to_its_definition(
    address: str, browser: Browser
) -> None:
    context, seen = window(browser, 1280, "light")
    seen.open(address, "", "Principal")
    seen.page.get_by_role("link", name="How this is counted").first.click()
    seen.page.wait_for_function(
        "document.querySelector('h1')?.innerText === 'What these numbers mean'"
    )
    opened = seen.page.locator("details[open] summary")
    opened.get_by_text("Lessons given").wait_for()
    seen.page.get_by_role("link", name="By grade").click()
    seen.page.wait_for_function("document.querySelector('h1')?.innerText.startsWith('By grade')")
    context.close()


def test_the_very_first_request_may_be_an_inner_page(
    tmp_path_factory: pytest.TempPathFactory, browser: Browser
) -> None:
    workspace = tmp_path_factory.mktemp("deep")
    write_snapshot(workspace, rows(), is_demo=False)
    with served(workspace, "teacher:room-3") as at:
        context, seen = window(browser, 820, "light")
        seen.page.goto(f"{at}/my_turns")
        seen.page.wait_for_function(DRAWN, timeout=45_000)
        assert seen.page.inner_text("h1") == "Turns"
        seen.page.goto(f"{at}/my_turns?view_as=Principal&class=room-1")
        seen.page.wait_for_function(DRAWN, timeout=45_000)
        assert "Room 3" in seen.page.inner_text(".ro-sub")
        context.close()
