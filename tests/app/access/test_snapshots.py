"""The pointer is read on every run; what it names must be there and whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.access import Broken, NothingBuilt, current_snapshot
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot


def test_a_workspace_without_a_build_has_nothing_to_show(tmp_path: Path) -> None:
    with pytest.raises(NothingBuilt):
        current_snapshot(tmp_path)
    with pytest.raises(NothingBuilt):
        current_snapshot(None)


@pytest.mark.parametrize("name", ["", "2026-01-01-20260101T000000", "../elsewhere", "/"])
def test_a_pointer_that_leads_nowhere_is_said_to(tmp_path: Path, name: str) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "snapshots").mkdir()
    (tmp_path / "snapshots" / "current").write_text(name, encoding="utf-8")
    with pytest.raises(Broken):
        current_snapshot(tmp_path)


@pytest.mark.parametrize("text", ["", "{", "[]", '{"build_id": "x"}'])
def test_a_damaged_description_is_said_to_be(tmp_path: Path, text: str) -> None:
    folder = write_snapshot(tmp_path, rows(empty=True))
    (folder / "build.json").write_text(text, encoding="utf-8")
    with pytest.raises(Broken, match=r"build\.json"):
        current_snapshot(tmp_path)


def test_a_newer_build_shows_at_once(tmp_path: Path) -> None:
    write_snapshot(tmp_path, rows(empty=True))
    first = current_snapshot(tmp_path).build_id
    write_snapshot(tmp_path, rows(empty=True), build_id="2026-05-16-20260516T071000")
    assert (first, current_snapshot(tmp_path).build_id) == (
        "2026-05-15-20260515T071000",
        "2026-05-16-20260516T071000",
    )
