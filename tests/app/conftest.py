"""Snapshots that the dashboard's tests read: a full small school, an empty one, none at all."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.access import connections
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot


@pytest.fixture(scope="session")
def school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with a full snapshot of the small invented school, in demo mode."""
    workspace = tmp_path_factory.mktemp("school")
    write_snapshot(workspace, rows(), is_demo=True)
    return workspace


@pytest.fixture(scope="session")
def real_school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same rows in a workspace that is no demo."""
    workspace = tmp_path_factory.mktemp("real")
    write_snapshot(workspace, rows(), is_demo=False)
    return workspace


@pytest.fixture(scope="session")
def empty_school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace just after its first roster: words and terms, nothing seen yet."""
    workspace = tmp_path_factory.mktemp("empty")
    write_snapshot(workspace, rows(empty=True), is_demo=True)
    return workspace


@pytest.fixture(scope="session")
def quiet_room(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of which nothing but its own card is known yet."""
    workspace = tmp_path_factory.mktemp("quiet")
    full = rows()
    known = {name: some for name, some in full.items() if not name.startswith("room_")}
    write_snapshot(workspace, {**known, "room_class": full["room_class"]}, is_demo=False)
    return workspace


@pytest.fixture(autouse=True, scope="session")
def close_what_was_opened() -> Iterator[None]:
    """Let go of every file at the end."""
    yield
    connections.close_all_but("nowhere")
