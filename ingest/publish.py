"""Copies what may be read from a warehouse into a new snapshot: a file an audience, a file a room.

The wall between readers is made of files: a table of another audience, or another class's row, is
not in the file that a reader's process opens. The description `build.json` is written last; a
folder without it is not a snapshot. The models say which table goes where (`meta: audience`).
"""

import json
from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import duckdb

from ingest import durable, room_keys
from ingest.errors import BuildFailed
from ingest.pointer import DESCRIPTION
from ingest.steps import Hook, Progress, Step, no_hook, no_progress

AUDIENCES = ("school", "support", "steward")
ROOM = "room"
# A room is small: small blocks keep a district's thousand room files small as well.
_ROOM_BLOCK = 16384

Counts = dict[str, int]


@dataclass(frozen=True)
class Table:
    """One table that leaves the warehouse: its name, where it stands, for whom, and what it is."""

    name: str
    schema: str
    audience: str
    about: str = ""


@dataclass(frozen=True)
class Copied:
    """What a snapshot holds: rows of each table by audience, and by class."""

    audiences: Mapping[str, Counts]
    rooms: Mapping[str, Counts]


def tables_of(manifest: Path) -> list[Table]:
    """Every model of a dbt manifest that names an audience, sorted by name."""
    nodes = json.loads(manifest.read_text(encoding="utf-8"))["nodes"].values()
    found = [
        Table(node["alias"], node["schema"], _audience(node), _about(node))
        for node in nodes
        if node["resource_type"] == "model" and _audience(node)
    ]
    for table in found:
        if table.audience not in (*AUDIENCES, ROOM):
            raise _broken(
                f"The table {table.name} is meant for '{table.audience}', who is no reader.",
                f"audiences are: {', '.join((*AUDIENCES, ROOM))}",
            )
    return sorted(found, key=lambda table: table.name)


def _audience(node: Mapping[str, Any]) -> str:
    meta = {**node.get("meta", {}), **node.get("config", {}).get("meta", {})}
    return str(meta.get("audience", ""))


def _about(node: Mapping[str, Any]) -> str:
    return " ".join(str(node.get("description") or "").split())


def copy(
    warehouse: Path,
    tables: Iterable[Table],
    folder: Path,
    progress: Progress = no_progress,
    hook: Hook = no_hook,
) -> Copied:
    """Write the files of a new snapshot into `folder`, closed and flushed to the disk."""
    by_audience: dict[str, list[Table]] = {name: [] for name in (*AUDIENCES, ROOM)}
    for table in tables:
        by_audience[table.audience].append(table)
    (folder / "rooms").mkdir(parents=True)
    hook(Step.COPYING)
    with closing(duckdb.connect()) as connection:
        connection.execute(f"attach {_text(warehouse)} as warehouse (read_only)")
        audiences = {
            name: _copy_file(connection, folder / f"{name}.duckdb", by_audience[name])
            for name in AUDIENCES
        }
        rooms = _copy_rooms(connection, folder / "rooms", by_audience[ROOM], progress)
    hook(Step.COPIED)
    _flush(folder)
    hook(Step.FLUSHED)
    return Copied(audiences, rooms)


def describe(
    folder: Path, facts: Mapping[str, Any], tables: Iterable[Table], copied: Copied
) -> None:
    """Write `build.json`, which makes the folder a complete snapshot.

    `audiences`: file and row counts of each; `rooms`: class key to file; `about`: table to text.
    """
    files = {
        name: {"file": f"{name}.duckdb", "tables": counts}
        for name, counts in copied.audiences.items()
    }
    told = {
        "format": 1,
        **facts,
        "audiences": files,
        "rooms": {name: f"rooms/{room_keys.to_file_stem(name)}.duckdb" for name in copied.rooms},
        "room_tables": copied.rooms,
        "about": {table.name: table.about for table in tables},
    }
    text = json.dumps(told, indent=2, ensure_ascii=False)
    durable.write_text(folder / DESCRIPTION, text + "\n")
    durable.flush_folder(folder.parent)


def _copy_file(
    connection: duckdb.DuckDBPyConnection, file: Path, tables: Iterable[Table]
) -> Counts:
    connection.execute(f"attach {_text(file)} as snapshot")
    counts = {
        table.name: _rows_made(
            connection, f"create table snapshot.{_name(table.name)} as select * from {_from(table)}"
        )
        for table in tables
    }
    connection.execute("detach snapshot")
    return counts


def _copy_rooms(
    connection: duckdb.DuckDBPyConnection, folder: Path, tables: list[Table], progress: Progress
) -> dict[str, Counts]:
    classes = _classes(connection, tables)
    rooms = {}
    for done, class_id in enumerate(classes, start=1):
        rooms[class_id] = _copy_room(connection, folder, tables, class_id)
        progress("writing each room's file", done, len(classes))
    return rooms


def _classes(connection: duckdb.DuckDBPyConnection, tables: list[Table]) -> list[str]:
    """Every class of any room table; a row of no class would be lost, so it stops the build."""
    found: set[str] = set()
    for table in tables:
        rows = connection.execute(f"select distinct class_id from {_from(table)}").fetchall()
        if any(class_id is None for (class_id,) in rows):
            raise _broken(f"The table {table.name} has a row of no class.", "a room has one class")
        found.update(str(class_id) for (class_id,) in rows)
    return sorted(found)


def _copy_room(
    connection: duckdb.DuckDBPyConnection, folder: Path, tables: list[Table], class_id: str
) -> Counts:
    file = folder / f"{room_keys.to_file_stem(class_id)}.duckdb"
    connection.execute(f"attach {_text(file)} as snapshot (block_size {_ROOM_BLOCK})")
    counts = {
        table.name: _rows_made(
            connection,
            f"create table snapshot.{_name(table.name)} as "
            f"select * from {_from(table)} where class_id = ?",
            [class_id],
        )
        for table in tables
    }
    connection.execute("detach snapshot")
    return counts


def _rows_made(
    connection: duckdb.DuckDBPyConnection, statement: str, values: list[str] | None = None
) -> int:
    made = connection.execute(statement, values).fetchone()
    return int(made[0]) if made else 0


def _flush(folder: Path) -> None:
    logs = sorted(path.name for path in folder.rglob("*.wal"))
    if logs:
        raise _broken("A snapshot file was not closed.", f"a change log is left: {logs[0]}")
    for file in sorted(folder.rglob("*.duckdb")):
        durable.flush_file(file)
    durable.flush_folder(folder / "rooms")
    durable.flush_folder(folder)


def _broken(what: str, rule: str) -> BuildFailed:
    return BuildFailed(
        what, rule=rule, remedy="tell whoever maintains the models; the build before still stands"
    )


def _from(table: Table) -> str:
    return f"warehouse.{_name(table.schema)}.{_name(table.name)}"


def _name(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _text(path: Path) -> str:
    return "'" + str(path).replace("'", "''") + "'"
