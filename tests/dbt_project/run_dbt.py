"""Run dbt as the build does: a child process with its own target folder."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROJECT = ROOT / "dbt_project"
MEASURES = PROJECT / "models" / "intermediate" / "measures"


def measure_models() -> list[str]:
    """Every measure model, as the build finds them."""
    return sorted(path.stem for path in MEASURES.glob("*.sql"))


def variables(as_of_on: str, **others: object) -> dict[str, object]:
    """The variables that a build gives."""
    return {
        "as_of_on": as_of_on,
        "build_id": f"{as_of_on}-20260101T000000",
        "built_at": "2026-01-01T00:00:00+00:00",
        "school_id": "north",
        "school_name": "North (invented)",
        "time_zone": "Europe/Dublin",
        "measure_models": measure_models(),
        **others,
    }


def run_dbt(
    arguments: Sequence[str], landing: Path, folder: Path, values: dict[str, object]
) -> subprocess.CompletedProcess[str]:
    """Run one dbt command; the warehouse is `folder/warehouse.duckdb`."""
    environment = {
        **os.environ,
        "ROUNDELAY_LANDING": str(landing),
        "ROUNDELAY_WAREHOUSE": str(folder / "warehouse.duckdb"),
        "DBT_TARGET_PATH": str(folder / "target"),
        "DBT_LOG_PATH": str(folder / "logs"),
    }
    return subprocess.run(
        [
            sys.executable, "-m", "dbt.cli.main", *arguments,
            "--project-dir", str(PROJECT), "--profiles-dir", str(PROJECT),
            "--vars", json.dumps(values),
        ],
        env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
