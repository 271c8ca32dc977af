"""Reads an RFC 5545 iCalendar file into the feed of school days.

The file says only what it says: closures, half days, days for staff, and the days of instruction it
names. That the other weekdays of a term are taught is concluded later, not here.
"""

import csv
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from ingest.findings import Finding, generic
from ingest.readers.icalendar_events import Calendar, NotACalendar, Occurrence, parse
from ingest.readers.icalendar_words import PHRASES, meaning_of
from ingest.readers.table import Table

HEADER = ("school_id", "day_on", "day_kind", "applies_to", "label", "lost_minutes", "line_number")


@dataclass(frozen=True)
class _Day:
    """One school day as an entry of the file says it."""

    day_on: date
    day_kind: str
    applies_to: str
    label: str
    lost_minutes: str
    line: int


def read(
    path: Path,
    scratch: Path,
    school_id: str,
    first_on: date,
    last_on: date,
    *,
    time_zone: str = "",
) -> list[Table]:
    """Read a calendar file into one table of school days between two days, both included.

    Entries that say no kind of day, or several, are listed as warnings and make no row. Two entries
    that say the same kind of one day for the same classes make one row with both labels; two that
    say different kinds make two rows, to be set aside. Never raises for what a file may hold.
    """
    received = path.read_bytes()
    table = Table(
        feed="school_days",
        file_name=path.name,
        file_hash=hashlib.sha256(received).hexdigest(),
        path=scratch / "school_days.csv",
        delimiter=",",
        header=HEADER,
        line_column="line_number",
    )
    try:
        calendar = parse(received.decode("utf-8-sig"), first_on, last_on, time_zone)
    except UnicodeDecodeError:
        return [_refused(table, generic("wrong_encoding", path.name))]
    except NotACalendar:
        detail = "it is not a calendar in the iCalendar form (RFC 5545)."
        return [_refused(table, generic("unreadable_file", path.name, detail=detail))]
    if not calendar.entry_count:
        return [_refused(table, generic("empty_file", path.name))]
    days, findings = _days(path.name, calendar.occurrences)
    _write(table.path, school_id, days)
    return [replace(table, findings=(*_about_entries(path.name, calendar), *findings))]


def _days(
    file_name: str, occurrences: Iterable[Occurrence]
) -> tuple[list[_Day], tuple[Finding, ...]]:
    """Make the rows of the occurrences, and a warning for each entry that is not understood."""
    days: dict[tuple[date, str, str], _Day] = {}
    findings: dict[tuple[str, int], Finding] = {}
    for occurrence in occurrences:
        meaning = meaning_of(occurrence.summary, occurrence.categories, occurrence.said_for)
        for rule in _doubts(occurrence, meaning.kind, meaning.ignored, meaning.applies_to):
            key = (rule, occurrence.line)
            before = findings.get(key)
            findings[key] = (
                _warning(file_name, rule, occurrence)
                if before is None
                else replace(before, count=before.count + 1)
            )
        if meaning.kind is None:
            continue
        for day_on in occurrence.days():
            for applies_to in meaning.applies_to:
                day = _Day(
                    day_on=day_on,
                    day_kind=meaning.kind,
                    applies_to=applies_to,
                    label=occurrence.summary,
                    lost_minutes=occurrence.lost_minutes,
                    line=occurrence.line,
                )
                _add(days, day)
    return list(days.values()), tuple(findings.values())


def _add(days: dict[tuple[date, str, str], _Day], day: _Day) -> None:
    """Add a day; another label for what is already said is put beside the first."""
    key = (day.day_on, day.applies_to, day.day_kind)
    before = days.get(key)
    if before is None:
        days[key] = day
    elif day.label and day.label not in before.label.split("; "):
        days[key] = replace(before, label=f"{before.label}; {day.label}".strip("; "))


def _doubts(
    occurrence: Occurrence, kind: str | None, ignored: int, applies_to: tuple[str, ...]
) -> list[str]:
    """Name what is doubtful about an occurrence."""
    if kind is None:
        return ["calendar_entry_unknown"]
    doubts = []
    if ignored and applies_to == ("*",) and occurrence.said_for is None:
        doubts.append("calendar_audience_unknown")
    if occurrence.is_utc:
        doubts.append("calendar_time_in_utc")
    return doubts


_WARNINGS = {
    "calendar_entry_unknown": (
        "SUMMARY",
        "The entry says no kind of school day that is known, or several; it was left out.",
        "If it matters, give it one of these as its category: " + ", ".join(PHRASES) + ".",
    ),
    "calendar_audience_unknown": (
        "CATEGORIES",
        "The entry has a category that names neither a kind of day, a grade nor a class; it was "
        "read as for the whole school.",
        "If it is for some only, add the category grade:01 or class: and the class key.",
    ),
    "calendar_time_in_utc": (
        "DTSTART",
        "The entry is written in UTC, so its day was taken as it stands there.",
        "Enter it as an all-day entry, or in the time zone of the school.",
    ),
}


def _warning(file_name: str, rule: str, occurrence: Occurrence) -> Finding:
    """Build the warning about one entry; its words stand in the value, never in the message."""
    column, message, remedy = _WARNINGS[rule]
    return Finding(
        rule=rule,
        verdict="warn",
        file_name=file_name,
        line=occurrence.line,
        column=column,
        value=occurrence.summary if column == "SUMMARY" else None,
        message=message,
        remedy=remedy,
    )


def _about_entries(file_name: str, calendar: Calendar) -> list[Finding]:
    """Warn of entries that could not be written out as days."""
    said = (
        (
            "calendar_entry_unreadable",
            calendar.unreadable_lines,
            "{count} entries have no start or a date that is none; they were left out.",
            "Correct the date in the calendar and send the file again.",
        ),
        (
            "calendar_repeats_within_day",
            calendar.within_day_lines,
            "{count} entries repeat by the hour or faster; they were left out.",
            "Let the entry repeat by days, weeks or months.",
        ),
        (
            "calendar_outside_year",
            calendar.outside_lines,
            "{count} entries lie outside the school years that are known; they were left out.",
            "Nothing to do for other years. For this one, load its terms first.",
        ),
    )
    return [
        Finding(
            rule=rule,
            verdict="warn",
            file_name=file_name,
            line=lines[0],
            column="DTSTART",
            value=None,
            message=message.format(count=len(lines)),
            remedy=remedy,
            count=len(lines),
        )
        for rule, lines, message, remedy in said
        if lines
    ]


def _write(target: Path, school_id: str, days: Iterable[_Day]) -> None:
    """Write the rows as a text that DuckDB reads."""
    with target.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(HEADER)
        for day in days:
            said = (day.day_kind, day.applies_to, day.label, day.lost_minutes, day.line)
            writer.writerow([school_id, day.day_on.isoformat(), *said])


def _refused(table: Table, finding: Finding) -> Table:
    """Return an empty table with the reason why the file was refused."""
    _write(table.path, "", ())
    return replace(table, findings=(finding,))
