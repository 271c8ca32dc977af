"""Looking round: a tap a child that waits for nothing, and a look that outlives its tablet."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route

from app.capture.checks import faults_of
from app.capture.forms import contract_of
from ingest import accounts
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.screens import (
    fresh_phone,
    looked_at,
    opened,
    phone,
    records,
    small_targets,
)
from tests.app.classroom.serving import Server, sent_away
from tests.app.invented_rooms import NAMES

pytestmark = pytest.mark.browser
FEED, ROWS = "observation_sessions", "observation_rows"
MORNING = datetime(2026, 5, 15, 8, 0, tzinfo=UTC)
LOOK = "JSON.parse(localStorage[Object.keys(localStorage).find(n => n.endsWith(' look'))])"


@pytest.fixture(scope="module")
def server(real_school: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with opened(real_school, tmp_path_factory.mktemp("looks") / "w") as made:
        yield made


@pytest.fixture
def page(browser: Browser, server: Server) -> Iterator[Page]:
    yield from fresh_phone(browser, server, "look")


def ticking(page: Page, server: Server) -> None:
    """The same screen on a clock that the test moves."""
    page.clock.install(time=MORNING)
    page.goto(f"{server.address}/classroom#look")
    page.reload()
    page.get_by_role("button", name="Begin the look").wait_for()
    page.clock.pause_at(MORNING.replace(minute=1))


def begin(page: Page, *ways: tuple[str, str]) -> None:
    page.get_by_role("radio", name="Settling to listen").check()
    for group, key in ways:
        if not page.locator(".preset[open]").count():
            page.locator(".preset summary").click()
        page.get_by_role("group", name=group).get_by_role("radio", name=key, exact=True).check()
    page.get_by_role("button", name="Begin the look").click()
    page.locator(".seat, .watch-top").first.wait_for()


IN_VIEW = """async (one) => {
    const seen = await new Promise((told) => new IntersectionObserver(
        (entries) => told(entries[0].intersectionRatio)).observe(one));
    return seen === 1;
}"""


def answer(page: Page, word: str) -> None:
    page.get_by_role("button", name=word, exact=True).click()


def end(page: Page) -> None:
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("radio", name="The class’s teacher").check()
    page.get_by_role("radio", name="An ordinary look").check()
    page.get_by_role("button", name="Keep this look").click()
    page.get_by_role("heading", name="Kept today").wait_for()


def test_every_part_of_a_look_is_read_from_its_top(page: Page, server: Server) -> None:
    """Its button stands at the foot of a page that is longer than a phone."""
    page.set_viewport_size({"width": 390, "height": 640})
    begin(page)
    assert page.locator(".seat, .watch-top").first.evaluate(IN_VIEW)
    page.get_by_role("button", name="Finish").click()
    assert page.get_by_role("heading", level=1).evaluate(IN_VIEW)


def test_ten_beeps_of_five_children_wait_for_no_network(page: Page, server: Server) -> None:
    ticking(page, server)
    held: list[Route] = []
    answers = False

    def hold(route: Route) -> None:
        route.continue_() if answers else held.append(route)

    page.route("**/api/classroom/**", hold)
    for _ in range(2):
        page.get_by_role("button", name="Seats you go round: one fewer").click()
    begin(page, ("Seconds from beep to beep", "30"), ("Children at each beep", "5"))
    for _ in range(10):
        page.clock.run_for(30_000)
        for _ in range(5):
            answer(page, "Yes")
    page.clock.run_for(1_000)
    assert page.evaluate(f"{LOOK}.acts.length") == 50
    end(page)
    assert len(held) >= 1
    answers = True
    for route in held:
        route.continue_()
    sent_away(page)
    [visit] = records(server.workspace, FEED)
    rows = records(server.workspace, FEED, ROWS)
    assert (visit["minutes_observed"], visit["interval_seconds"]) == ("5", "6")
    assert (visit["observer_id"], visit["class_id"]) == ("st-102", "room-3")
    assert len(rows) == 50 == 60 * 5 // 6
    assert faults_of(contract_of(FEED), visit, {}) == ()
    assert all(faults_of(contract_of(ROWS), row, {}) == () for row in rows)
    assert {row["target_slot"] for row in rows} == {str(seat) for seat in range(1, 9)}
    assert not any(name in json.dumps([visit, rows]) for name in NAMES)


def test_a_half_done_look_survives_a_reload_and_a_tablet_that_slept(
    page: Page, server: Server
) -> None:
    ticking(page, server)
    begin(page)
    page.clock.run_for(15_200)
    answer(page, "Not at this moment")
    page.get_by_role("button", name="Praise in general").click()
    page.reload()
    page.locator(".seat b").wait_for()
    assert page.get_by_role("button", name="Praise in general").inner_text().endswith("1")
    page.clock.run_for(15_000)
    answer(page, "Yes")
    assert page.evaluate(f"{LOOK}.acts.map(a => a.c)") == [
        "not_expected", "praise_general", "expected",
    ]  # fmt: skip
    page.clock.run_for(5_000)
    page.clock.fast_forward(30 * 60_000)
    page.clock.run_for(300)
    page.get_by_text("The tablet was away for").wait_for()
    page.get_by_role("button", name="Go on from here").click()
    assert page.evaluate(f"{LOOK}.spans.length") == 2
    assert page.locator(".time").inner_text().startswith("0:3")


def test_undo_gives_the_seat_back_and_says_what_it_undoes(page: Page, server: Server) -> None:
    ticking(page, server)
    begin(page)
    page.clock.run_for(15_200)
    seat = page.locator(".seat b").inner_text()
    answer(page, "Yes")
    page.get_by_role("button", name=f"Undo: seat {seat}, Yes").click()
    assert page.locator(".seat b").inner_text() == seat
    answer(page, "Yes, their agreed way")
    assert page.evaluate(f"{LOOK}.acts.map(a => a.c)") == ["accommodated"]
    page.get_by_role("button", name="Pause").click()
    page.clock.run_for(60_000)
    assert page.locator(".next").inner_text() == "Paused."
    assert page.locator(".time").inner_text().startswith("0:15")
    page.get_by_role("button", name="Go on").click()


def test_a_look_of_less_than_three_minutes_is_not_made_longer(page: Page, server: Server) -> None:
    ticking(page, server)
    begin(page)
    page.clock.run_for(100_000)
    page.get_by_role("button", name="Finish").click()
    page.get_by_text("from three on").wait_for()
    assert page.get_by_role("button", name="Keep this look").count() == 0
    page.get_by_role("button", name="Let this look go").click()
    page.get_by_role("button", name="Really let it go").click()
    page.get_by_role("button", name="Begin the look").wait_for()
    assert records(server.workspace, FEED) == []


def test_nothing_is_answered_beforehand_and_a_look_can_be_taken_back(
    page: Page, server: Server
) -> None:
    ticking(page, server)
    begin(page, ("Seconds from beep to beep", "no looks at seats"))
    page.clock.run_for(181_000)
    page.get_by_role("button", name="Praise says for what").click()
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Keep this look").click()
    page.get_by_text("Say who was teaching.").wait_for()
    page.get_by_role("radio", name="A substitute").check()
    page.get_by_role("button", name="Keep this look").click()
    page.get_by_text("Say what the look was for.").wait_for()
    page.get_by_role("radio", name="For coaching").check()
    page.get_by_role("button", name="Keep this look").click()
    page.get_by_role("button", name="Take back: ").click()
    page.get_by_role("button", name="Really take this look back?").or_(
        page.get_by_text("Really take this look back?")
    ).first.click()
    page.get_by_text("It will not count").wait_for()
    page.clock.run_for(3_000)
    sent_away(page)
    rows = records(server.workspace, FEED)
    assert [row.get("voided", "") for row in rows] == ["", "true"]
    assert (rows[0]["interval_seconds"], rows[0]["minutes_instruction"]) == ("", "")


def test_the_answers_are_large_and_all_of_a_beep_is_in_reach(page: Page, server: Server) -> None:
    ticking(page, server)
    # What checks the page needs a clock that runs.
    page.clock.resume()
    looked_at(page, "look-begin")
    begin(page)
    page.clock.run_for(15_200)
    for width, height in ((390, 844), (320, 720)):
        page.set_viewport_size({"width": width, "height": height})
        boxes: list[dict[str, Any]] = page.evaluate(
            "[...document.querySelectorAll('.looks button')]"
            ".map(one => one.getBoundingClientRect().toJSON())"
        )
        assert all(box["height"] >= 56 and box["width"] >= 56 for box in boxes)
        assert all(box["bottom"] <= height for box in boxes)
        assert small_targets(page, 44) == []
    looked_at(page, "look-watch")
    page.get_by_role("button", name="Steps").click()
    looked_at(page, "look-steps")
    page.clock.run_for(180_000)
    page.get_by_role("button", name="Praise in general").click()
    page.get_by_role("button", name="Finish").click()
    looked_at(page, "look-finish")


def test_a_look_works_by_keyboard_and_says_when_it_is_too_early(page: Page, server: Server) -> None:
    ticking(page, server)
    begin(page)
    page.get_by_role("button", name="Yes", exact=True).focus()
    page.keyboard.press("Enter")
    page.clock.run_for(50)
    assert page.locator("#said").inner_text() == "At the next beep."
    page.clock.run_for(15_200)
    page.keyboard.press("Enter")
    assert page.evaluate(f"{LOOK}.acts.map(a => a.c)") == ["expected"]
    assert page.evaluate("document.activeElement.textContent") == "Yes"


def test_the_support_team_chooses_a_class_first_and_sees_no_child(
    browser: Browser, server: Server, page: Page
) -> None:
    team = phone(browser, server, "look", "imke")
    team.get_by_role("button", name="Begin the look").click()
    team.get_by_text("Choose the class first.").wait_for()
    kept = team.evaluate("JSON.stringify(localStorage)")
    assert not any(f'"{name}' in kept.replace("\\", "") for name in NAMES)
    team.get_by_label("Which class?").select_option("room-5")
    begin(team)
    assert team.evaluate(f"{LOOK}.plan.class_id") == "room-5"
    team.context.close()


def test_whoever_is_not_in_the_people_file_is_told_whom_to_ask(
    browser: Browser, server: Server, page: Page
) -> None:
    accounts.set_person(server.workspace, "imke", None, datetime.now(UTC))
    team = phone(browser, server, "look", "imke")
    assert "ask the person who looks after Roundelay" in team.locator("#place").inner_text()
    assert team.get_by_role("button", name="Begin the look").count() == 0
    looked_at(team, "look-nobody")
    team.context.close()
    accounts.set_person(server.workspace, "imke", "st-900", datetime.now(UTC))
