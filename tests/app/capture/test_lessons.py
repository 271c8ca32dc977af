"""A planned lesson that happened is written down once, for the class of the visit and no other."""

from __future__ import annotations

import csv
from collections.abc import Hashable
from datetime import UTC, date, datetime
from pathlib import Path

import duckdb
import pytest

from app import access
from app.access import Reader, Refused
from app.capture import AlreadyKept, lessons
from ingest import intake
from ingest.workspace import Workspace
from tests.app.capture.test_through_the_door import OWN
from tests.app.snapshot import write_snapshot
from tests.ingest.contracts.loading import BASE

AT = datetime(2026, 5, 15, 14, 5, 9, tzinfo=UTC)
SLOT: dict[Hashable, object] = {
    "class_id": "room-3", "plan_slot_id": "room-3-voice-0", "routine_id": "voice",
    "lesson_kind": "reminder", "due_on": date(2026, 5, 15),
}  # fmt: skip


@pytest.fixture
def scope(school: Path) -> access.Scope:
    return access.scope_for(access.current_snapshot(school), Reader("teacher", "room-3"))


def rows(workspace: Path) -> list[dict[str, str]]:
    found = []
    for path in sorted((workspace / "inbox").glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            found += list(csv.DictReader(file))
    return found


def test_a_lesson_is_written_as_given_on_its_day_and_nothing_is_made_up(
    scope: access.Scope, tmp_path: Path
) -> None:
    lessons.write_down(scope, tmp_path, SLOT, was_given=True, at=AT)
    (row,) = rows(tmp_path)
    assert row["class_id"] == "room-3"
    assert row["taught_on"] == "2026-05-15"
    assert (row["status"], row["lesson_kind"]) == ("delivered", "reminder")
    assert row["entered_at"] == "2026-05-15T14:05:09+00:00"
    unknown = ("minutes", "steps_done", "pupils_present", "started_at_local", "taught_by", "note")
    assert [row[name] for name in unknown] == [""] * 6


def test_a_lesson_called_off_is_one_too(scope: access.Scope, tmp_path: Path) -> None:
    lessons.write_down(scope, tmp_path, SLOT, was_given=False, at=AT)
    assert [row["status"] for row in rows(tmp_path)] == ["cancelled"]


def test_told_twice_it_is_one_lesson(scope: access.Scope, tmp_path: Path) -> None:
    lessons.write_down(scope, tmp_path, SLOT, was_given=True, at=AT)
    lessons.write_down(scope, tmp_path, SLOT, was_given=True, at=AT.replace(hour=15))
    assert len(rows(tmp_path)) == 1


def test_told_otherwise_the_first_word_stands(scope: access.Scope, tmp_path: Path) -> None:
    lessons.write_down(scope, tmp_path, SLOT, was_given=True, at=AT)
    with pytest.raises(AlreadyKept):
        lessons.write_down(scope, tmp_path, SLOT, was_given=False, at=AT)
    assert [row["status"] for row in rows(tmp_path)] == ["delivered"]


def test_two_planned_lessons_of_a_day_are_two(scope: access.Scope, tmp_path: Path) -> None:
    other = {**SLOT, "plan_slot_id": "room-3-voice-1"}
    assert lessons.write_all(scope, tmp_path, [SLOT, other], AT, was_given=True) == "kept"
    assert len({row["lesson_id"] for row in rows(tmp_path)}) == 2


def test_a_lesson_of_another_class_is_refused(scope: access.Scope, tmp_path: Path) -> None:
    with pytest.raises(Refused):
        lessons.write_down(scope, tmp_path, {**SLOT, "class_id": "room-1"}, was_given=True, at=AT)
    assert rows(tmp_path) == []


@pytest.mark.parametrize("role", ["principal", "support", "steward"])
def test_nobody_but_a_teacher_writes_lessons(school: Path, tmp_path: Path, role: str) -> None:
    other = access.scope_for(access.current_snapshot(school), Reader(role))
    with pytest.raises(Refused):
        lessons.write_down(other, tmp_path, SLOT, was_given=True, at=AT)
    assert rows(tmp_path) == []


def test_what_waits_is_of_the_own_class_only(school: Path, tmp_path: Path) -> None:
    for room in ("room-1", "room-3"):
        own = access.scope_for(access.current_snapshot(school), Reader("teacher", room))
        lessons.write_down(own, tmp_path, {**SLOT, "class_id": room}, was_given=True, at=AT)
        found = lessons.written_down(own, tmp_path, AT)
        assert [one.record["class_id"] for one in found] == [room]
        assert [one.key for one in found] == [lessons.lesson_key({**SLOT, "class_id": room})]


def test_a_full_disk_is_said_and_nothing_is_half_written(
    scope: access.Scope, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert lessons.write_all(scope, tmp_path, [SLOT], AT, was_given=True) == "stopped"
    assert rows(tmp_path) == []


@pytest.mark.parametrize("was_given", [True, False])
def test_what_was_written_down_goes_through_the_same_door_as_a_file(
    tmp_path: Path, was_given: bool
) -> None:
    workspace = Workspace(tmp_path / "school")
    workspace.make_folders()
    intake.load(BASE, workspace, OWN, AT)
    write_snapshot(tmp_path / "seen", {"room_class": [{"class_id": "qb-oak"}]})
    snapshot = access.current_snapshot(tmp_path / "seen")
    own = access.scope_for(snapshot, Reader("teacher", "qb-oak"))
    slot = {**SLOT, "class_id": "qb-oak", "routine_id": "settle"}
    lessons.write_down(own, workspace.root, slot, was_given=was_given, at=AT)
    [report] = intake.load(intake.files(workspace, []), workspace, OWN, AT)
    assert (report.status, report.accepted) == ("loaded", 1)
    with duckdb.connect(str(workspace.landing), read_only=True) as con:
        found = con.execute(
            "select class_id, status, minutes from latest.routine_lessons where lesson_id = ?",
            [lessons.lesson_key(slot)],
        ).fetchall()
    assert found == [("qb-oak", "delivered" if was_given else "cancelled", None)]
