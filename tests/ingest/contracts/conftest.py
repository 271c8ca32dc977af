"""The mini school, loaded once and copied for each test that changes it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.ingest.contracts.loading import BASE, load


@pytest.fixture(scope="session")
def base_school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace into which the valid mini school was loaded."""
    folder = tmp_path_factory.mktemp("base")
    load(folder, *BASE)
    return folder


@pytest.fixture
def school(base_school: Path, tmp_path: Path) -> Path:
    """A copy of that workspace, for one test to change."""
    return Path(shutil.copytree(base_school, tmp_path / "school"))
