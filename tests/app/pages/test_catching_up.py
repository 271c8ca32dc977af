"""A teacher writes down planned lessons with one tap; nothing is answered for her."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.app.invented import rows
from tests.app.pages.test_every_page import a_running_server, at, opened, sound
from tests.app.snapshot import write_snapshot

__all__ = ["a_running_server"]


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    write_snapshot(tmp_path, rows(), is_demo=False)
    return tmp_path


def written(workspace: Path) -> list[dict[str, str]]:
    found = []
    for path in sorted((workspace / "inbox").glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            found += list(csv.DictReader(file))
    return found


def test_opening_the_pages_writes_nothing(monkeypatch: pytest.MonkeyPatch, workspace: Path) -> None:
    page = opened(monkeypatch, workspace, "teacher:room-3")
    at(page, "my_lessons")
    assert written(workspace) == []


def test_one_tap_writes_down_the_whole_week(
    monkeypatch: pytest.MonkeyPatch, workspace: Path
) -> None:
    page = opened(monkeypatch, workspace, "teacher:room-3")
    button = page.button(key="whole-week")
    assert button.label == "All four of this week happened: write them down"
    text = sound(button.click().run())
    assert len(written(workspace)) == 4
    assert {row["class_id"] for row in written(workspace)} == {"room-3"}
    assert {row["status"] for row in written(workspace)} == {"delivered"}
    assert "4 lessons written down" in text
    assert "counted from the next build on" in text
    assert "whole-week" not in [one.key for one in page.button]


def test_one_lesson_may_be_answered_alone(monkeypatch: pytest.MonkeyPatch, workspace: Path) -> None:
    page = at(opened(monkeypatch, workspace, "teacher:room-3"), "my_lessons")
    off = next(one for one in page.button if str(one.key).startswith("no-"))
    sound(off.click().run())
    (row,) = written(workspace)
    assert row["status"] == "cancelled"
    left = [one for one in page.button if str(one.key).startswith("no-")]
    assert off.key not in [one.key for one in left]
    assert len(left) == 3


def test_a_tap_after_the_right_was_taken_away_writes_nothing(
    monkeypatch: pytest.MonkeyPatch, workspace: Path
) -> None:
    page = opened(monkeypatch, workspace, "teacher:room-3")
    button = page.button(key="whole-week")
    monkeypatch.setenv("ROUNDELAY_READER", "teacher:room-99")
    button.click().run()
    assert written(workspace) == []
