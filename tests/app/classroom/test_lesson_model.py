"""Which lesson is likely and why, under which key it is kept, and what its cells are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from app.capture.checks import faults_of
from app.capture.forms import contract_of
from tests.app.browser.conftest import browser as browser
from tests.app.classroom.modules import called, modules

pytestmark = pytest.mark.browser
LIKELY, MODEL = "lesson_likely.js", "lesson_model.js"
TODAY = "2026-05-15"
ROUTINES = [
    {"routine_id": key, "name": key.title(), "setting": "classroom", "steps": [{}, {}, {}]}
    for key in ("arrival", "settle", "turns")
]
FORM = {
    "routine_id": "settle", "lesson_kind": "booster", "mode": "in_person", "start": "09:30",
    "minutes": 8, "steps": 3, "present": 20, "reason": None, "isSubstitute": False,
    "status": "delivered", "key": None, "revision": 0,
}  # fmt: skip
NOW = {"day": TODAY, "time": "09:40", "moment": "2026-05-15T09:40:00+02:00"}


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with modules(browser) as made:
        yield made


def slot(routine_id: str, due_on: str = TODAY, **more: Any) -> dict[str, Any]:
    own = {
        "key": f"key-{routine_id}-{due_on}", "revision": 1, "routine_id": routine_id,
        "lesson_kind": "booster", "planned_minutes": 6, "first_on": "2026-05-11",
        "last_on": "2026-05-22", "due_on": due_on, "number": 1,
    }  # fmt: skip
    return {**own, **more}


def first(page: Page, slots: list[dict[str, Any]], time: str = "09:40", **pack: Any) -> Any:
    whole = {"routines": ROUTINES, "usual": {}, "teach_next": [], **pack}
    return called(page, LIKELY, "likely", whole, slots, {"day": TODAY, "time": time})[0]


def test_what_is_planned_for_today_comes_first_with_its_kind_minutes_and_reason(page: Page) -> None:
    found = first(page, [slot("turns"), slot("settle", "2026-05-14")])
    assert (found["routine_id"], found["lesson_kind"]) == ("turns", "booster")
    assert (found["planned_minutes"], found["why"]) == (6, "planned for today")


def test_of_two_that_are_planned_the_one_that_is_usual_now_comes_first(page: Page) -> None:
    usual = {"settle": [["09:45", 10], ["13:00", 4]], "turns": [["13:30", 20]]}
    slots = [slot("turns"), slot("settle")]
    assert first(page, slots, usual=usual)["why"] == "planned for today; often about 09:45"
    assert first(page, slots, "13:20", usual=usual)["routine_id"] == "turns"


def test_a_time_that_was_rare_is_not_called_usual(page: Page) -> None:
    starts = [["09:45", 2], ["13:00", 10]]
    assert called(page, LIKELY, "usualNear", starts, "09:40") is None
    assert called(page, LIKELY, "usualNear", starts, "12:45")["start"] == "13:00"
    assert called(page, LIKELY, "usualNear", [], "12:45") is None


def test_without_a_plan_the_dashboards_next_lesson_comes_first_and_says_why(page: Page) -> None:
    after = [
        {"routine_id": "turns", "reason": "data_dip"},
        {"routine_id": "settle", "reason": "none"},
    ]
    found = first(page, [], teach_next=after)
    assert (found["routine_id"], found["why"]) == ("turns", "looks showed a dip")
    assert first(page, [slot("arrival", last_on="2026-05-14")], teach_next=after) == found


def test_a_planned_lesson_has_the_key_of_its_place_in_the_plan(page: Page) -> None:
    slots = [slot("settle"), slot("settle", "2026-05-12"), slot("turns", lesson_kind="full")]
    script = """async ([form, slots, known, now]) => {
        const m = await import('/classroom/files/lesson_model.js');
        return m.keyFor(form, slots, known, now, () => 'fresh');
    }"""

    def key(form: dict[str, Any], *known: dict[str, Any]) -> Any:
        return page.evaluate(script, [{**FORM, **form}, slots, list(known), NOW])

    assert key({}) == {"key": "key-settle-2026-05-12", "revision": 1}
    assert key({"routine_id": "turns"}) == {"key": "fresh", "revision": 1}
    assert key({"key": "mine", "revision": 2}) == {"key": "mine", "revision": 3}
    back = {"key": "key-settle-2026-05-12", "revision": 2, "cells": {"voided": "true"}}
    assert key({}, back) == {"key": "key-settle-2026-05-12", "revision": 3}


def test_what_was_written_down_here_is_no_open_slot_until_it_is_taken_back(page: Page) -> None:
    pack = {"unlogged": [slot("settle"), slot("turns")]}
    kept = {"key": f"key-settle-{TODAY}", "revision": 1, "cells": {}}
    left = called(page, MODEL, "openSlots", pack, [kept])
    assert [one["routine_id"] for one in left] == ["turns"]
    back = {**kept, "revision": 2, "cells": {"voided": "true"}}
    stands = called(page, MODEL, "standing", [kept], [back])
    assert len(called(page, MODEL, "openSlots", pack, stands)) == 2


@pytest.mark.parametrize("mode", contract_of("routine_lessons").field("mode").enum)
@pytest.mark.parametrize("kind", contract_of("routine_lessons").field("lesson_kind").enum)
def test_every_kind_and_way_is_offered_and_is_as_the_contract_asks(
    page: Page, kind: str, mode: str
) -> None:
    script = "import('/classroom/files/lesson_model.js').then(m => [m.KINDS, m.MODES])"
    kinds, modes = page.evaluate(script)
    assert kind in dict(kinds)
    assert mode in dict(modes)
    for status in ("delivered", "partly", "cancelled"):
        form = {**FORM, "lesson_kind": kind, "mode": mode, "status": status, "reason": "trip"}
        cells = called(page, MODEL, "cells", form, ROUTINES[1], NOW)
        whole = {**cells, "lesson_id": "k", "class_id": "room-3"}
        assert faults_of(contract_of("routine_lessons"), whole, {}) == ()
        is_off = status == "cancelled"
        assert (cells["minutes"], cells["steps_done"]) == (("", "") if is_off else ("8", "3"))


def test_a_class_of_half_a_day_is_told_when_it_does_not_meet(page: Page) -> None:
    assert "mornings" in called(page, MODEL, "wrongTime", "12:30", "in_person", "am")
    assert "afternoons" in called(page, MODEL, "wrongTime", "10:59", "in_person", "pm")
    for start, mode, pattern in (
        ("12:29", "in_person", "am"), ("11:00", "in_person", "pm"), ("15:00", "at_home", "am"),
        ("15:00", "in_person", "full_day"), ("", "in_person", "am"),
    ):  # fmt: skip
        assert called(page, MODEL, "wrongTime", start, mode, pattern) == ""
    assert called(page, MODEL, "proposedStart", {"time": "09:40"}, 10, "am") == "09:30"
    assert called(page, MODEL, "proposedStart", {"time": "14:40"}, 10, "am") == ""
    assert called(page, MODEL, "proposedStart", {"time": "21:40"}, 10, "full_day") == ""


def test_a_change_keeps_what_other_forms_wrote_and_gives_back_what_was_taken(page: Page) -> None:
    one = {
        "key": "k", "revision": 2,
        "cells": {"practised_in": "Story time", "routine_id": "settle", "minutes": "8",
                  "taught_on": "2026-05-14", "mode": "in_person", "lesson_kind": "full",
                  "status": "delivered", "steps_done": "", "voided": "true"},
    }  # fmt: skip
    form = called(page, MODEL, "formOf", one)
    assert (form["minutes"], form["steps"], form["day"]) == (8, None, "2026-05-14")
    cells = called(page, MODEL, "cells", form, ROUTINES[1], NOW)
    assert (cells["practised_in"], cells["taught_on"]) == ("Story time", "2026-05-14")
    assert "voided" not in cells


def test_the_very_same_lesson_is_not_written_down_twice_by_mistake(page: Page) -> None:
    cells = called(page, MODEL, "cells", FORM, ROUTINES[1], NOW)
    stands = {"key": "k", "revision": 1, "cells": {**cells, "class_id": "c", "entered_at": "then"}}
    assert called(page, MODEL, "isTwin", cells, [stands])
    assert not called(page, MODEL, "isTwin", {**cells, "started_at_local": "11:00"}, [stands])


def test_two_planned_lessons_of_one_kind_and_day_do_not_look_like_one(page: Page) -> None:
    pair = [slot("settle"), slot("settle", number=2)]
    one, two = (called(page, MODEL, "cellsOfSlot", own, "delivered", NOW) for own in pair)
    assert one != two
    assert "Number 2" in two["note"]


def test_a_week_begins_on_monday(page: Page) -> None:
    days = ("2026-05-11", "2026-05-15", "2026-05-17", "2026-05-18")
    assert [called(page, MODEL, "mondayOf", day) for day in days] == [
        "2026-05-11", "2026-05-11", "2026-05-11", "2026-05-18",
    ]  # fmt: skip
