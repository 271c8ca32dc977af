"""A reader's scope opens her own shelves and nothing else, whatever an address or a widget says."""

from __future__ import annotations

import json
from pathlib import Path

import duckdb
import pytest

from app import access
from app.access import Reader, connections
from app.access.scopes import Scope
from app.queries import measures, number, room, steward, support, weeks


def scope_of(workspace: Path, reader: Reader) -> Scope:
    return access.scope_for(access.current_snapshot(workspace), reader)


def test_a_teacher_opens_her_own_room(school: Path) -> None:
    scope = scope_of(school, Reader("teacher", "room-3"))
    assert set(room.turns(scope)["class_id"]) == {"room-3"}


@pytest.mark.parametrize("other", ["room-1", "../room-1", "room-3'; select 1 --", "", "*"])
def test_a_teacher_cannot_ask_for_another_class(school: Path, other: str) -> None:
    scope = scope_of(school, Reader("teacher", "room-3"))
    with pytest.raises(access.Refused):
        weeks.by_class(scope, other, "responsiveness")
    with pytest.raises(access.Refused):
        measures.by_class(scope, other)
    with pytest.raises(access.Refused):
        weeks.change_of_class(scope, other, "responsiveness")
    with pytest.raises(access.Refused):
        number.visits_of_class(scope, other, "*", "2026-01-01", "2026-12-31")
    with pytest.raises(access.Refused):
        number.figure(scope, "class", other, "", "dose", "*", "spring", "term", "")


def test_a_teacher_has_no_shelf_of_the_team_or_the_steward(school: Path) -> None:
    scope = scope_of(school, Reader("teacher", "room-3"))
    with pytest.raises(access.Refused):
        support.classes(scope, "quillbrook")
    with pytest.raises(access.Refused):
        steward.files(scope)


def test_no_room_stands_in_any_shared_file(school: Path) -> None:
    scope = scope_of(school, Reader("support"))
    for shelf in ("school", "support"):
        tables = access.fetch(scope, shelf, "select table_name from information_schema.tables")
        assert not tables["table_name"].str.startswith("room_").any()


@pytest.mark.parametrize("role", ["principal", "support", "steward"])
def test_nobody_but_a_teacher_reads_a_room(school: Path, role: str) -> None:
    with pytest.raises(access.Refused):
        room.turns(scope_of(school, Reader(role)))


def test_settings_cannot_give_a_room_to_a_principal(school: Path, tmp_path: Path) -> None:
    snapshot = access.current_snapshot(school)
    assert snapshot.shelves_of("principal", ("school", "room")) == ("school",)


def test_a_scope_cannot_be_made_by_hand(school: Path) -> None:
    with pytest.raises(access.Refused):
        Scope("build", Reader("teacher", "room-3"), (("room", "/somewhere.duckdb"),))


def test_a_class_that_is_not_in_the_build_is_refused(school: Path) -> None:
    with pytest.raises(access.Refused, match="no class of that name"):
        scope_of(school, Reader("teacher", "room-99"))


def test_a_query_cannot_reach_outside_its_file(school: Path) -> None:
    scope = scope_of(school, Reader("principal"))
    other = json.loads((Path(access.current_snapshot(school).folder) / "build.json").read_text())
    file = Path(access.current_snapshot(school).folder) / other["rooms"]["room-1"]
    for attempt in (
        f"attach '{file}' as stolen",
        f"select * from read_csv('{file}')",
        "set enable_external_access = true",
        "create table more (x int)",
    ):
        with pytest.raises((access.Broken, duckdb.Error)):
            access.fetch(scope, "school", attempt)


def test_a_room_outside_the_folder_of_its_build_is_not_listed(tmp_path: Path, school: Path) -> None:
    source = Path(access.current_snapshot(school).folder)
    folder = tmp_path / "snapshots" / "2026-05-15-20260515T071000"
    (folder / "rooms").mkdir(parents=True)
    told = json.loads((source / "build.json").read_text(encoding="utf-8"))
    told["rooms"] = {"room-1": "../../../secret.duckdb", "room-2": "rooms/none.duckdb"}
    (folder / "build.json").write_text(json.dumps(told), encoding="utf-8")
    (tmp_path / "secret.duckdb").write_bytes(b"")
    (tmp_path / "snapshots" / "current").write_text(folder.name, encoding="utf-8")
    assert access.current_snapshot(tmp_path).rooms == ()


def test_an_older_build_is_closed_when_a_newer_one_is_opened(school: Path) -> None:
    scope = scope_of(school, Reader("principal"))
    access.fetch(scope, "school", "select 1 as one from mart_school")
    assert any(path.startswith(str(school.resolve())) for path in connections._OPEN)
    connections.close_all_but("/elsewhere")
    assert not connections._OPEN
