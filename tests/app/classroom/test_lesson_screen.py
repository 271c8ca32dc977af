"""A lesson in a few taps: what is set is shown, what counts is tapped, all of it can be changed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from app.capture import lessons
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.screens import fresh_phone, looked_at, opened, records, small_targets
from tests.app.classroom.serving import Server, sent_away
from tests.app.invented import AS_OF

pytestmark = pytest.mark.browser
FEED = "routine_lessons"
MOST_TAPS = 6


@pytest.fixture(scope="module")
def server(real_school: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with opened(real_school, tmp_path_factory.mktemp("lessons") / "w") as made:
        yield made


@pytest.fixture
def page(browser: Browser, server: Server) -> Iterator[Page]:
    yield from fresh_phone(browser, server, "lesson")


def minutes(page: Page, number: str) -> None:
    page.get_by_role("group", name="Minutes").get_by_role("radio", name=number, exact=True).check()


def save(page: Page, word: str = "It was given: save") -> None:
    page.locator(".saves").get_by_role("button", name=word).click()
    page.locator(".done").wait_for()


def test_a_whole_lesson_is_saved_in_six_taps_at_most(page: Page, server: Server) -> None:
    page.evaluate(
        "addEventListener('click', e => e.isTrusted && (window.taps = (window.taps ?? 0) + 1))"
    )
    minutes(page, "8")
    page.get_by_role("group", name="Steps done").get_by_role("radio", name="4").check()
    page.get_by_role("button", name="Children who were there: one more").click()
    save(page)
    sent_away(page)
    assert page.evaluate("window.taps") <= MOST_TAPS
    [row] = records(server.workspace, FEED)
    wanted = {"class_id": "room-3", "minutes": "8", "steps_done": "4", "pupils_present": "10",
              "status": "delivered", "mode": "in_person", "entered_by": "st-102"}  # fmt: skip
    assert {name: row[name] for name in wanted} == wanted
    assert row["routine_id"]


def test_what_is_set_without_a_tap_stands_on_the_screen_before_it_is_saved(page: Page) -> None:
    summary = page.locator(".preset summary").inner_text()
    assert "In the room" in summary or "in the room" in summary
    assert "start" in summary or "began about" in summary
    checked = page.locator("fieldset:not(.preset *) input:checked")
    legends = checked.evaluate_all(
        "all => all.map(one => [one.closest('fieldset').querySelector('legend').textContent,"
        " one.parentElement.textContent])"
    )
    assert [legend for legend, _ in legends] == ["Which routine?", "Steps done"]
    assert legends[1][1] == "not counted"


def test_minutes_are_never_made_up(page: Page, server: Server) -> None:
    page.get_by_role("button", name="It was given: save").click()
    page.get_by_text("Say how many minutes it took.").wait_for()
    assert records(server.workspace, FEED) == []
    minutes(page, "5")
    save(page)
    sent_away(page)
    [row] = records(server.workspace, FEED)
    assert (row["steps_done"], row["pupils_present"]) == ("", "")


def test_a_lesson_that_was_called_off_has_no_minutes_and_may_say_why(
    page: Page, server: Server
) -> None:
    page.locator(".preset summary").click()
    page.get_by_role("radio", name="Assembly").check()
    save(page, "Called off")
    sent_away(page)
    [row] = records(server.workspace, FEED)
    assert (row["status"], row["cancel_reason"], row["minutes"]) == ("cancelled", "assembly", "")


def test_a_lesson_is_changed_and_taken_back_also_after_the_page_was_closed(
    page: Page, server: Server
) -> None:
    minutes(page, "8")
    save(page)
    sent_away(page)
    page.evaluate("Object.keys(localStorage).filter(n => n.includes('note'))"
                  ".forEach(n => localStorage.removeItem(n))")  # fmt: skip
    page.reload()
    page.get_by_role("button", name="Change: ").click()
    minutes(page, "12")
    save(page, "Keep the change")
    sent_away(page)
    assert [row["minutes"] for row in records(server.workspace, FEED)] == ["8", "12"]
    page.get_by_role("button", name="Take back: ").click()
    page.get_by_role("button", name="Really take back: ").click()
    page.locator(".done", has_text="It will not count").wait_for()
    sent_away(page)
    rows = records(server.workspace, FEED)
    assert [row.get("voided", "") for row in rows] == ["", "", "true"]
    assert len({row["lesson_id"] for row in rows}) == 1
    page.reload()
    page.locator(".lesson h1").wait_for()
    assert page.get_by_role("button", name="Take back: ").count() == 0


def test_a_planned_lesson_has_one_key_here_and_on_the_dashboard(page: Page, server: Server) -> None:
    buttons = page.get_by_role("button", name="It happened: ")
    before = buttons.count()
    assert before == 4
    buttons.first.click()
    page.locator(".done").wait_for()
    sent_away(page)
    assert buttons.count() == before - 1
    [row] = records(server.workspace, FEED)
    slot = {
        "class_id": "room-3", "plan_slot_id": f"room-3-{row['routine_id']}-0", "due_on": AS_OF,
    }  # fmt: skip
    assert row["lesson_id"] == lessons.lesson_key(slot)
    assert (row["minutes"], row["steps_done"], row["pupils_present"]) == ("", "", "")
    page.reload()
    page.locator(".lesson h1").wait_for()
    assert buttons.count() == before - 1


def test_all_of_a_week_are_added_with_one_tap(page: Page, server: Server) -> None:
    page.clock.install(time=datetime(2026, 5, 15, 8, 0, tzinfo=UTC))
    page.reload()
    page.locator(".lesson h1").wait_for()
    page.get_by_role("button", name="All 4 of this week happened").click()
    page.locator(".done", has_text="4 lessons saved").wait_for()
    page.clock.run_for(3_000)
    sent_away(page)
    assert len(records(server.workspace, FEED)) == 4
    assert page.get_by_role("button", name="It happened: ").count() == 0


def test_the_screen_is_for_thumbs_and_for_everybody(page: Page) -> None:
    page.locator(".preset summary").click()
    looked_at(page, "lesson")
    page.set_viewport_size({"width": 320, "height": 640})
    assert small_targets(page, 44) == []


def test_a_lesson_is_saved_by_keyboard_alone(page: Page, server: Server) -> None:
    page.get_by_role("group", name="Minutes").get_by_role("radio", name="3", exact=True).focus()
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.get_by_role("button", name="It was given: save").focus()
    page.keyboard.press("Enter")
    page.locator(".done").wait_for()
    sent_away(page)
    assert records(server.workspace, FEED)[0]["minutes"] == "5"
    assert page.evaluate("document.activeElement.tagName") == "H1"
