"""A calendar file becomes school days; worked examples after RFC 5545, by section."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from ingest.contracts import load_contracts
from ingest.readers.icalendar import HEADER, read
from ingest.readers.icalendar_words import PHRASES, meaning_of
from ingest.readers.table import Table

YEAR = (date(2025, 9, 1), date(2026, 6, 19))


def calendar(*entries: str, before: str = "") -> str:
    """Write a calendar of entries, each given as its lines without BEGIN and END."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Quillbrook//invented//EN"]
    lines += before.split("\n") if before else []
    for number, entry in enumerate(entries):
        lines += ["BEGIN:VEVENT", f"UID:{number}@example.invalid", "DTSTAMP:20250801T000000Z"]
        lines += [*entry.split("\n"), "END:VEVENT"]
    return "\r\n".join([*lines, "END:VCALENDAR", ""])


def read_text(tmp_path: Path, text: str | bytes, time_zone: str = "") -> Table:
    path = tmp_path / "calendar.ics"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    (table,) = read(path, tmp_path, "quillbrook", *YEAR, time_zone=time_zone)
    return table


def days_of(table: Table) -> list[tuple[str, str, str]]:
    """Return day, kind and audience of each row."""
    with table.path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    return [(row["day_on"], row["day_kind"], row["applies_to"]) for row in rows]


def rules_of(table: Table) -> dict[str, int]:
    return {finding.rule: finding.count for finding in table.findings}


def test_the_kinds_and_the_columns_are_those_of_the_contract() -> None:
    contract = load_contracts()["school_days"]
    assert set(PHRASES) == set(contract.field("day_kind").enum)
    assert (*contract.field_names, "line_number") == HEADER


def test_an_all_day_end_is_the_day_after_the_last(tmp_path: Path) -> None:
    # RFC 5545, 3.6.1: "DTEND" is the non-inclusive end; its example spans 28 June to 8 July.
    text = calendar("DTSTART;VALUE=DATE:20251222\nDTEND;VALUE=DATE:20251225\nSUMMARY:Winter break")
    table = read_text(tmp_path, text)
    assert days_of(table) == [
        ("2025-12-22", "closed_planned", "*"),
        ("2025-12-23", "closed_planned", "*"),
        ("2025-12-24", "closed_planned", "*"),
    ]
    assert table.findings == ()


def test_an_all_day_entry_without_an_end_is_one_day(tmp_path: Path) -> None:
    # RFC 5545, 3.6.1: a DATE start without DTEND or DURATION lasts one day.
    table = read_text(tmp_path, calendar("DTSTART;VALUE=DATE:20251013\nSUMMARY:No school"))
    assert days_of(table) == [("2025-10-13", "closed_planned", "*")]


def test_a_duration_counts_days(tmp_path: Path) -> None:
    # RFC 5545, 3.8.2.5.
    entry = "DTSTART;VALUE=DATE:20251013\nDURATION:P2D\nSUMMARY:Holiday"
    assert len(days_of(read_text(tmp_path, calendar(entry)))) == 2


def test_folded_lines_are_one_line(tmp_path: Path) -> None:
    # RFC 5545, 3.1: a line break before one space is taken out, the space with it.
    entry = "DTSTART;VALUE=DATE:20251013\nSUMMARY:Professional devel\n opment day - reading\n  week"
    table = read_text(tmp_path, calendar(entry))
    assert days_of(table) == [("2025-10-13", "staff_only", "*")]
    assert "Professional development day - reading week" in table.path.read_text("utf-8")


def test_a_weekly_rule_leaves_out_its_exceptions(tmp_path: Path) -> None:
    # RFC 5545, 3.8.5.3 (weekly, COUNT) and 3.8.5.1 (EXDATE).
    entry = (
        "DTSTART;VALUE=DATE:20250903\nRRULE:FREQ=WEEKLY;COUNT=4;BYDAY=WE\n"
        "EXDATE;VALUE=DATE:20250917\nSUMMARY:Early release"
    )
    days = [day for day, _, _ in days_of(read_text(tmp_path, calendar(entry)))]
    assert days == ["2025-09-03", "2025-09-10", "2025-09-24"]


def test_a_rule_without_an_end_stops_with_the_year(tmp_path: Path) -> None:
    entry = "DTSTART;VALUE=DATE:20250604\nRRULE:FREQ=WEEKLY\nCATEGORIES:early_release"
    days = [day for day, _, _ in days_of(read_text(tmp_path, calendar(entry)))]
    assert (days[0], days[-1], len(days)) == ("2025-09-03", "2026-06-17", 42)


