"""The team writes down what it decided, by hand and by keyboard, once, and never loses it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from app.capture.keep import read
from tests.app.browser.conftest import served
from tests.app.browser.looking import DRAWN, Looked, window
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

pytestmark = pytest.mark.browser


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    write_snapshot(tmp_path, rows(), is_demo=True)
    (tmp_path / "inbox").mkdir()
    return tmp_path


@pytest.fixture
def address(workspace: Path) -> Iterator[str]:
    with served(workspace, "support") as at:
        yield at


@pytest.fixture
def seen(browser: Browser, address: str) -> Iterator[Looked]:
    context, looked = window(browser, 1280, "light")
    looked.open(address, "meeting", "Support team")
    yield looked
    context.close()


def card(page: Page) -> Locator:
    """The form beneath the evidence of the offer."""
    return page.locator(".st-key-card-decide")


def kept(workspace: Path) -> list[dict[str, str]]:
    return [read(path) or {} for path in sorted((workspace / "inbox").iterdir())]


def choose(form: Locator, what: str) -> None:
    form.locator("label").filter(has_text=what).click()
    expect(form.get_by_role("radio", name=what)).to_be_checked()


def test_a_click_writes_one_file_and_the_page_says_that_it_waits(
    seen: Looked, workspace: Path
) -> None:
    form = card(seen.page)
    choose(form, "We offer a hand")
    form.get_by_label("Note").fill("Two boosters, before lunch")
    form.get_by_role("button", name="Write it down").click()
    expect(form.get_by_text("waiting for the next build")).to_be_visible()
    expect(seen.page.get_by_text("it shows as decided after the next build")).to_be_visible()
    [one] = kept(workspace)
    assert (one["class_id"], one["routine_id"], one["decision"]) == ("room-3", "voice", "offer")
    assert (one["decided_on"], one["follow_up_on"]) == ("2026-05-15", "2026-06-05")
    assert (one["decided_by"], one["note"]) == ("support", "Two boosters, before lunch")
    assert one["offer_id"] == "class-room-3-voice"
    assert seen.troubles() == []
    seen.page.reload()
    seen.page.wait_for_function(DRAWN, timeout=45_000)
    expect(card(seen.page).get_by_text("waiting for the next build")).to_be_visible()


def test_a_double_click_writes_once(seen: Looked, workspace: Path) -> None:
    form = card(seen.page)
    choose(form, "It holds: close it")
    form.get_by_role("button", name="Write it down").dblclick()
    expect(form.get_by_text("waiting for the next build")).to_be_visible()
    seen.page.wait_for_function(DRAWN)
    assert [one["decision"] for one in kept(workspace)] == ["close"]
    assert [one["follow_up_on"] for one in kept(workspace)] == [""]


def test_two_people_at_once_are_both_kept(
    browser: Browser, address: str, seen: Looked, workspace: Path
) -> None:
    context, other = window(browser, 820, "light")
    other.open(address, "meeting", "Support team")
    for looked, what in ((seen, "Wait, and look again"), (other, "The teacher would rather not")):
        choose(card(looked.page), what)
        card(looked.page).get_by_role("button", name="Write it down").click()
        expect(card(looked.page).get_by_text("waiting for the next build").last).to_be_visible()
    assert sorted(one["decision"] for one in kept(workspace)) == ["decline", "wait"]
    expect(card(other.page).get_by_text("waiting for the next build")).to_have_count(2)
    context.close()


def test_nothing_chosen_is_said_and_nothing_is_written(seen: Looked, workspace: Path) -> None:
    form = card(seen.page)
    form.get_by_label("Note").fill("Not yet sure")
    form.get_by_role("button", name="Write it down").click()
    expect(form.get_by_role("alert")).to_contain_text("Choose what you decided.")
    expect(form.get_by_label("Note")).to_have_value("Not yet sure")
    assert kept(workspace) == []


def test_an_inbox_that_takes_nothing_is_said_and_the_form_keeps_what_was_filled_in(
    seen: Looked, workspace: Path
) -> None:
    inbox = workspace / "inbox"
    inbox.rmdir()
    inbox.write_text("in the way", encoding="utf-8")
    form = card(seen.page)
    choose(form, "We offer a hand")
    form.get_by_label("Note").fill("Kept on the page")
    form.get_by_role("button", name="Write it down").click()
    alert = form.get_by_role("alert")
    expect(alert).to_contain_text("did not take it")
    expect(alert).to_contain_text("still stands here")
    expect(form.get_by_role("radio", name="We offer a hand")).to_be_checked()
    expect(form.get_by_label("Note")).to_have_value("Kept on the page")
    inbox.unlink()
    form.get_by_role("button", name="Write it down").click()
    expect(form.get_by_text("waiting for the next build")).to_be_visible()
    assert [one["note"] for one in kept(workspace)] == ["Kept on the page"]


def test_an_old_action_is_decided_again_with_the_keyboard_alone(
    seen: Looked, workspace: Path
) -> None:
    page = seen.page
    action = page.locator(".st-key-action-decided-1")
    expect(action).to_contain_text("Moved up")
    tab_to(page, action.locator("summary"))
    page.keyboard.press("Enter")
    expect(action.get_by_role("button", name="Write it down")).to_be_visible()
    tab_to(page, action.get_by_role("radio").first)
    page.keyboard.press("Space")
    expect(action.get_by_role("radio", name="We offer a hand")).to_be_checked()
    for _ in range(2):
        page.keyboard.press("ArrowDown")
    expect(action.get_by_role("radio", name="It holds: close it")).to_be_checked()
    tab_to(page, action.get_by_label("Note"))
    page.keyboard.type("Goes on without us")
    tab_to(page, action.get_by_role("button", name="Write it down"))
    page.keyboard.press("Enter")
    expect(page.get_by_text("it shows as decided after the next build")).to_be_visible()
    [one] = kept(workspace)
    assert (one["class_id"], one["routine_id"], one["decision"]) == ("room-1", "settle", "close")
    assert one["note"] == "Goes on without us"


def tab_to(page: Page, place: Locator) -> None:
    """Press the tab key until the keyboard is there."""
    for _ in range(150):
        if place.evaluate("one => one === document.activeElement"):
            return
        page.keyboard.press("Tab")
    pytest.fail("the keyboard does not reach it")


@pytest.mark.parametrize("reader", ["Principal", "Data steward", "Teacher, Room 3"])
def test_no_other_reader_finds_a_form(
    browser: Browser, address: str, workspace: Path, reader: str
) -> None:
    context, looked = window(browser, 1280, "light")
    looked.open(address, "meeting", reader)
    assert "belongs to the support team" in looked.page.inner_text("body")
    assert looked.page.get_by_role("button", name="Write it down").count() == 0
    context.close()
