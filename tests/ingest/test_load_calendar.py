"""A calendar file beside a file of school days: many days of one entry, every one accounted for."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from ingest.load import FileReport, load_files
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.ingest.door import balance, rows
from tests.ingest.readers.test_icalendar import calendar

NOW = datetime(2026, 5, 15, 12, 0, tzinfo=UTC)
SETTINGS = Settings("quillbrook", "Quillbrook Primary (invented)", time_zone="UTC")
TERMS = """term_id,school_id,kind,title,parent_term_id,first_on,last_on
year,quillbrook,school_year,2025-26,,2025-09-01,2026-06-19
"""
DAYS = """school_id,day_on,day_kind,applies_to,label,lost_minutes
quillbrook,2025-10-28,closed_planned,*,Autumn break,
quillbrook,2025-10-30,staff_only,*,Planning,
"""
BREAK = "DTSTART;VALUE=DATE:20251027\nDTEND;VALUE=DATE:20251101\nSUMMARY:Autumn break"


def load(root: Path, name: str, text: str) -> FileReport:
    path = root.parent / "in" / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode())
    return load_files([path], Workspace(root), SETTINGS, NOW)[0]


def test_days_of_one_entry_that_are_here_already_are_known_and_the_others_land(
    tmp_path: Path,
) -> None:
    root = tmp_path / "workspace"
    load(root, "terms.csv", TERMS)
    load(root, "school_days.csv", DAYS)
    report = load(root, "calendar.ics", calendar(BREAK))

    assert (report.status, report.received) == ("loaded", 5)
    assert (report.accepted, report.known, report.quarantined) == (4, 1, 0)
    assert balance(report)
    kinds = "select day_on::varchar, day_kind from latest.school_days order by day_on"
    assert rows(root, kinds) == [(f"2025-10-{day}", "closed_planned") for day in range(27, 32)]
    assert rows(root, "select count(*) from feed.school_days") == [(6,)]


def test_a_day_that_is_set_aside_takes_no_other_day_of_its_entry_with_it(tmp_path: Path) -> None:
    root = tmp_path / "workspace"
    load(root, "terms.csv", TERMS)
    half = "DTSTART;VALUE=DATE:20251024\nDTEND;VALUE=DATE:20251028\nSUMMARY:Early release"
    report = load(root, "calendar.ics", calendar(half))

    assert (report.received, report.accepted, report.quarantined) == (4, 2, 2)
    assert balance(report)
    landed = rows(root, "select day_on::varchar from latest.school_days order by day_on")
    assert landed == [("2025-10-24",), ("2025-10-27",)]
    lines = rows(root, "select distinct line_number from ledger.quarantine")
    assert [line for (line,) in lines] == [4]
    again = load(root, "again.ics", calendar(half) + "\r\n")
    assert (again.accepted, again.known, again.quarantined) == (0, 4, 0)
    assert balance(again)


def test_what_the_reader_met_is_told_with_its_line_whatever_becomes_of_the_rows(
    tmp_path: Path,
) -> None:
    root = tmp_path / "workspace"
    load(root, "terms.csv", TERMS)
    riddle = "DTSTART;VALUE=DATE:20251110\nSUMMARY:Cake sale"
    report = load(root, "calendar.ics", calendar(BREAK, riddle))

    told = {(one.rule, one.line) for one in report.findings}
    assert ("calendar_entry_unknown", 11) in told
    assert (report.accepted, report.quarantined) == (5, 0)
