"""When the inbox is looked at and when figures are made is set in the settings file."""

from __future__ import annotations

from datetime import time
from pathlib import Path

import pytest

from ingest.errors import WorkspaceProblem
from ingest.settings_file import new_file
from tests.ingest.test_settings import SCHOOL, read


def test_what_is_set_is_taken_and_the_rest_is_at_its_default(tmp_path: Path) -> None:
    told = read(tmp_path, f'{SCHOOL}[watch]\nbuild_at = ["18:30", "12:00", "18:30"]\n').watch
    assert told.build_at == (time(12, 0), time(18, 30))
    assert (told.settle_seconds, told.build_every_minutes) == (10, 60)
    assert read(tmp_path, f"{SCHOOL}[watch]\nbuild_every_minutes = 0\n").watch.build_at == ()


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("settle_seconds = 0", "watch.settle_seconds"),
        ("settle_seconds = 2.5", "watch.settle_seconds"),
        ("build_every_minutes = -1", "watch.build_every_minutes"),
        ("build_every_minutes = true", "watch.build_every_minutes"),
        ('build_at = "18:30"', "watch.build_at"),
        ('build_at = ["1830"]', "watch.build_at"),
        ('build_at = ["18:30:00"]', "watch.build_at"),
        ('build_at = ["25:00"]', "watch.build_at"),
        ("build_at = [18]", "watch.build_at"),
        ("build_hourly = true", "watch.build_hourly"),
    ],
)
def test_what_cannot_be_used_is_named(tmp_path: Path, text: str, where: str) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        read(tmp_path, f"{SCHOOL}[watch]\n{text}\n")
    assert problem.value.where.endswith(f": {where}")
    assert problem.value.remedy


def test_how_the_inbox_is_watched_changes_no_build(tmp_path: Path) -> None:
    plain = read(tmp_path, SCHOOL).digest
    assert read(tmp_path, f"{SCHOOL}[watch]\nsettle_seconds = 30\n").digest == plain


def test_a_new_settings_file_shows_every_line_and_takes_it_when_uncommented(tmp_path: Path) -> None:
    text = new_file("q", "Quillbrook", "Europe/Dublin")
    section = text[text.index("[watch]") :].split("\n\n")[0]
    lines = [line for line in section.splitlines() if line.startswith("# ")]
    assert len(lines) == 3
    for line in lines:
        text = text.replace(line, line.removeprefix("# "))
    assert read(tmp_path, text).watch.build_every_minutes == 60
