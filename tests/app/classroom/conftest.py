"""A school in class, new for each test: the build is made once and copied."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.app.classroom.inside import Classrooms, classrooms


@pytest.fixture
def made(real_school: Path, tmp_path: Path) -> Classrooms:
    shutil.copytree(real_school, tmp_path, dirs_exist_ok=True)
    return classrooms(tmp_path)
