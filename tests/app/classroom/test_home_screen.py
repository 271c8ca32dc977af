"""Practice at home on a teacher's phone: four taps and one number, and one row however revised."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.app.browser.conftest import browser as browser
from tests.app.classroom.inside import Classrooms, outcomes, sent
from tests.app.classroom.screens import looked_at, opened, phone, records, sent_away, small_targets
from tests.app.classroom.serving import Server
from tests.app.invented import ROUTINES

pytestmark = pytest.mark.browser
FEED = "family_practice"


@pytest.fixture(scope="module")
def server(real_school: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with opened(real_school, tmp_path_factory.mktemp("home") / "school") as made:
        yield made


def told(page: Page, routine: str, week: str, practised: str) -> int:
    """Write one week down, where all ten were asked; how many taps it took beside the number."""
    taps = (("Routine", routine), ("Week", week), ("Families asked", "All 10"))
    for group, name in taps:
        page.get_by_role("group", name=group).get_by_role("radio", name=name).check()
    page.get_by_label("Families who practised").fill(practised)
    page.get_by_role("button", name="Save", exact=True).click()
    return len(taps) + 1


def test_four_taps_and_one_number_write_a_week_down(browser: Browser, server: Server) -> None:
    page = phone(browser, server, "home")
    assert page.locator("input:checked").count() == 0, "nothing is answered before it is asked"
    assert small_targets(page, 56) == []
    assert told(page, "Lining up", "This week", "4") == 4
    page.locator("#place").get_by_text("Saved: Lining up, 4 of 10 families.").wait_for()
    sent_away(page)
    assert records(server.workspace, FEED) == [
        {
            "class_id": "room-3", "routine_id": "line",
            "week_first_on": records(server.workspace, FEED)[0]["week_first_on"],
            "families_asked": "10", "families_reported": "4",
        }
    ]  # fmt: skip
    looked_at(page, "home")

    told(page, "Lining up", "This week", "6")
    page.locator("#place").get_by_text("Saved: Lining up, 6 of 10 families.").wait_for()
    sent_away(page)
    names = sorted(path.name for path in server.workspace.inbox.glob(f"{FEED}-*"))
    assert [name[-7:] for name in names][1] == "_02.csv"
    assert [one["families_reported"] for one in records(server.workspace, FEED)] == ["4", "6"]

    other = phone(browser, server, "home")
    other.get_by_text("Lining up · 6 of 10 families").wait_for()
    other.get_by_role("button", name="Take back: ").click()
    other.get_by_role("button", name="Really take back: ").click()
    other.locator("#place").get_by_text("Taken back: Lining up").wait_for()
    sent_away(other)
    assert records(server.workspace, FEED)[-1]["voided"] == "true"
    assert other.locator("#place").get_by_text("6 of 10 families").count() == 1, (
        "only in what was said"
    )


def test_what_is_missing_is_said_and_nothing_is_kept(browser: Browser, server: Server) -> None:
    before = len(records(server.workspace, FEED))
    page = phone(browser, server, "home")
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_role("alert").get_by_text("Choose the routine first.").wait_for()
    told(page, "Fair turns", "Last week", "11")
    page.get_by_role("alert").get_by_text("Only 10 families were asked.").wait_for()
    page.get_by_role("group", name="Families asked").get_by_role(
        "radio", name="Another number"
    ).check()
    page.get_by_role("button", name="How many were asked: one more").click()
    page.get_by_role("button", name="How many were asked: one more").click()
    page.get_by_role("button", name="Save", exact=True).click()
    page.locator("#place").get_by_text("Saved: Fair turns, 11 of 11 families.").wait_for()
    sent_away(page)
    assert len(records(server.workspace, FEED)) == before + 1


def test_the_pack_knows_every_week_of_the_own_class_and_nobody_else_s(made: Classrooms) -> None:
    maren, wim, imke = (made.signed_in(name) for name in ("maren", "wim", "imke"))
    pack = maren.get("/api/classroom/pack").json()
    assert len(pack["families"]) == 4 * len(ROUTINES)
    entry = next(one for one in pack["families"] if one["routine_id"] == "voice")
    cells = {
        "routine_id": "voice", "week_first_on": entry["week_first_on"],
        "families_asked": "10", "families_reported": "7",
    }  # fmt: skip
    record = {"key": entry["key"], "revision": 1, "feed": FEED, "cells": cells}
    assert outcomes(maren, record) == ["kept"]
    assert outcomes(maren, record) == ["known"]
    changed = {**record, "cells": {**cells, "families_reported": "5"}}
    assert sent(maren, changed)[0]["reasons"][0]["rule"] == "changed_elsewhere"
    again = maren.get("/api/classroom/pack").json()["families"]
    own = next(one for one in again if one["key"] == entry["key"])
    assert (own["revision"], own["cells"]["families_reported"]) == (1, "7")
    assert {one["revision"] for one in wim.get("/api/classroom/pack").json()["families"]} == {0}
    assert "families" not in imke.get("/api/classroom/pack").json()
    assert outcomes(imke, record) == ["refused"]