def test_a_cancelled_day_of_a_series_is_left_out(tmp_path: Path) -> None:
    # RFC 5545, 3.8.4.4 (RECURRENCE-ID) and 3.8.1.11 (STATUS).
    text = calendar(
        "DTSTART;VALUE=DATE:20250903\nRRULE:FREQ=WEEKLY;COUNT=3\nSUMMARY:Early release",
        "RECURRENCE-ID;VALUE=DATE:20250910\nDTSTART;VALUE=DATE:20250910\nSTATUS:CANCELLED\n"
        "SUMMARY:Early release",
    ).replace("UID:1@", "UID:0@")
    days = [day for day, _, _ in days_of(read_text(tmp_path, text))]
    assert days == ["2025-09-03", "2025-09-17"]


def test_a_cancelled_entry_makes_no_day_and_no_noise(tmp_path: Path) -> None:
    entry = "DTSTART;VALUE=DATE:20251013\nSTATUS:CANCELLED\nSUMMARY:No school"
    table = read_text(tmp_path, calendar(entry))
    assert (days_of(table), table.findings) == ([], ())


def test_a_moment_counts_by_the_clock_of_its_zone(tmp_path: Path) -> None:
    # RFC 5545, 3.3.5 form 3: local time with a zone; 20:30 in Honolulu is the next day in UTC.
    entry = (
        "DTSTART;TZID=Pacific/Honolulu:20251013T203000\n"
        "DTEND;TZID=Pacific/Honolulu:20251013T230000\nCATEGORIES:early_release"
    )
    table = read_text(tmp_path, calendar(entry))
    assert days_of(table) == [("2025-10-13", "early_release", "*")]
    assert table.findings == ()


def test_a_moment_in_utc_is_taken_to_the_clock_of_the_school(tmp_path: Path) -> None:
    entry = "DTSTART:20251014T063000Z\nDTEND:20251014T090000Z\nCATEGORIES:early_release"
    table = read_text(tmp_path, calendar(entry), time_zone="Pacific/Honolulu")
    assert days_of(table) == [("2025-10-13", "early_release", "*")]
    assert table.findings == ()
    unplaced = read_text(tmp_path, calendar(entry))
    assert days_of(unplaced) == [("2025-10-14", "early_release", "*")]
    assert rules_of(unplaced) == {"calendar_time_in_utc": 1}


def test_a_moment_that_ends_at_midnight_ends_the_day_before(tmp_path: Path) -> None:
    entry = "DTSTART:20251013T000000\nDTEND:20251014T000000\nCATEGORIES:remote"
    assert days_of(read_text(tmp_path, calendar(entry))) == [("2025-10-13", "remote", "*")]


def test_categories_say_the_kind_and_for_whom(tmp_path: Path) -> None:
    text = calendar(
        "DTSTART;VALUE=DATE:20251013\nCATEGORIES:half_am,KG\nSUMMARY:Visits",
        "DTSTART;VALUE=DATE:20251014\nCATEGORIES:remote\nCATEGORIES:grade:05,class:qb-5-ash",
        "DTSTART;VALUE=DATE:20251015\nCATEGORIES:staff_only\nX-ROUNDELAY-APPLIES-TO:01,02",
    )
    table = read_text(tmp_path, text)
    assert days_of(table) == [
        ("2025-10-13", "half_am", "KG"),
        ("2025-10-14", "remote", "05"),
        ("2025-10-14", "remote", "qb-5-ash"),
        ("2025-10-15", "staff_only", "01"),
        ("2025-10-15", "staff_only", "02"),
    ]
    assert table.findings == ()


def test_an_unknown_entry_is_listed_and_never_guessed(tmp_path: Path) -> None:
    text = calendar(
        "DTSTART;VALUE=DATE:20251013\nSUMMARY:No school uniform day",
        "DTSTART;VALUE=DATE:20251014\nSUMMARY:Holiday concert",
        "DTSTART;VALUE=DATE:20251015\nSUMMARY:School closed (snow day)",
        "DTSTART;VALUE=DATE:20250903\nRRULE:FREQ=WEEKLY;COUNT=3\nSUMMARY:Choir",
    )
    table = read_text(tmp_path, text)
    assert days_of(table) == []
    found = {finding.line or 0: finding for finding in table.findings}
    assert {finding.rule for finding in table.findings} == {"calendar_entry_unknown"}
    assert sorted(found) == [4, 10, 16, 22]
    assert found[22].count == 3
    assert found[4].value == "No school uniform day"
    assert "uniform" not in found[4].message


def test_a_category_that_says_nothing_is_doubted_when_it_could_narrow(tmp_path: Path) -> None:
    entry = "DTSTART;VALUE=DATE:20251013\nCATEGORIES:closed_planned,Year five"
    table = read_text(tmp_path, calendar(entry))
    assert days_of(table) == [("2025-10-13", "closed_planned", "*")]
    assert rules_of(table) == {"calendar_audience_unknown": 1}


