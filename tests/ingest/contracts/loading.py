"""The mini school of the tests, and how a file is loaded into it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from ingest.load import FileReport, load_files
from ingest.settings import Settings
from ingest.workspace import Workspace

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
BASE = sorted((FIXTURES / "base").glob("*.csv"))
NOW = datetime(2025, 10, 17, 16, 0, tzinfo=UTC)
SETTINGS = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")


def load(
    folder: Path, *paths: Path, thresholds: Mapping[str, float] | None = None
) -> list[FileReport]:
    """Load files into the workspace in a folder, on the day of the mini school."""
    settings = replace(SETTINGS, thresholds={**SETTINGS.thresholds, **(thresholds or {})})
    return load_files(list(paths), Workspace(folder), settings, NOW)
