"""A look as plain values: which seat is due, what undo does, and the rows it becomes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from app.capture.checks import faults_of
from app.capture.forms import contract_of
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.modules import called, modules

pytestmark = pytest.mark.browser
MODEL = "look_model.js"
PLAN = {
    "routine_id": "settle", "version": 2, "expected_voice_level": 0, "beep": 15, "each": 1,
    "seats": 4, "first": 3, "minutes": 10, "pair": "", "where": "room-3", "setting": "classroom",
}  # fmt: skip
TOLD = {
    "minutes": 10, "teaching": 8, "setting": "classroom", "activity": "whole_class",
    "present": 20, "teacher": "teacher", "purpose": "routine",
}  # fmt: skip
Look = dict[str, Any]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with modules(browser) as made:
        yield made


def begun(page: Page, **plan: object) -> Look:
    at = {"day": "2026-05-15", "time": "09:30", "at": 1_000_000}
    look: Look = called(page, MODEL, "begun", "a key", {**PLAN, **plan}, at)
    return look


def after(page: Page, look: Look, *taps: tuple[Any, ...]) -> Look:
    for name, *values in taps:
        look = called(page, MODEL, name, look, *values)
    return look


def due(page: Page, look: Look, now: float) -> tuple[int, bool]:
    place = called(page, MODEL, "due", look, now)
    return place["seat"], place["isOpen"]


def test_a_seat_may_be_answered_from_its_beep_until_a_moment_after_the_next(page: Page) -> None:
    look = begun(page)
    assert due(page, look, 14.9) == (3, False)
    assert due(page, look, 15) == (3, True)
    assert due(page, look, 30.9) == (3, True)
    assert due(page, look, 31.1) == (4, True)
    look = after(page, look, ("looked", "expected", 31.1))
    assert due(page, look, 31.2) == (1, False)


def test_a_beep_that_was_missed_leaves_a_gap_and_moves_no_other_seat(page: Page) -> None:
    look = begun(page)
    look = after(page, look, ("looked", "expected", 16), ("looked", "not_expected", 47))
    rows = called(page, MODEL, "rows", look)
    assert [(row["target_slot"], row["at_seconds"]) for row in rows] == [("3", "15"), ("1", "45")]
    assert called(page, MODEL, "missed", look, 50) == 1
    assert called(page, MODEL, "dueCount", look, 50) == 3


def test_several_children_at_one_beep_each_have_their_turn(page: Page) -> None:
    look = begun(page, beep=60, each=5, seats=5, first=1)
    assert due(page, look, 59) == (1, False)
    for seat in range(1, 6):
        assert due(page, look, 61) == (seat, True)
        look = after(page, look, ("looked", "expected", 61))
    assert due(page, look, 62) == (1, False)
    assert called(page, MODEL, "cells", look, TOLD)["interval_seconds"] == "12"


def test_time_comes_from_time_stamps_and_pauses_are_left_out(page: Page) -> None:
    look = begun(page)
    look = after(page, look, ("paused", 1_030_000), ("resumed", 1_090_000))
    assert called(page, MODEL, "seconds", look, 1_100_000) == 40
    assert called(page, MODEL, "seconds", begun(page), 1_000_000 + 4_000_000) == 3600


def test_a_tablet_that_slept_is_noticed_and_a_short_pause_of_the_page_is_not(page: Page) -> None:
    look = begun(page)
    assert not called(page, MODEL, "wasAway", look, 1_059_000)
    assert called(page, MODEL, "wasAway", look, 1_061_000)
    paused = after(page, look, ("paused", 1_010_000))
    assert not called(page, MODEL, "wasAway", paused, 9_000_000)


def test_undo_takes_back_every_kind_of_tap_and_opens_its_seat_again(page: Page) -> None:
    look = begun(page)
    taps = [
        ("looked", "expected", 16), ("heard", 2, 17), ("counted", "praise_general", 18),
        ("stepped", 1, "done"), ("signalled", 20), ("settled", "ready", 31),
    ]  # fmt: skip
    full = after(page, look, *taps)
    assert len(full["acts"]) == len(taps)
    for left in range(len(taps) - 1, -1, -1):
        full = after(page, full, ("undone", 32))
        assert len(full["acts"]) == left
    assert due(page, full, 33) == (3, True)
    fixed = after(page, full, ("looked", "accommodated", 33))
    assert called(page, MODEL, "rows", fixed) == [
        {"row_number": "1", "row_type": "moment", "code": "accommodated", "target_slot": "3",
         "at_seconds": "15"}
    ]  # fmt: skip
    assert after(page, begun(page), ("undone", 5))["acts"] == []


def test_a_tap_while_no_seat_is_due_changes_nothing(page: Page) -> None:
    look = begun(page)
    assert after(page, look, ("looked", "expected", 3)) == look


def test_the_class_is_ready_after_so_many_seconds_or_nobody_waited_longer(page: Page) -> None:
    look = after(page, begun(page), ("signalled", 20.4))
    ready = called(page, MODEL, "rows", after(page, look, ("settled", "ready", 63.2)))
    assert ready == [
        {"row_number": "1", "row_type": "latency", "code": "ready", "value": "43",
         "at_seconds": "20"}
    ]  # fmt: skip
    late = called(page, MODEL, "rows", after(page, look, ("settled", "ready", 700)))
    assert (late[0]["code"], late[0]["value"]) == ("censored", "600")
    assert after(page, begun(page), ("settled", "ready", 9))["acts"] == []


def test_a_voice_level_said_again_within_one_beep_counts_once_as_said_last(page: Page) -> None:
    look = after(page, begun(page), ("heard", 3, 16), ("heard", 1, 29), ("heard", 2, 31))
    rows = called(page, MODEL, "rows", look)
    assert [(row["value"], row["at_seconds"]) for row in rows] == [("1", "15"), ("2", "30")]


def test_two_people_with_one_code_begin_at_one_seat_and_share_a_key(page: Page) -> None:
    codes = ["7k", "K 7", "k-7", "x", "ab12"]
    plain = [called(page, MODEL, "plainCode", one) for one in codes]
    assert plain == ["7k", "k7", "k7", "", "ab12"]
    seats = {code: called(page, MODEL, "seatOfCode", code, 22) for code in ("7k", "k7", "ab12")}
    assert all(1 <= seat <= 22 for seat in seats.values())
    assert len(set(seats.values())) > 1
    key = called(page, MODEL, "pairKey", begun(page, pair="k7"))
    assert key == "pair-2026-05-15-room-3-settle-k7"
    assert called(page, MODEL, "pairKey", begun(page)) == ""


def test_every_seat_is_as_likely_as_any_other_to_be_the_first(page: Page) -> None:
    script = """async () => {
        const m = await import('/classroom/files/look_model.js');
        return Array.from({ length: 6000 }, () => m.seatByChance(6));
    }"""
    found = Counter(page.evaluate(script))
    assert set(found) == set(range(1, 7))
    # A seat gets 1,000 give or take 29; five times that happens less than once in 100,000 runs.
    assert all(850 < count < 1150 for count in found.values())


@pytest.mark.parametrize("beep", [10, 15, 20, 30, 60])
def test_a_look_of_whole_minutes_has_the_rows_that_its_minutes_make(page: Page, beep: int) -> None:
    script = """async ([plan, beep, minutes]) => {
        const m = await import('/classroom/files/look_model.js');
        let look = m.begun('k', { ...plan, beep }, { day: '2026-05-15', time: '09:30', at: 0 });
        const end = 60 * minutes;
        for (let now = beep; now <= end; now += beep) look = m.looked(look, 'expected', now + 0.5);
        return [m.rows(look).length, m.minutes(look, end + 2), m.missed(look, end + 2)];
    }"""
    rows, minutes, missed = page.evaluate(script, [PLAN, beep, 6])
    assert (rows, minutes, missed) == (360 // beep, 6, 0)


def test_every_cell_and_row_is_as_the_contract_asks_and_no_name_is_in_them(page: Page) -> None:
    look = begun(page, pair="k7")
    codes = ("expected", "accommodated", "not_expected", "not_visible", "out_of_room")
    for number, code in enumerate(codes, start=1):
        look = after(page, look, ("looked", code, 15 * number + 1))
    for code in contract_of("observation_rows").field("code").enum:
        if code.startswith(("opportunity", "praise", "correction")):
            look = after(page, look, ("counted", code, 80))
    look = after(
        page, look, ("heard", 0, 81), ("stepped", 1, "done"), ("stepped", 2, "not_seen"),
        ("signalled", 82), ("settled", "censored", 90),
    )  # fmt: skip
    cells = called(page, MODEL, "cells", look, TOLD)
    whole = {**cells, "observation_id": "k", "class_id": "room-3", "observer_id": "st-102"}
    assert faults_of(contract_of("observation_sessions"), whole, {}) == ()
    rows = called(page, MODEL, "rows", look)
    contract = contract_of("observation_rows")
    assert [faults_of(contract, {**row, "observation_id": "k"}, {}) for row in rows] == [()] * 15
    assert [row["row_number"] for row in rows] == [str(number) for number in range(1, 16)]


def test_minutes_can_never_be_fewer_than_hold_what_was_seen(page: Page) -> None:
    look = after(page, begun(page), ("counted", "praise_general", 400))
    assert called(page, MODEL, "fewestMinutes", look) == 7
    assert called(page, MODEL, "minutes", look, 402) == 7
    assert called(page, MODEL, "fewestMinutes", begun(page)) == 3
