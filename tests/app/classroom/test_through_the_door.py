"""What a device sent, through the same door as any file: the last revision stands, rows and all."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import duckdb
import pytest

from app import capture
from app.access import Reader, Scope, current_snapshot, scope_for
from app.capture import AlreadyKept, Sent
from ingest import intake
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.ingest.contracts.loading import BASE

NOW = datetime(2026, 5, 15, 16, 0, tzinfo=UTC)
OWN = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
KNOWN = {"classes": {"qb-oak", "qb-willow"}, "routines": {"settle"}}


@pytest.fixture
def team(school: Path) -> Scope:
    return scope_for(current_snapshot(school), Reader("support"))


@pytest.fixture
def place(tmp_path: Path) -> Workspace:
    workspace = Workspace(tmp_path)
    workspace.make_folders()
    intake.load(BASE, workspace, OWN, NOW)
    return workspace


def look(key: str, revision: int, minutes: str, *codes: str, **more: str) -> Sent:
    record = {
        "observation_id": key, "class_id": "qb-oak", "observer_id": "st-009",
        "observed_on": "2026-05-13", "minutes_observed": minutes, "routine_id": "settle",
        "taught_by_role": "teacher", "purpose": "routine", **more,
    }  # fmt: skip
    rows = tuple(
        {"row_number": str(n), "row_type": "moment", "code": code}
        for n, code in enumerate(codes, start=1)
    )
    return Sent("observation_sessions", key, revision, record, rows or None)


def ask(place: Workspace, query: str, *values: str) -> list[tuple[Any, ...]]:
    with duckdb.connect(str(place.landing), read_only=True) as con:
        return con.execute(query, list(values)).fetchall()


def session(place: Workspace, key: str) -> list[tuple[Any, ...]]:
    query = "select minutes_observed from latest.observation_sessions where observation_id = ?"
    return ask(place, query, key)


def rows(place: Workspace, key: str) -> list[tuple[Any, ...]]:
    query = (
        "select row_number, code from latest.observation_rows where observation_id = ? order by 1"
    )
    return ask(place, query, key)


def taken_up(place: Workspace) -> list[tuple[str, str, int]]:
    reports = intake.load(intake.files(place, []), place, OWN, NOW)
    return [(one.feed, one.status, one.accepted) for one in reports]


def test_a_look_lands_with_its_rows_from_one_file(team: Scope, place: Workspace) -> None:
    key = str(uuid4())
    assert capture.land(team, place.root, look(key, 1, "4", "expected", "not_visible"), KNOWN)
    assert taken_up(place) == [
        ("observation_sessions", "loaded", 1), ("observation_rows", "loaded", 2),
    ]  # fmt: skip
    assert (session(place, key), rows(place, key)) == (
        [(4,)], [(1, "expected"), (2, "not_visible")],
    )  # fmt: skip


@pytest.mark.parametrize("loads", [(1, 2, 3), (3,), (2, 3), (1, 3)])
def test_revisions_end_at_the_last_whenever_they_are_taken_up(
    team: Scope, place: Workspace, loads: tuple[int, ...]
) -> None:
    key = str(uuid4())
    every = [
        look(key, 1, "4", "expected", "not_visible"),
        look(key, 2, "5", "expected"),
        look(key, 3, "6", "not_expected"),
    ]
    for number, one in enumerate(every, start=1):
        assert capture.land(team, place.root, one, KNOWN)
        if number in loads:
            taken_up(place)
    assert (session(place, key), rows(place, key)) == ([(6,)], [(1, "not_expected")])
    assert not capture.land(team, place.root, every[0], KNOWN), "an old one comes too late"
    with pytest.raises(AlreadyKept):
        capture.land(team, place.root, look(key, 3, "7", "not_expected"), KNOWN)
    assert list(place.inbox.iterdir()) == []


def test_ten_revisions_are_taken_up_in_order(team: Scope, place: Workspace) -> None:
    key = str(uuid4())
    for number in range(1, 12):
        capture.land(team, place.root, look(key, number, str(number + 3), "expected"), KNOWN)
    assert len(list(place.inbox.iterdir())) == 11
    taken_up(place)
    assert session(place, key) == [(14,)]


def test_a_look_that_is_withdrawn_takes_its_rows_along(team: Scope, place: Workspace) -> None:
    key = str(uuid4())
    capture.land(team, place.root, look(key, 1, "4", "expected", "expected"), KNOWN)
    taken_up(place)
    capture.land(team, place.root, look(key, 2, "4", voided="true"), KNOWN)
    assert taken_up(place) == [("observation_sessions", "loaded", 1)]
    assert session(place, key) == []
    # The models reach rows through their visit alone, so they count nowhere any more.
    capture.land(team, place.root, look(key, 3, "4", "not_expected"), KNOWN)
    taken_up(place)
    assert (session(place, key), rows(place, key)) == ([(4,)], [(1, "not_expected")])


def test_the_same_sent_again_after_a_load_changes_nothing(team: Scope, place: Workspace) -> None:
    key = str(uuid4())
    one = look(key, 1, "4", "expected")
    assert [capture.land(team, place.root, one, KNOWN) for _ in range(3)] == [True, False, False]
    taken_up(place)
    assert not capture.land(team, place.root, one, KNOWN)
    assert list(place.inbox.iterdir()) == []
    assert len(rows(place, key)) == 1
