"""Small worlds for the tests of the shell: a workspace, a landing store, a stand-in for dbt."""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import duckdb

from ingest import build
from ingest.build import Built, Maker
from ingest.dbt_run import Plan
from ingest.settings import Retention, Settings
from ingest.steps import Progress
from ingest.workspace import Workspace

MINI = Path(__file__).resolve().parents[1] / "fixtures" / "mini_dbt"
AS_OF = date(2026, 5, 15)
AT = datetime(2026, 5, 16, 7, 30, tzinfo=UTC)
SETTINGS = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
CLASSES = (("room-1", "Room 1"), ("room-2", "Room 2"))

# Name, schema, audience and rows of every table that the stand-in for dbt makes.
TABLES = (
    ("dim_classes", "core", ""),
    ("mart_school", "published", "school"),
    ("mart_classes", "published", "support"),
    ("mart_files", "published", "steward"),
    ("room_class", "rooms", "room"),
)


def make_workspace(root: Path) -> Workspace:
    workspace = Workspace(root)
    workspace.make_folders()
    workspace.settings_path.write_text(
        '[school]\nid = "quillbrook"\nname = "Quillbrook"\n', "utf-8"
    )
    return workspace


def land(workspace: Workspace, classes: Sequence[tuple[str, str | None]] = CLASSES) -> None:
    """Put classes into the landing store, in place of what is there."""
    with closing(duckdb.connect(workspace.landing)) as connection:
        connection.execute("create schema if not exists latest")
        connection.execute(
            "create or replace table latest.classes (class_id varchar, title varchar)"
        )
        connection.executemany("insert into latest.classes values (?, ?)", list(classes))


def compute(plan: Plan, progress: Progress) -> None:
    """Stands in for dbt: the tables of `TABLES`, a row a class, and a manifest of them."""
    plan.target.mkdir(parents=True)
    with closing(duckdb.connect(plan.warehouse)) as connection:
        connection.execute(f"attach '{plan.landing}' as landing (read_only)")
        for name, schema, _ in TABLES:
            connection.execute(f"create schema if not exists {schema}")
            connection.execute(
                f"create table {schema}.{name} as "
                f"select *, '{plan.build_id}' as build_id from landing.latest.classes"
            )
    nodes = {f"model.mini.{name}": _node(name, schema, who) for name, schema, who in TABLES}
    plan.manifest.write_text(json.dumps({"nodes": nodes}), encoding="utf-8")


def _node(name: str, schema: str, audience: str) -> dict[str, object]:
    return {
        "resource_type": "model",
        "name": name,
        "alias": name,
        "schema": schema,
        "description": f"What {name} is.",
        "config": {"meta": {"audience": audience} if audience else {}},
    }


def make_build(
    workspace: Workspace, at: datetime = AT, keep: int = 5, maker: Maker | None = None
) -> Built:
    """A build with the stand-in for dbt unless another maker is given."""
    settings = replace(SETTINGS, retention=Retention(keep))
    return build.run(workspace, settings, AS_OF, at, maker=maker or Maker(compute=compute))


def column(file: Path, query: str) -> list[object]:
    """The first column of a query on a file."""
    with closing(duckdb.connect(file, read_only=True)) as connection:
        return [row[0] for row in connection.execute(query).fetchall()]
