"""Each reader's file holds that reader's tables, each room's file one class."""

from __future__ import annotations

import json
from contextlib import closing
from pathlib import Path

import duckdb
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest import publish, room_keys
from ingest.build import Maker
from ingest.dbt_run import Plan
from ingest.errors import BuildFailed
from ingest.publish import Table
from ingest.steps import Progress
from ingest.workspace import Workspace
from tests.ingest.worlds import TABLES, column, compute, land, make_build, make_workspace

NAMES = "select table_name from duckdb_tables() order by 1"
# Names that some file system or other would refuse, confuse or follow.
AWKWARD = (
    "a/b", "..", "../../up", "C:\\x", "con", "NUL.txt", "Room 3", "room 3", "ROOM 3", "é", "学校",
    "a:b", "tab\there", "line\nbreak", "q?*<>|\"'", "x" * 255, "x" * 254 + "y", ".", " ", "-",
    "_41", "A",
)  # fmt: skip


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path)
    land(made)
    return made


def test_each_file_has_its_own_tables_and_the_core_has_none(workspace: Workspace) -> None:
    folder = make_build(workspace).snapshot
    assert column(folder / "school.duckdb", NAMES) == ["mart_school"]
    assert column(folder / "support.duckdb", NAMES) == ["mart_classes"]
    assert column(folder / "steward.duckdb", NAMES) == ["mart_files"]
    for file in (folder / "rooms").iterdir():
        assert column(file, NAMES) == ["room_class"]


def test_a_room_file_holds_one_class_only_whatever_its_key(workspace: Workspace) -> None:
    land(workspace, [(key, f"title of {key}") for key in AWKWARD])
    folder = make_build(workspace).snapshot
    told = json.loads((folder / "build.json").read_text("utf-8"))
    assert sorted(told["rooms"]) == sorted(AWKWARD)
    assert len(list((folder / "rooms").iterdir())) == len(AWKWARD)
    for class_id, file in told["rooms"].items():
        assert column(folder / file, "select distinct class_id from room_class") == [class_id]
        assert (folder / file).resolve().parent == (folder / "rooms").resolve()
        assert told["room_tables"][class_id] == {"room_class": 1}


def test_the_description_says_what_was_made_of_what(workspace: Workspace) -> None:
    built = make_build(workspace)
    told = json.loads((built.snapshot / "build.json").read_text("utf-8"))
    assert told["build_id"] == built.build_id == "2026-05-15-20260516T073000"
    assert told["as_of_on"] == "2026-05-15"
    assert told["built_at"] == "2026-05-16T07:30:00+00:00"
    assert told["audiences"]["support"] == {"file": "support.duckdb", "tables": {"mart_classes": 2}}
    assert told["about"]["mart_school"] == "What mart_school is."
    assert told["readers"]["teacher"] == ["school", "room"]
    assert {"python", "roundelay", "duckdb", "dbt-core", "dbt-duckdb"} == set(told["versions"])
    assert len(told["settings_digest"]) == 16


def test_no_change_log_is_left_beside_a_snapshot(workspace: Workspace) -> None:
    folder = make_build(workspace).snapshot
    assert [path for path in folder.rglob("*") if path.suffix not in (".duckdb", ".json", "")] == []


def test_rows_and_types_are_those_of_the_warehouse(tmp_path: Path) -> None:
    warehouse = tmp_path / "warehouse.duckdb"
    with closing(duckdb.connect(warehouse)) as connection:
        connection.execute(
            "create table mart_x as select i as class_count, i / 3.0 as value, i % 2 = 0 as "
            "is_even, date '2026-05-01' + i::int as day_on, nullif(i, 3)::varchar as note "
            "from range(500) t(i)"
        )
    publish.copy(warehouse, [Table("mart_x", "main", "school")], tmp_path / "new")
    with closing(duckdb.connect(tmp_path / "new" / "school.duckdb")) as connection:
        connection.execute(f"attach '{warehouse}' as warehouse (read_only)")
        for one, other in (("mart_x", "warehouse.mart_x"), ("warehouse.mart_x", "mart_x")):
            query = f"select count(*) from (select * from {one} except all select * from {other})"
            assert connection.execute(query).fetchone() == (0,)
        assert (
            connection.execute("describe mart_x").fetchall()
            == connection.execute("describe warehouse.mart_x").fetchall()
        )


def test_a_room_row_of_no_class_stops_the_build(workspace: Workspace) -> None:
    def lose_class(plan: Plan, progress: Progress) -> None:
        compute(plan, progress)
        with closing(duckdb.connect(plan.warehouse)) as connection:
            connection.execute("insert into rooms.room_class values (null, 'lost', '')")

    with pytest.raises(BuildFailed, match="room_class has a row of no class"):
        make_build(workspace, maker=Maker(compute=lose_class))
    assert not workspace.current.exists()


def test_a_table_for_nobody_we_know_stops_the_build(tmp_path: Path) -> None:
    node = {
        "resource_type": "model", "alias": "mart_x", "schema": "published",
        "config": {"meta": {"audience": "everyone"}},
    }  # fmt: skip
    manifest = tmp_path / "manifest.json"
    manifest.write_text(json.dumps({"nodes": {"x": node}}), encoding="utf-8")
    with pytest.raises(BuildFailed, match="meant for 'everyone'"):
        publish.tables_of(manifest)


def test_only_models_with_an_audience_are_published(workspace: Workspace) -> None:
    built = make_build(workspace)
    manifest = workspace.builds / built.build_id / "target" / "manifest.json"
    named = {(table.name, table.audience) for table in publish.tables_of(manifest)}
    assert named == {(name, who) for name, _, who in TABLES if who}


@given(st.text(min_size=1, max_size=60))
def test_a_room_file_name_is_plain_and_reads_back(class_id: str) -> None:
    stem = room_keys.to_file_stem(class_id)
    assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-_")
    assert len(stem) <= 110
    read_back = room_keys.from_file_stem(stem)
    is_long = len(stem) > len("room--") + 16 + 79
    assert read_back == class_id or (is_long and read_back is None)


@pytest.mark.parametrize("stem", ["room-a-0000000000000000", "elsewhere", "room-_ff-" + "0" * 16])
def test_a_name_that_is_not_one_of_ours_is_nobodys(stem: str) -> None:
    assert room_keys.from_file_stem(stem) is None


def test_keys_that_a_file_system_may_confuse_have_names_of_their_own() -> None:
    stems = {room_keys.to_file_stem(key).casefold() for key in AWKWARD}
    assert len(stems) == len(AWKWARD)