def test_two_entries_for_one_closure_are_one_day_with_both_labels(tmp_path: Path) -> None:
    text = calendar(
        "DTSTART;VALUE=DATE:20251224\nDTEND;VALUE=DATE:20251227\nSUMMARY:Winter break",
        "DTSTART;VALUE=DATE:20251225\nSUMMARY:Public holiday",
    )
    table = read_text(tmp_path, text)
    assert [day for day, _, _ in days_of(table)] == ["2025-12-24", "2025-12-25", "2025-12-26"]
    assert "Winter break; Public holiday" in table.path.read_text("utf-8")


def test_two_kinds_on_one_day_are_both_handed_on(tmp_path: Path) -> None:
    text = calendar(
        "DTSTART;VALUE=DATE:20251013\nSUMMARY:Staff day",
        "DTSTART;VALUE=DATE:20251013\nSUMMARY:Snow day",
    )
    kinds = {kind for _, kind, _ in days_of(read_text(tmp_path, text))}
    assert kinds == {"staff_only", "closed_emergency"}


def test_lines_and_lost_minutes_are_carried(tmp_path: Path) -> None:
    entry = "DTSTART;VALUE=DATE:20251013\nSUMMARY:Early release\nX-ROUNDELAY-LOST-MINUTES:45"
    table = read_text(tmp_path, calendar("DTSTART;VALUE=DATE:20251012\nSUMMARY:Closed", entry))
    with table.path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [(row["line_number"], row["lost_minutes"]) for row in rows] == [("4", ""), ("10", "45")]
    assert {row["school_id"] for row in rows} == {"quillbrook"}


def test_entries_of_other_years_are_counted(tmp_path: Path) -> None:
    text = calendar("DTSTART;VALUE=DATE:20241013\nSUMMARY:Closed")
    assert rules_of(read_text(tmp_path, text)) == {"calendar_outside_year": 1}


@pytest.mark.parametrize(
    "entry",
    [
        "SUMMARY:Closed",
        "DTSTART;VALUE=DATE:2025XX13\nSUMMARY:Closed",
        "DTSTART;VALUE=DATE:20251013\nDTEND;VALUE=DATE:20251010\nSUMMARY:Closed",
        "DTSTART;VALUE=DATE:20251013\nDTEND;VALUE=DATE:99999999\nSUMMARY:Closed",
        "DTSTART;VALUE=DATE:20251013\nRRULE:FREQ=SOMETIMES\nSUMMARY:Closed",
        "DTSTART;VALUE=DATE:20251013\nDTEND:20251014T100000\nSUMMARY:Closed",
        "DTSTART;VALUE=DATE:20251013\nRRULE:FREQ=WEEKLY\nEXDATE:x\nSUMMARY:Closed",
        "DTSTART;TZID=Nowhere/Town:2025101\nSUMMARY:Closed",
    ],
)
def test_an_entry_without_a_date_is_said_and_the_rest_is_read(tmp_path: Path, entry: str) -> None:
    text = calendar(entry, "DTSTART;VALUE=DATE:20251013\nSUMMARY:Closed")
    table = read_text(tmp_path, text)
    assert days_of(table) == [("2025-10-13", "closed_planned", "*")]
    assert rules_of(table) == {"calendar_entry_unreadable": 1}
    assert table.findings[0].line == 4


def test_an_entry_that_repeats_within_a_day_is_left_out(tmp_path: Path) -> None:
    entry = "DTSTART:20250901T080000\nRRULE:FREQ=SECONDLY\nSUMMARY:Closed"
    table = read_text(tmp_path, calendar(entry))
    assert (days_of(table), rules_of(table)) == ([], {"calendar_repeats_within_day": 1})


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        (b"day_on,day_kind\n2025-10-13,closed\n", "unreadable_file"),
        (b"", "unreadable_file"),
        (calendar().encode(), "empty_file"),
        (calendar("SUMMARY:F\u00eate").encode("latin-1"), "wrong_encoding"),
        (b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART:x\r\n", "unreadable_file"),
    ],
)
def test_what_is_no_calendar_is_refused(tmp_path: Path, text: bytes, rule: str) -> None:
    table = read_text(tmp_path, text)
    assert [finding.rule for finding in table.findings] == [rule]
    assert table.is_refused


@pytest.mark.parametrize(
    ("summary", "kind"),
    [
        ("WINTER BREAK", "closed_planned"),
        ("In-service day", "staff_only"),
        ("Half-term", "closed_planned"),
        ("No school: river flood", "closed_planned"),
        ("Early release, book fair", "early_release"),
        ("Book fair", None),
        ("Closed toe shoes day", None),
        ("", None),
    ],
)
def test_a_summary_means_a_kind_only_by_a_whole_phrase(summary: str, kind: str | None) -> None:
    assert meaning_of(summary, (), None).kind == kind
