"""A teacher sees how many families practised, where families are asked at all."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.app.invented import measure, rows
from tests.app.pages.test_every_page import READERS, a_running_server, at, opened, sound
from tests.app.snapshot import write_snapshot

__all__ = ["a_running_server"]


def practice(routine: str, **more: Any) -> dict[str, Any]:
    return {
        "school_id": "quillbrook", "class_id": "room-3", "term_id": "spring",
        "window_code": "term", "routine_id": routine, "measure_name": "family_practice",
        **measure(0.4, 4), **more,
    }  # fmt: skip


def html_of(monkeypatch: pytest.MonkeyPatch, workspace: Path) -> str:
    page = at(opened(monkeypatch, workspace, READERS["teacher"]), "my_class")
    sound(page)
    return " ".join(str(one.proto.body) for one in page.get("html"))


def test_the_card_says_the_share_its_counts_and_each_routine(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    told = rows()
    told["room_measures"] += [practice("*", numerator_count=13, denominator_count=33)]
    told["room_measures"] += [practice("line", numerator_count=8, denominator_count=21)]
    write_snapshot(tmp_path, told, is_demo=False)
    text = html_of(monkeypatch, tmp_path)
    assert "Practice at home" in text
    assert "of the families asked said that they practised" in text
    assert "13 of 33" in text
    assert "Families who practised, by routine" in text


def test_where_families_are_never_asked_there_is_no_card(
    monkeypatch: pytest.MonkeyPatch, real_school: Path
) -> None:
    assert "Practice at home" not in html_of(monkeypatch, real_school)
