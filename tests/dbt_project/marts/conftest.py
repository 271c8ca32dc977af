"""A part of the invented school, loaded through the door and built: what the marts are judged on.

Eleven rooms as of the end of January: four with children of the first grade, four of the second
(one mixed with the third), two more of the third, one of the fifth. So one grade is too small to be
shown, one goes along with it, and the winter's situations are there.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import duckdb
import pytest

from ingest import sample, settings, start
from ingest.load import load_files
from ingest.sample import SampleManifest, Size
from tests.dbt_project.run_dbt import run_dbt, variables

AS_OF_ON = "2026-01-30"
ROOMS = ("05", "06", "07", "08", "09", "10", "11", "12", "13", "15", "20")


@dataclass(frozen=True)
class Built:
    """The built warehouse, its landing store, and what was planted in it."""

    folder: Path
    landing: Path
    manifest: SampleManifest
    values: dict[str, object]

    @property
    def warehouse(self) -> Path:
        return self.folder / "warehouse.duckdb"

    def school_tables(self) -> list[str]:
        """Tables meant for every reader, as the models say."""
        manifest = json.loads((self.folder / "target" / "manifest.json").read_text("utf-8"))
        return sorted(
            node["name"]
            for node in manifest["nodes"].values()
            if node["resource_type"] == "model"
            and node["config"]["meta"].get("audience") == "school"
        )


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("marts")
    size = Size(
        room_ids=tuple(f"qb-rm{room}" for room in ROOMS),
        as_of_on=date(2026, 2, 13),
        visits_per_room=26,
        coaching_cycles=3,
    )
    manifest = sample.generate(folder / "files", size=size)
    workspace = start.create(
        folder / "school", manifest.school_name, manifest.school_id, manifest.time_zone
    )
    own = settings.load(workspace.settings_path)
    load_files(manifest.files, workspace, own, manifest.received_at)
    values = variables(
        AS_OF_ON,
        school_id=manifest.school_id,
        school_name=manifest.school_name,
        time_zone=manifest.time_zone,
    )
    done = run_dbt(
        ["build", "--exclude-resource-type", "unit_test"], workspace.landing, folder, values
    )
    assert done.returncode == 0, done.stdout[-6000:]
    return Built(folder, workspace.landing, manifest, values)


@pytest.fixture
def warehouse(built: Built) -> Iterator[duckdb.DuckDBPyConnection]:
    """The warehouse, with the names that landed beside it as `landing_names`."""
    with duckdb.connect() as connection:
        connection.execute(f"attach '{built.warehouse}' as warehouse (read_only)")
        connection.execute(f"attach '{built.landing}' as landing (read_only)")
        connection.execute("create view landing_names as select * from landing.names.people")
        connection.execute("use warehouse.main")
        yield connection
