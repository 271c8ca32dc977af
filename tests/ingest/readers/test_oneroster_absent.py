"""What a complete roster no longer lists ends, and is shown for review; nothing is deleted."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

from ingest.contracts import load_contracts
from ingest.readers.oneroster import Landed, RosterOptions, read
from ingest.readers.table import Table
from tests.ingest.readers.oneroster_sets import Files, as_changes, sound_set, write_set

LANDED = [
    # class, person, role, begin, end, primary, school
    ("c1", "p1", "student", "2025-09-01", "2026-06-20", "true", "s1"),
    ("c1", "p9", "student", "2025-09-01", "2026-06-20", "true", "s1"),
    ("c1", "p8", "student", "2026-04-01", "", "", "s1"),
    ("c1", "p7", "student", "2025-09-01", "2026-01-10", "", "s1"),
    ("c1", "a9", "aide", "2025-09-01", "", "", "s1"),
    ("x1", "p6", "student", "2025-09-01", "", "", "s9"),
]


def read_with(tmp_path: Path, files: Files, **how: dict[str, str]) -> list[Table]:
    columns = [*load_contracts()["memberships"].field_names, "school_id"]
    before = tmp_path / "before.csv"
    with before.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(columns)
        for class_id, person, role, begin, end, primary, school in LANDED:
            writer.writerow([class_id, person, role, begin, end, primary, "", "", school])
    options = RosterOptions(landed=Landed(before, date(2026, 3, 2)))
    path = write_set(tmp_path / "roster.zip", files, modes=how.get("modes"))
    return read(path, tmp_path, options)


def test_who_is_no_longer_listed_ends_on_the_day_of_the_roster(tmp_path: Path) -> None:
    tables = read_with(tmp_path, sound_set())
    gone = tables[-2]
    assert gone.file_name == "roster.zip/enrollments.csv (no longer listed)"
    with gone.path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    # Not p1 (listed), p7 (ended before), a9 (kept by hand) nor p6 (of another school).
    assert [(r["person_id"], r["begin_on"], r["end_on"], r["is_primary"]) for r in rows] == [
        ("p8", "2026-04-01", "2026-04-01", ""),
        ("p9", "2025-09-01", "2026-03-02", "true"),
    ]
    assert gone.header == tables[-1].header
    assert [(f.rule, f.verdict, f.count) for f in gone.findings] == [
        ("oneroster_ended_to_review", "warn", 2)
    ]


def test_it_comes_before_the_rows_of_the_set_and_has_a_name_of_its_own(tmp_path: Path) -> None:
    tables = read_with(tmp_path, sound_set())
    assert [table.feed for table in tables[-2:]] == ["memberships", "memberships"]
    assert len({table.file_hash for table in tables}) == len(tables)


def test_changes_end_only_what_they_say(tmp_path: Path) -> None:
    files = sound_set()
    files["enrollments"] = as_changes(files["enrollments"][:1])
    tables = read_with(tmp_path, files, modes={"enrollments": "delta"})
    assert [table.feed for table in tables].count("memberships") == 1


def test_a_refused_set_ends_nothing(tmp_path: Path) -> None:
    files = sound_set()
    files["users"] = as_changes(files["users"], "tobedeleted")
    assert all(table.is_refused for table in read_with(tmp_path, files))
