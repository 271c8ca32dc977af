"""Practice at home through the real door: one row a routine and week; the last word stands."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import duckdb
import pytest

from app import capture
from app.access import Reader, Scope, current_snapshot, scope_for
from app.capture import AlreadyKept, NotRight, Sent
from app.capture.families import FEED, week_key, week_of
from ingest import intake
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.app.invented import rows
from tests.app.paper.worlds import written
from tests.ingest.contracts.loading import BASE

NOW = datetime(2026, 5, 15, 16, 0, tzinfo=UTC)
OWN = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
CLASS, ROUTINE, MONDAY = "qb-oak", "settle", date(2026, 5, 11)
KNOWN = {"classes": {CLASS}, "routines": {ROUTINE}}


@pytest.fixture
def teacher(tmp_path: Path) -> Scope:
    told = rows()
    card = {**told["room_class"][0], "class_id": CLASS}
    (tmp_path / "shown").mkdir()
    shown = written(tmp_path / "shown", {"mart_school": told["mart_school"], "room_class": [card]})
    return scope_for(current_snapshot(shown), Reader("teacher", CLASS))


@pytest.fixture
def place(tmp_path: Path) -> Workspace:
    workspace = Workspace(tmp_path / "ws")
    workspace.make_folders()
    intake.load(BASE, workspace, OWN, NOW)
    return workspace


def numbers(revision: int, practised: str, monday: date = MONDAY, **more: str) -> Sent:
    key = week_key(CLASS, ROUTINE, monday)
    record = {
        "class_id": CLASS, "routine_id": ROUTINE, "week_first_on": monday.isoformat(),
        "families_asked": "21", "families_reported": practised, **more,
    }  # fmt: skip
    return Sent(FEED, key, revision, record)


def taken_up(place: Workspace, at: datetime = NOW) -> list[tuple[str, int, int]]:
    reports = intake.load(intake.files(place, []), place, OWN, at)
    return [(one.status, one.accepted, one.quarantined) for one in reports]


def latest(place: Workspace) -> list[tuple[Any, ...]]:
    query = (
        "select families_asked, families_reported, row_version from latest.family_practice"
        " where class_id = ? and routine_id = ? and week_first_on = ?"
    )
    with duckdb.connect(str(place.landing), read_only=True) as con:
        return con.execute(query, [CLASS, ROUTINE, MONDAY]).fetchall()


def test_a_number_lands_and_a_later_one_of_the_week_takes_its_place(
    teacher: Scope, place: Workspace
) -> None:
    assert capture.land(teacher, place.root, numbers(1, "8"), KNOWN)
    assert taken_up(place) == [("loaded", 1, 0)]
    assert latest(place) == [(21, 8, 1)]
    assert capture.land(teacher, place.root, numbers(2, "11"), KNOWN)
    assert taken_up(place, NOW + timedelta(days=1)) == [("loaded", 1, 0)]
    assert latest(place) == [(21, 11, 2)]


def test_two_revisions_taken_up_together_keep_their_order(teacher: Scope, place: Workspace) -> None:
    for revision, practised in ((1, "8"), (2, "3"), (3, "9")):
        assert capture.land(teacher, place.root, numbers(revision, practised), KNOWN)
    assert taken_up(place) == [("loaded", 1, 0)] * 3
    assert latest(place) == [(21, 9, 3)]


def test_what_is_taken_back_is_no_longer_there(teacher: Scope, place: Workspace) -> None:
    capture.land(teacher, place.root, numbers(1, "8"), KNOWN)
    capture.land(teacher, place.root, numbers(2, "8", voided="true"), KNOWN)
    taken_up(place)
    assert latest(place) == []
    capture.land(teacher, place.root, numbers(3, "7"), KNOWN)
    taken_up(place)
    assert [row[:2] for row in latest(place)] == [(21, 7)]


def test_another_device_that_did_not_know_is_told_and_nothing_is_written_over(
    teacher: Scope, place: Workspace
) -> None:
    capture.land(teacher, place.root, numbers(1, "8"), KNOWN)
    assert not capture.land(teacher, place.root, numbers(1, "8"), KNOWN)
    taken_up(place)
    with pytest.raises(AlreadyKept):
        capture.land(teacher, place.root, numbers(1, "5"), KNOWN)
    assert week_of(place.root, CLASS, ROUTINE, MONDAY).revision == 1


def test_what_stands_is_known_while_it_waits_and_after_it_was_taken_up(
    teacher: Scope, place: Workspace
) -> None:
    assert week_of(place.root, CLASS, ROUTINE, MONDAY).revision == 0
    capture.land(teacher, place.root, numbers(1, "8"), KNOWN)
    capture.land(teacher, place.root, numbers(2, "9"), KNOWN)
    for _ in range(2):
        found = week_of(place.root, CLASS, ROUTINE, MONDAY)
        assert (found.revision, found.record["families_reported"]) == (2, "9")
        if any(place.inbox.iterdir()):
            taken_up(place)


def test_more_than_were_asked_is_set_aside_at_the_door(teacher: Scope, place: Workspace) -> None:
    capture.land(teacher, place.root, numbers(1, "22"), KNOWN)
    assert taken_up(place) == [("loaded", 0, 1)]
    assert latest(place) == []
    with pytest.raises(NotRight, match="families_reported: too_large"):
        capture.land(teacher, place.root, numbers(2, "61"), KNOWN)


def test_every_class_routine_and_week_has_a_key_of_its_own() -> None:
    keys = {
        week_key(class_id, routine_id, monday)
        for class_id in ("a", "a/b", "ab")
        for routine_id in ("c", "b/c", "bc")
        for monday in (MONDAY, MONDAY - timedelta(weeks=1))
    }
    assert len(keys) == 18
    assert week_key("a", "b", MONDAY) == week_key("a", "b", MONDAY)
