"""A school with a door, new for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.door.inside import School, school


@pytest.fixture
def made(tmp_path: Path) -> School:
    return school(tmp_path)
