"""Practice at home as plain values, in the browser they run in."""

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
MODEL = "home_model.js"
KEY = "11111111-1111-5111-8111-111111111111"
ENTRY = {"week_first_on": "2026-05-11", "routine_id": "voice", "key": KEY, "revision": 0}


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with modules(browser) as found:
        yield found


def form(**more: object) -> dict[str, Any]:
    told = {"routine_id": "voice", "week": "2026-05-11", "asked": 21, "practised": 8}
    return {**told, **more}


@pytest.mark.parametrize(
    ("day", "monday"),
    [("2026-05-15", "2026-05-11"), ("2026-05-11", "2026-05-11"), ("2026-05-17", "2026-05-11"),
     ("2026-01-01", "2025-12-29")],
)  # fmt: skip
def test_a_week_begins_on_its_monday(page: Page, day: str, monday: str) -> None:
    assert called(page, MODEL, "mondayOf", day) == monday


def test_the_present_week_stands_first_and_one_to_come_is_not_offered(page: Page) -> None:
    entries = [
        {**ENTRY, "week_first_on": first}
        for first in ("2026-05-18", "2026-05-11", "2026-05-04", "2026-04-27")
    ]
    assert called(page, MODEL, "weeks", entries, "2026-05-15") == [
        ["2026-05-11", "This week"],
        ["2026-05-04", "Last week"],
        ["2026-04-27", "The week before"],
    ]
    assert called(page, MODEL, "weeks", entries, "2026-05-18")[0] == ["2026-05-18", "This week"]


def test_what_is_kept_is_what_the_contract_asks_for(page: Page) -> None:
    record = called(page, MODEL, "record", ENTRY, form())
    assert (record["key"], record["revision"], record["feed"]) == (KEY, 1, "family_practice")
    cells = {**record["cells"], "class_id": "room-3"}
    known = {"classes": {"room-3"}, "routines": {"voice"}}
    assert faults_of(contract_of("family_practice"), cells, known) == ()
    assert "voided" not in cells
    back = called(page, MODEL, "record", {**ENTRY, "revision": 4}, form(), True)
    assert (back["revision"], back["cells"]["voided"]) == (5, "true")


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"routine_id": None}, "Choose the routine first."),
        ({"week": None}, "Choose the week."),
        ({"asked": None}, "Say how many families were asked."),
        ({"practised": None}, "None is a number too"),
        ({"practised": 2.5}, "Write a whole number."),
        ({"practised": -1}, "Write a whole number."),
        ({"practised": 22}, "Only 21 families were asked."),
        ({"asked": 1, "practised": 2}, "Only 1 family was asked."),
    ],
)
def test_what_cannot_be_is_said(page: Page, changed: dict[str, Any], told: str) -> None:
    assert told in called(page, MODEL, "wrong", form(**changed))


def test_none_and_all_are_answers(page: Page) -> None:
    assert called(page, MODEL, "wrong", form(practised=0)) == ""
    assert called(page, MODEL, "wrong", form(practised=21)) == ""


def test_the_school_s_own_number_stands_unless_this_device_knows_a_later_one(page: Page) -> None:
    there = {**ENTRY, "revision": 2, "cells": {"families_reported": "8"}}
    own = {"revision": 2, "cells": {"families_reported": "5"}}
    assert called(page, MODEL, "standing", [there], {KEY: own}) == [there]
    later = {**own, "revision": 3}
    assert called(page, MODEL, "standing", [there], {KEY: later}) == [{**there, **later}]
    assert called(page, MODEL, "standing", [ENTRY], None) == [ENTRY]


def test_what_was_taken_back_is_not_told(page: Page) -> None:
    cells = {"families_asked": "21", "families_reported": "8"}
    assert called(page, MODEL, "isTold", {**ENTRY, "revision": 1, "cells": cells})
    assert not called(page, MODEL, "isTold", {**ENTRY, "revision": 2,
                                              "cells": {**cells, "voided": "true"}})  # fmt: skip
    assert not called(page, MODEL, "isTold", ENTRY)
