"""The rounds of classes that nobody draws in any more are forgotten; running ones are not."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from app.classroom.hat_store import _KEPT_DAYS, FILE, HatStore
from app.classroom.hat_values import Child, Device, Hat, News
from ingest import old_rounds
from ingest.workspace import Workspace
from tests.ingest.worlds import AT, land, make_build, make_workspace

TABLES = ("hat", "hat_child", "hat_device", "hat_draw")


@pytest.fixture
def school(tmp_path: Path) -> Workspace:
    return make_workspace(tmp_path)


@pytest.fixture
def store(school: Workspace) -> Iterator[HatStore]:
    store = HatStore(school.root / FILE)
    yield store
    store.close()


def draw(store: HatStore, class_id: str, days_ago: float) -> None:
    """One class drew its last name so many days ago."""
    at = AT - timedelta(days=days_ago)
    device = Device(f"tablet-of-{class_id}", message=3, heard=1, seen_at=at.timestamp())
    child = Child(f"pupil-of-{class_id}", holder=device.device)
    day = at.date().isoformat()
    drawn = News(1, "drawn", 4, child.pupil_id, f"draw-of-{class_id}", day=day, sequence=1, clock=1)
    with store.change(class_id) as place:
        place.write(Hat(4, {child.pupil_id: child}, {device.device: device}), None)
        place.note(device.device, (drawn,))


def classes(school: Workspace, table: str) -> list[str]:
    with closing(sqlite3.connect(school.root / FILE)) as file:
        return sorted(row[0] for row in file.execute(f"select class_id from {table}"))


def test_a_class_that_nobody_draws_in_is_forgotten_and_others_go_on(
    school: Workspace, store: HatStore
) -> None:
    draw(store, "room-1", 61)
    draw(store, "room-2", 1)

    assert old_rounds.forget(school, 60, AT) == ["room-1"]
    assert [classes(school, table) for table in TABLES] == [["room-2"]] * 4
    with store.change("room-1") as place:
        assert place.read() is None
    with store.change("room-2") as place:
        hat = place.read()
    assert hat is not None
    assert list(hat.children) == ["pupil-of-room-2"]


def test_draws_are_forgotten_sooner_than_the_round_they_were_made_in(
    school: Workspace, store: HatStore
) -> None:
    draw(store, "room-1", 20)

    assert old_rounds.DRAWS_DAYS == _KEPT_DAYS
    assert old_rounds.forget(school, 60, AT) == []
    assert [classes(school, table) for table in TABLES] == [["room-1"]] * 3 + [[]]


def test_what_was_forgotten_cannot_be_read_from_the_file(
    school: Workspace, store: HatStore
) -> None:
    draw(store, "room-1", 61)
    old_rounds.forget(school, 60, AT)
    store.close()

    assert b"pupil-of-room-1" not in (school.root / FILE).read_bytes()


def test_while_the_page_writes_nothing_is_forgotten_and_nothing_fails(
    school: Workspace, store: HatStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw(store, "room-1", 61)
    monkeypatch.setattr(old_rounds, "_PATIENCE_SECONDS", 0.0)
    with store.change("room-2"):
        assert old_rounds.forget(school, 60, AT) == []
    assert classes(school, "hat") == ["room-1"]


def test_a_file_that_is_none_of_ours_is_left_alone(school: Workspace) -> None:
    (school.root / FILE).write_bytes(b"no database, however long it is " * 40)

    assert old_rounds.forget(school, 60, AT) == []
    assert (school.root / FILE).read_bytes().startswith(b"no database")


def test_a_build_forgets_old_rounds_and_makes_no_file_where_there_is_none(
    school: Workspace,
) -> None:
    land(school)
    make_build(school)
    assert not (school.root / FILE).exists()
    with closing(HatStore(school.root / FILE)) as store:
        draw(store, "room-1", 61)
        make_build(school, AT + timedelta(hours=1))
        assert classes(school, "hat") == []
