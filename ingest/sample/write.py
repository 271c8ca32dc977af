"""Write feeds as files whose bytes depend on the rows alone: CSV, workbook and zip of months."""

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from types import MappingProxyType

from openpyxl import Workbook

Record = tuple[object, ...]

_STAMP = (1980, 1, 1, 0, 0, 0)
_TEXT = {
    "schools": "school_id name parent_id",
    "classes": "class_id school_id title grades session_pattern school_year",
    "people": "person_id role given_name family_name",
    "memberships": "class_id person_id role begin_on end_on is_primary share is_draw_eligible",
    "terms": "term_id school_id kind title parent_term_id first_on last_on",
    "school_days": "school_id day_on day_kind applies_to label lost_minutes",
    "routines": (
        "routine_id version name expectation setting tier kind expected_voice_level "
        "target_seconds grades valid_from_on valid_to_on accepted_alternatives"
    ),
    "routine_steps": "routine_id version step_number text is_critical",
    "teaching_plan": (
        "plan_id plan_version school_id class_id grade routine_id lesson_kind window_first_on "
        "window_last_on planned_lessons planned_minutes_each"
    ),
    "routine_lessons": (
        "lesson_id class_id routine_id setting taught_on started_at_local minutes lesson_kind "
        "mode practised_in taught_by is_substitute pupils_present steps_done status "
        "cancel_reason entered_at entered_by note"
    ),
    "participation_draws": (
        "draw_id class_id drawn_on drawn_at_local sequence_number cycle_number method pupil_id "
        "outcome wait_seconds eligible_count context entered_at"
    ),
    "observation_sessions": (
        "observation_id class_id observer_id pair_id observed_on started_at_local "
        "minutes_observed minutes_instruction setting activity routine_id expected_voice_level "
        "interval_seconds pupils_present taught_by_role purpose routine_version feedback_at"
    ),
    "observation_rows": (
        "observation_id row_number row_type code value step_number target_slot at_seconds"
    ),
    "coaching_events": (
        "event_id cycle_id class_id coach_id routine_id event_on event_kind phase minutes "
        "goal_measure goal_value start_options chosen_start_on observation_id outcome"
    ),
    "support_plans": (
        "support_id pupil_id tier support_kind begin_on end_on sessions_per_week minutes_each "
        "next_review_on"
    ),
    "support_checks": (
        "check_id support_id checked_on checked_by method sessions_planned sessions_delivered "
        "steps_done steps_applicable minutes_delivered not_delivered_reason"
    ),
    "family_practice": "class_id routine_id week_first_on families_asked families_reported",
}
# the public columns of every feed, in order
COLUMNS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {feed: tuple(names.split()) for feed, names in _TEXT.items()}
)


def csv_bytes(header: Sequence[str], rows: Iterable[Record]) -> bytes:
    """RFC 4180 text in UTF-8: dates as ISO 8601, true and false, nothing for None."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8")


def write_csv(path: Path, feed: str, rows: Iterable[Record]) -> Path:
    """One feed as one CSV file."""
    path.write_bytes(csv_bytes(COLUMNS[feed], rows))
    return path


def write_months(path: Path, feed: str, rows: Sequence[Record], date_column: str) -> Path:
    """One feed as a zip of one CSV file a month."""
    place = COLUMNS[feed].index(date_column)
    months: dict[str, list[Record]] = {}
    for row in rows:
        months.setdefault(str(row[place])[:7], []).append(row)
    members = {
        f"{feed}_{month}.csv": csv_bytes(COLUMNS[feed], months[month]) for month in sorted(months)
    }
    path.write_bytes(_zip_bytes(members))
    return path


def write_workbook(path: Path, feed: str, rows: Iterable[Record]) -> Path:
    """One feed as a workbook of one sheet, dates as real dates."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet(feed)
    sheet.append(COLUMNS[feed])
    for row in rows:
        sheet.append(row)
    raw = io.BytesIO()
    book.save(raw)
    path.write_bytes(_without_clock(raw.getvalue()))
    return path


def write_calendar(path: Path, events: Iterable[tuple[date, date, str, str]]) -> Path:
    """An RFC 5545 calendar of all-day events (first day, day after the last, summary, category)."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Roundelay//Invented school//EN"]
    for number, (first_on, end_on, summary, category) in enumerate(events, start=1):
        lines += [
            "BEGIN:VEVENT",
            f"UID:quillbrook-{number}@example.invalid",
            "DTSTAMP:20250801T000000Z",
            f"DTSTART;VALUE=DATE:{first_on:%Y%m%d}",
            f"DTEND;VALUE=DATE:{end_on:%Y%m%d}",
            f"SUMMARY:{summary}",
            f"CATEGORIES:{category}",
            "END:VEVENT",
        ]
    path.write_bytes(("\r\n".join([*lines, "END:VCALENDAR"]) + "\r\n").encode("utf-8"))
    return path


def _cell(value: object) -> object:
    if value is True or value is False:
        return "true" if value else "false"
    return value


def _zip_bytes(members: Mapping[str, bytes]) -> bytes:
    """A zip whose bytes do not depend on the clock or on the operating system."""
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            archive.writestr(entry, content)
    return raw.getvalue()


def _without_clock(workbook: bytes) -> bytes:
    """The same workbook with the moment of saving taken out."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    core = "docProps/core.xml"
    fixed = rb"\g<1>2025-08-01T00:00:00Z\g<2>"
    stamp = rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(</dcterms)"
    members[core] = re.sub(stamp, fixed, members[core])
    return _zip_bytes(members)
