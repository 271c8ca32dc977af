"""Rows that wait are held once, for what they wait for today, and stand in their file's sheet."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from openpyxl import load_workbook

from ingest.load import FileReport, load_files
from ingest.workspace import Workspace
from tests.ingest import door
from tests.ingest.door import balance, evening, evenings, rows

LATER = door.NOW + timedelta(days=60)
# Not come yet on the first day; when it has, its hall is one that nobody knows.
WAITS = evening(evening_id="e8", held_on="2026-06-01", hall_id="h9", minutes="45.00")
HELD = "select line_number, rule_names, can_release, status from ledger.quarantine order by all"
WHY = "select distinct rule_name from ledger.findings where line_number = 2 order by all"


def load(
    world: Path, text: str, *, name: str = "evenings.csv", is_later: bool = False
) -> FileReport:
    path = door.write(world.parent / "in", name, text)
    now = LATER if is_later else door.NOW
    return load_files([path], Workspace(world), door.SETTINGS, now, contracts=door.CONTRACTS)[0]


def sheet_rows(report: FileReport) -> list[tuple[object, object, object]]:
    """Line, reasons and key of each row of a file's correction sheet."""
    assert report.correction_sheet is not None
    sheet = load_workbook(report.correction_sheet).active
    return [(line, why, key) for line, why, _, key, *_ in sheet.iter_rows(2, values_only=True)]


def test_a_row_whose_reason_changed_with_the_date_is_held_once_and_for_the_new_reason(
    world: Path,
) -> None:
    first = load(world, evenings(WAITS))
    assert rows(world, HELD) == [(2, ["future_date"], False, "held")]
    again = load(world, evenings(WAITS), is_later=True)

    assert (first.quarantined, again.quarantined, again.known) == (1, 0, 1)
    assert balance(again)
    assert rows(world, HELD) == [(2, ["unknown_reference"], True, "held")]
    assert rows(world, WHY) == [("unknown_reference",)]
    [(line, why, key)] = sheet_rows(again)
    assert (line, key) == (2, "e8")
    assert "future" not in str(why)


def test_in_another_file_it_is_known_and_the_first_keeps_its_reason(world: Path) -> None:
    load(world, evenings(WAITS))
    other = load(world, evenings(evening(), WAITS), name="evenings_june.csv", is_later=True)

    assert (other.accepted, other.known, other.quarantined) == (1, 1, 0)
    assert rows(world, HELD) == [(2, ["future_date"], False, "held")]
    assert other.correction_sheet is None


def test_a_row_that_says_something_else_is_not_taken_for_a_held_one(world: Path) -> None:
    load(world, evenings(WAITS))
    unreadable = evening(evening_id="e9", hall_id="h9", minutes="abc")
    load(world, evenings(unreadable), name="abc.csv")
    empty = evening(evening_id="e9", hall_id="h9", minutes="", song_count="")
    longer = evening(evening_id="e8", held_on="2026-06-01", hall_id="h9", minutes="46")
    report = load(world, evenings(empty, longer), name="others.csv", is_later=True)

    assert (report.known, report.quarantined) == (0, 2)
    assert rows(world, "select count(*) from ledger.quarantine") == [(4,)]


def test_the_sheet_of_a_file_that_comes_again_holds_old_and_new_rows_that_are_set_aside(
    world: Path,
) -> None:
    two = evening(evening_id="e2", kind="opne", began_local="19:00")
    soon = evening(evening_id="e3", held_on="2026-06-01", began_local="20:00")
    text = evenings(two, WAITS, soon)
    first = load(world, text)
    assert [key for _, _, key in sheet_rows(first)] == ["e2", "e8", "e3"]
    again = load(world, text, is_later=True)

    assert (again.accepted, again.known, again.quarantined) == (1, 2, 0)
    found = sheet_rows(again)
    assert [(line, key) for line, _, key in found] == [(2, "e2"), (3, "e8")]
    assert all(why for _, why, _ in found)
    assert again.correction_sheet == first.correction_sheet
