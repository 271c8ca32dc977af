"""A school in class, new for each test: the build is made once and copied."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from app.classroom.hat_store import HatStore
from tests.app.classroom.hat_device import TEN, Classroom
from tests.app.classroom.hat_world import bare_page
from tests.app.classroom.inside import Classrooms, classrooms


@pytest.fixture
def made(real_school: Path, tmp_path: Path) -> Classrooms:
    shutil.copytree(real_school, tmp_path, dirs_exist_ok=True)
    return classrooms(tmp_path)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Classroom]:
    """A class of ten whose hat nobody has used yet."""
    store = HatStore(tmp_path / "classroom.sqlite")
    yield Classroom(store, dict(TEN))
    store.close()


@pytest.fixture
def bare(browser: Browser) -> Iterator[Page]:
    """An empty page that can import the modules of the classroom page."""
    made = bare_page(browser)
    yield made
    made.context.close()
