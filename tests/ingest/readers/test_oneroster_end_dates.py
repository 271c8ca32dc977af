"""Whether an end date is the last day or the day after is told from the rows beside it."""

from __future__ import annotations

import csv
from datetime import date, timedelta
from pathlib import Path

import pytest

from ingest.readers.oneroster import RosterOptions, read
from tests.ingest.readers.oneroster_sets import Files, sound_set, write_set


def day_before(written: str) -> str:
    return (date.fromisoformat(written) - timedelta(days=1)).isoformat()


def as_last_days(files: Files, *names: str) -> Files:
    """Write the same roster as exporters do that give the last day itself."""
    for name in names:
        for row in files[name]:
            row["endDate"] = day_before(row["endDate"])
    return files


def apart(files: Files, *names: str) -> Files:
    """Part the neighbours, so that their ends say nothing: a gap of five days each."""
    moved = {"academicSessions": ("c", "startDate"), "enrollments": ("e5", "beginDate")}
    for name in names:
        key, column = moved[name]
        for row in files[name]:
            if row["sourcedId"] == key:
                row[column] = (date.fromisoformat(row[column]) + timedelta(days=5)).isoformat()
    return files


def ends_of(tmp_path: Path, files: Files, end_dates: str = "auto") -> tuple[str, str, list[str]]:
    """Return the last day of the autumn, the end of e4, and what was said."""
    path = write_set(tmp_path / "roster.zip", files)
    tables = {t.feed: t for t in read(path, tmp_path, RosterOptions(end_dates=end_dates))}
    rows = {}
    for feed in ("terms", "memberships"):
        with tables[feed].path.open(encoding="utf-8", newline="") as stream:
            rows[feed] = list(csv.DictReader(stream))
    said = [
        finding.message
        for feed in ("terms", "memberships")
        for finding in tables[feed].findings
        if finding.rule == "oneroster_end_dates"
    ]
    end_on = next(row["end_on"] for row in rows["memberships"] if row["line_number"] == "5")
    return rows["terms"][1]["last_on"], end_on, said


BOTH = ("academicSessions", "enrollments")


def test_neighbours_that_begin_on_the_end_make_it_the_day_after(tmp_path: Path) -> None:
    last_on, end_on, said = ends_of(tmp_path, sound_set())
    assert (last_on, end_on) == ("2025-12-19", "2026-02-16")
    assert all("the first day after: 1 of 1 neighbours begin on that date" in s for s in said)
    assert len(said) == 2


def test_neighbours_that_begin_a_day_later_make_it_the_last_day(tmp_path: Path) -> None:
    last_on, end_on, said = ends_of(tmp_path, as_last_days(sound_set(), *BOTH))
    assert (last_on, end_on) == ("2025-12-19", "2026-02-16")
    assert all("the last day itself: 1 of 1 neighbours" in sentence for sentence in said)


def test_each_file_may_have_its_own_way(tmp_path: Path) -> None:
    last_on, end_on, said = ends_of(tmp_path, as_last_days(sound_set(), "academicSessions"))
    assert (last_on, end_on) == ("2025-12-19", "2026-02-16")
    assert "the last day itself" in said[0]
    assert "the first day after" in said[1]


@pytest.mark.parametrize("silent", BOTH)
def test_a_file_whose_rows_say_nothing_follows_the_other(tmp_path: Path, silent: str) -> None:
    files = apart(as_last_days(sound_set(), *BOTH), silent)
    last_on, end_on, said = ends_of(tmp_path, files)
    assert (last_on, end_on) == ("2025-12-19", "2026-02-16")
    assert any("in the other file" in sentence for sentence in said)


def test_without_neighbours_the_standard_is_followed_and_said(tmp_path: Path) -> None:
    last_on, end_on, said = ends_of(tmp_path, apart(sound_set(), *BOTH))
    assert (last_on, end_on) == ("2025-12-19", "2026-02-16")
    assert all("this is what the standard says" in sentence for sentence in said)


@pytest.mark.parametrize(
    ("choice", "last_on", "end_on"),
    [("last_day", "2025-12-20", "2026-02-17"), ("day_after", "2025-12-19", "2026-02-16")],
)
def test_the_setting_overrules_the_rows(
    tmp_path: Path, choice: str, last_on: str, end_on: str
) -> None:
    found = ends_of(tmp_path, sound_set(), choice)
    assert found[:2] == (last_on, end_on)
    assert all("the settings say so" in sentence for sentence in found[2])


def test_blank_dates_take_the_way_of_the_sessions(tmp_path: Path) -> None:
    files = as_last_days(sound_set(), *BOTH)
    files["enrollments"][3]["endDate"] = ""
    _, end_on, _ = ends_of(tmp_path, files)
    assert end_on == "2026-06-20"
