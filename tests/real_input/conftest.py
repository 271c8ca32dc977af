"""The real roster, written and landed once for all of its tests."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pandas as pd
import pytest

from ingest.load import FileReport, load_files
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.real_input.star_roster import star, write_star

NOW = datetime(2026, 5, 15, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def pupil_years() -> pd.DataFrame:
    return star()


@pytest.fixture(scope="session")
def roster(tmp_path_factory: pytest.TempPathFactory, pupil_years: pd.DataFrame) -> Path:
    return write_star(tmp_path_factory.mktemp("star") / "star.zip", pupil_years)


@pytest.fixture(scope="session")
def settings() -> Settings:
    return Settings(school_id="s00", school_name="Invented district")


@pytest.fixture(scope="session")
def landed(
    roster: Path, settings: Settings, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Workspace, list[FileReport]]:
    workspace = Workspace(tmp_path_factory.mktemp("workspace"))
    workspace.make_folders()
    return workspace, load_files([roster], workspace, settings, NOW)
