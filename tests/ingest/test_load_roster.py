"""A roster sent again: it ends what it no longer lists, and never by an older truth."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from ingest import ledger
from ingest.load import FileReport, load_files
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.ingest.readers.oneroster_sets import Files, sound_set, write_set

SEPTEMBER = datetime(2025, 9, 10, 8, 0, tzinfo=UTC)
MARCH = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
APRIL = datetime(2026, 4, 7, 8, 0, tzinfo=UTC)


def school_of(extra: int) -> Files:
    """The sound set with more children in its first homeroom."""
    files = sound_set()
    child = next(row for row in files["users"] if row.get("role") == "student")
    place = next(row for row in files["enrollments"] if row["userSourcedId"] == child["sourcedId"])
    for number in range(extra):
        key = f"extra-{number}"
        files["users"].append(child | {"sourcedId": key})
        files["enrollments"].append(place | {"sourcedId": f"e-{key}", "userSourcedId": key})
    return files


def without(files: Files, number: int) -> Files:
    """The same set after some of the added children have left."""
    gone = {f"extra-{one}" for one in range(number)}
    kept = [row for row in files["enrollments"] if row["userSourcedId"] not in gone]
    return files | {"enrollments": kept}


def load(root: Path, path: Path, now: datetime) -> list[FileReport]:
    settings = Settings("s1", "Lower Mere (invented)", time_zone="UTC")
    return load_files([path], Workspace(root), settings, now)


def ends(root: Path) -> dict[str, date | None]:
    with ledger.reading(Workspace(root).landing) as con:
        found = con.execute(
            "select person_id, end_on from latest.memberships where person_id like 'extra-%'"
        ).fetchall()
    return dict(found)


def test_a_child_missing_from_a_later_roster_ends_on_the_day_it_came(tmp_path: Path) -> None:
    everyone = school_of(12)
    load(tmp_path, write_set(tmp_path / "september.zip", everyone), SEPTEMBER)
    before = ends(tmp_path)
    reports = load(tmp_path, write_set(tmp_path / "march.zip", without(everyone, 1)), MARCH)

    assert len(before) == 12
    assert ends(tmp_path) == before | {"extra-0": date(2026, 3, 2)}
    rules = [finding.rule for report in reports for finding in report.findings]
    assert "oneroster_ended_to_review" in rules


def test_an_old_roster_sent_again_ends_nobody(tmp_path: Path) -> None:
    some = school_of(12)
    september = write_set(tmp_path / "september.zip", without(some, 1))
    load(tmp_path, september, SEPTEMBER)
    load(tmp_path, write_set(tmp_path / "march.zip", some), MARCH)
    now = ends(tmp_path)
    reports = load(tmp_path, september, APRIL)

    assert ends(tmp_path) == now
    assert {report.status for report in reports} == {"already_known"}


def test_a_roster_that_would_end_too_many_at_once_ends_nobody(tmp_path: Path) -> None:
    everyone = school_of(12)
    load(tmp_path, write_set(tmp_path / "september.zip", everyone), SEPTEMBER)
    before = ends(tmp_path)
    reports = load(tmp_path, write_set(tmp_path / "march.zip", without(everyone, 8)), MARCH)

    assert ends(tmp_path) == before
    refused = [report for report in reports if report.status == "refused"]
    assert [finding.rule for report in refused for finding in report.findings if
            finding.verdict == "refuse"] == ["roster_collapse"]  # fmt: skip
