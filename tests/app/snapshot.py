"""Writes a small snapshot as a build would: the shape from the contracts, the rows from a test."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import duckdb
import pandas as pd

from tests.app.contracts import Contract, contracts

Rows = Mapping[str, Sequence[Mapping[str, Any]]]
BUILD_ID = "2026-05-15-20260515T071000"
_BLANK: dict[str, Any] = {
    "varchar": "",
    "bigint": 0,
    "double": 0.0,
    "boolean": False,
    "date": "2026-05-15",
    "timestamp": "2026-05-15 07:10:00",
}


def write_snapshot(
    workspace: Path,
    rows: Rows,
    *,
    is_demo: bool = False,
    build_id: str = BUILD_ID,
    built_at: str = "2026-05-15T07:10:00+00:00",
) -> Path:
    """Write a snapshot and point to it. A row with a column that no contract has is a mistake."""
    folder = workspace / "snapshots" / build_id
    (folder / "rooms").mkdir(parents=True)
    for audience in ("school", "support", "steward"):
        _write(folder / f"{audience}.duckdb", audience, rows)
    classes = [row["class_id"] for row in rows.get("room_class", ())]
    rooms = {class_id: _room(folder, class_id, rows) for class_id in classes}
    told = {
        "format": 1,
        "build_id": build_id,
        "built_at": built_at,
        "as_of_on": build_id[:10],
        "is_demo": is_demo,
        "readers": {},
        "rooms": rooms,
    }
    (folder / "build.json").write_text(json.dumps(told), encoding="utf-8")
    (workspace / "snapshots" / "current").write_text(f"{build_id}\n", encoding="utf-8")
    return folder


def _room(folder: Path, class_id: str, rows: Rows) -> str:
    file = f"rooms/room-{hashlib.sha256(class_id.encode()).hexdigest()[:16]}.duckdb"
    own = {
        name: [row for row in some if row.get("class_id") == class_id]
        for name, some in rows.items()
        if name.startswith("room_")
    }
    _write(folder / file, "room", own)
    return file


def _write(file: Path, audience: str, rows: Rows) -> None:
    with duckdb.connect(str(file)) as connection:
        for contract in contracts().values():
            if contract.audience == audience:
                _table(connection, contract, rows.get(contract.name, ()))


def _table(
    connection: duckdb.DuckDBPyConnection, contract: Contract, rows: Sequence[Mapping[str, Any]]
) -> None:
    columns = ", ".join(
        f'"{column.name}" {column.data_type}{" not null" if column.is_required else ""}'
        for column in contract.columns
    )
    connection.execute(f'create table "{contract.name}" ({columns})')
    strangers = {name for row in rows for name in row} - set(contract.column_names)
    assert not strangers, f"{contract.name} has no column {sorted(strangers)}"
    filled = [
        [row.get(c.name, _BLANK[c.data_type] if c.is_required else None) for c in contract.columns]
        for row in rows
    ]
    if filled:
        text = [[None if cell is None else str(cell) for cell in row] for row in filled]
        frame = pd.DataFrame(text, columns=list(contract.column_names), dtype="object")
        casts = ", ".join(f'"{c.name}"::{c.data_type}' for c in contract.columns)
        connection.register("frame", frame)
        connection.execute(f'insert into "{contract.name}" select {casts} from frame')
