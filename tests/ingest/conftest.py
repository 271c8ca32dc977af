"""A workspace for the tests of the door, made once and copied."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.ingest import door


@pytest.fixture(scope="session")
def opened_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace in which the halls and the singers of the invented world are known."""
    return door.opened(tmp_path_factory.mktemp("opened") / "workspace")


@pytest.fixture
def world(opened_once: Path, tmp_path: Path) -> Path:
    """A copy of it, for one test to change."""
    return Path(shutil.copytree(opened_once, tmp_path / "workspace"))
