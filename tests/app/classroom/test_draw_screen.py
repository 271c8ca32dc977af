"""The draw screen as a teacher uses it: one tap a step, nothing lost on a bad net, calm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect

from app.classroom.hat_store import HatStore
from tests.app.browser.conftest import browser as browser
from tests.app.browser.looking import LEVELS, SHOTS
from tests.app.classroom.draw_room import NAMES, Room, name_shown, one_draw, tablet

pytestmark = pytest.mark.browser
Devices = Callable[..., Page]
NOTE = "roundelay note teacher:room-3 hat"
EVERYTHING_TOLD = """async (name) => {
    while (JSON.parse(localStorage.getItem(name)).news.length) {
        await new Promise((done) => setTimeout(done, 50));
    }
}"""


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Room]:
    store = HatStore(tmp_path / "classroom.sqlite")
    yield Room(store)
    store.close()


@pytest.fixture
def devices(browser: Browser, room: Room) -> Iterator[Devices]:
    """Makes devices of the class; all of them are put away before their class is."""
    made: list[BrowserContext] = []

    def another(**how: Any) -> Page:
        context, page = tablet(browser, room, **how)
        made.append(context)
        return page

    yield another
    for context in made:
        context.close()


@pytest.fixture
def page(devices: Devices) -> Page:
    return devices()


def tap(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def say(page: Page, outcome: str) -> None:
    """One tap for what came of it; the screen is ready again when the record is on the device."""
    tap(page, outcome)
    page.locator(".idle").wait_for()


def ask(page: Page) -> None:
    """One tap for the wait; the screen shows it once the device has noted that it was asked."""
    tap(page, "Wait, then a name")
    page.locator(".wait, .shown").first.wait_for()


def test_a_round_gives_every_child_one_turn_and_the_next_begins(page: Page, room: Room) -> None:
    drawn = [one_draw(page) for _ in room.names]
    assert sorted(drawn) == sorted(room.names)
    expect(page.get_by_text("The next question begins a new round.")).to_be_visible()
    assert one_draw(page) in room.names
    expect(page.get_by_text("1 of 6 have had a turn this round.")).to_be_visible()
    expect(page.locator("#queue")).to_have_text("all sent")
    rows = room.standing()
    assert len({row["drawn_at_local"] for row in rows}) == 7
    assert [row["sequence_number"] for row in rows] == [str(n + 1) for n in range(7)]
    assert [row["cycle_number"] for row in rows] == ["6"] * 6 + ["7"]
    assert [row["eligible_count"] for row in rows] == ["6", "5", "4", "3", "2", "1", "6"]
    assert {row["wait_seconds"] for row in rows} <= {"0.2", "0.3", "0.4", "0.5", "0.6", "0.7"}


def test_no_outcome_is_chosen_for_the_teacher_and_each_is_written_as_what_it_is(
    page: Page, room: Room
) -> None:
    words = ("Answered", "With help", "Another way", "Pass for now", "Away today", "Later")
    codes = ("answered", "helped", "other_way", "passed", "absent", "unavailable")
    tap(page, "Wait, then a name")
    name_shown(page)
    assert page.locator(".outcomes button").all_inner_texts() == list(words)
    assert page.locator(".outcomes [aria-pressed], .outcomes [aria-checked]").count() == 0
    tap(page, words[0])
    for word in words[1:]:
        one_draw(page, word)
    expect(page.locator("#queue")).to_have_text("all sent")
    assert [row["outcome"] for row in room.standing()] == list(codes)
    expect(page.get_by_text("4 of 6 have had a turn this round.")).to_be_visible()


def test_the_name_waits_until_everyone_has_thought(page: Page, room: Room) -> None:
    room.wait_seconds = 30
    page.reload()
    tap(page, "Wait, then a name")
    expect(page.get_by_text("Everyone holds an answer.")).to_be_visible()
    assert page.locator(".name-shown").count() == 0
    tap(page, "Stop the wait")
    expect(page.get_by_role("button", name="Wait, then a name")).to_be_visible()
    assert room.records == {}


def test_a_page_that_is_loaded_anew_goes_on_where_it_was(page: Page, room: Room) -> None:
    ask(page)
    page.reload()
    first = name_shown(page)
    for _ in range(3):
        page.reload()
        assert name_shown(page) == first, "a name that was drawn stays drawn"
    say(page, "Answered")
    page.reload()
    expect(page.get_by_text("1 of 6 have had a turn this round.")).to_be_visible()
    expect(page.locator("#queue")).to_have_text("all sent")
    assert [row["outcome"] for row in room.standing()] == ["answered"]


def test_rounds_go_on_without_a_net_and_arrive_when_it_is_back(page: Page, room: Room) -> None:
    room.has_net = False
    drawn = [one_draw(page) for _ in range(8)]
    assert sorted(drawn[:6]) == sorted(room.names)
    expect(page.locator("#queue")).to_contain_text("8 waiting to send")
    assert room.records == {}
    room.has_net = True
    page.reload()
    expect(page.locator("#queue")).to_have_text("all sent", timeout=20_000)
    assert [row["cycle_number"] for row in room.standing()] == ["6"] * 6 + ["7"] * 2
    expect(page.get_by_text("2 of 6 have had a turn this round.")).to_be_visible()
    page.evaluate(EVERYTHING_TOLD, NOTE)
    assert room.messages[-1]["alone"] is True


def test_the_last_one_is_taken_back_and_may_be_said_again_or_put_back(
    page: Page, room: Room
) -> None:
    first = one_draw(page)
    tap(page, "Undo last")
    assert name_shown(page) == first
    say(page, "With help")
    expect(page.locator("#queue")).to_have_text("all sent")
    assert [row["outcome"] for row in room.standing()] == ["helped"]
    assert [row["sequence_number"] for row in room.standing()] == ["1"]
    tap(page, "Undo last")
    tap(page, "Put the name back into the hat")
    expect(page.get_by_text("0 of 6 have had a turn this round.")).to_be_visible()
    expect(page.locator("#queue")).to_have_text("all sent")
    assert room.standing() == []
    assert sorted(one_draw(page) for _ in room.names) == sorted(room.names)


def test_an_absent_child_may_come_and_is_the_next_name(page: Page) -> None:
    absent = one_draw(page, "Away today")
    one_draw(page)
    page.get_by_text("Away today (1)").click()
    tap(page, f"{absent} is here now")
    expect(page.get_by_text("Away today (1)")).to_have_count(0)
    assert one_draw(page) == absent


def test_a_second_device_is_told_kindly_and_then_shares(
    devices: Devices, page: Page, room: Room
) -> None:
    first = one_draw(page)
    other = devices(width=390, height=800)
    expect(other.get_by_text("so that nobody is drawn twice")).to_be_visible()
    assert other.get_by_role("button", name="Wait, then a name").count() == 0
    page.reload()
    other.get_by_role("button", name="Wait, then a name").wait_for()
    room.has_net = False
    drawn = [one_draw(other) for _ in range(2)] + [one_draw(page) for _ in range(3)]
    assert sorted({first, *drawn}) == sorted(room.names), "out of touch, and nobody twice"


def test_other_ways_are_written_down_as_what_they_are(page: Page, room: Room) -> None:
    tap(page, "Everyone")
    name_shown(page)
    assert page.get_by_role("button", name="Away today").count() == 0
    say(page, "Answered")
    tap(page, "Partners")
    tap(page, "Teo")
    say(page, "Answered")
    page.get_by_text("Another way to ask").click()
    for word, method in (("A hand went up", "volunteer"), ("I choose", "teacher_choice")):
        tap(page, word)
        tap(page, "Wren")
        say(page, "With help")
        expect(page.locator("#queue")).to_have_text("all sent")
        assert room.standing()[-1]["method"] == method
    for word, method in (("Longest wait", "queue"), ("Any name", "with_replacement")):
        tap(page, word)
        name_shown(page)
        say(page, "Answered")
        expect(page.locator("#queue")).to_have_text("all sent")
        assert room.standing()[-1]["method"] == method
    rows = room.standing()
    assert [row["method"] for row in rows[:2]] == ["choral", "partner"]
    assert [row["pupil_id"] for row in rows[:5]] == ["", "pu-01", "pu-02", "pu-02", "pu-00"]
    assert {row["cycle_number"] for row in rows} == {""}
    expect(page.get_by_text("0 of 6 have had a turn this round.")).to_be_visible()


def test_the_day_ends_and_every_name_is_back_for_another_device(
    devices: Devices, page: Page
) -> None:
    one_draw(page)
    tap(page, "End for today")
    expect(page.get_by_text("Ended for today.")).to_be_visible()
    other = devices()
    assert len({one_draw(other) for _ in range(5)}) == 5
    tap(page, "Go on drawing")
    expect(page.get_by_text("Ended for today.")).to_have_count(0)


def test_it_is_used_by_keyboard_alone(page: Page, room: Room) -> None:
    page.get_by_role("button", name="Wait, then a name").focus()
    for _ in range(3):
        page.keyboard.press("Enter")
        name_shown(page)
        expect(page.locator(".name-shown")).to_be_focused()
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        expect(page.get_by_role("button", name="Wait, then a name")).to_be_focused()
    expect(page.locator("#queue")).to_have_text("all sent")
    assert [row["outcome"] for row in room.standing()] == ["answered"] * 3


def test_no_child_stands_on_the_screen_but_the_one_who_is_asked(page: Page, room: Room) -> None:
    drawn = one_draw(page)
    tap(page, "Wait, then a name")
    shown = name_shown(page)
    text = page.locator("body").inner_text()
    assert [name for name in room.names if name in text] == [shown]
    assert shown != drawn
    notes = page.evaluate(f"localStorage.getItem('{NOTE}')")
    assert not [name for name in room.names if name in notes], "a name lies in the notes"


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390, 820])
def test_every_scene_is_readable_by_everyone(
    devices: Devices, room: Room, width: int, theme: str
) -> None:
    room.names = NAMES
    page = devices(width=width, height=900, theme=theme)

    def look(scene: str) -> None:
        found = Axe().run(page, options={"runOnly": {"type": "tag", "values": LEVELS}})
        assert [rule["id"] for rule in found.response["violations"]] == [], scene
        assert page.evaluate("document.documentElement.scrollWidth") <= width, scene
        small = page.locator(".draw button, .draw summary").evaluate_all(
            "all => all.filter(e => e.offsetHeight && e.offsetHeight < 44).map(e => e.textContent)"
        )
        assert small == [], scene
        SHOTS.mkdir(parents=True, exist_ok=True)
        page.screenshot(path=SHOTS / f"draw-{scene}-{width}-{theme}.png")

    one_draw(page, "Away today")
    page.get_by_text("Another way to ask").click()
    page.get_by_text("Away today (1)").click()
    look("ready")
    room.wait_seconds = 30
    page.reload()
    tap(page, "Wait, then a name")
    look("wait")
    tap(page, "Stop the wait")
    tap(page, "Partners")
    look("partners")
    tap(page, "Alexandrina")
    look("name")
