"""The invented school's calendar: terms, breaks, closures, and when each room was in session."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from ingest.sample.options import FIRST_ON, LAST_ON, SCHOOL_ID, TIME_ZONE
from ingest.sample.rooms import Room

TERMS = (
    ("t-autumn", "Autumn term", date(2025, 9, 1), date(2025, 12, 19)),
    ("t-winter", "Winter term", date(2026, 1, 5), date(2026, 3, 27)),
    ("t-spring", "Spring term", date(2026, 4, 13), date(2026, 6, 19)),
)
BREAKS = (
    ("Autumn break", date(2025, 10, 20), date(2025, 10, 24)),
    ("Winter break", date(2025, 12, 22), date(2026, 1, 2)),
    ("Midwinter break", date(2026, 2, 16), date(2026, 2, 20)),
    ("Spring break", date(2026, 3, 30), date(2026, 4, 10)),
)
_EARLY_RELEASE = "Early release"
# day -> (day kind, label, minutes lost) for the whole school
_WHOLE_SCHOOL: dict[date, tuple[str, str, int | None]] = {
    date(2025, 11, 3): ("staff_only", "Staff learning day", None),
    date(2026, 3, 13): ("staff_only", "Staff learning day", None),
    date(2025, 11, 27): ("closed_planned", "Long weekend", None),
    date(2025, 11, 28): ("closed_planned", "Long weekend", None),
    date(2026, 5, 1): ("closed_planned", "Community day", None),
    date(2025, 12, 19): ("half_am", "Morning only before the break", 180),
    date(2026, 1, 21): ("closed_emergency", "Burst water main", None),
    date(2026, 2, 4): ("remote", "Storm: lessons on the call", None),
    date(2025, 9, 24): ("early_release", _EARLY_RELEASE, 90),
    date(2025, 10, 15): ("early_release", _EARLY_RELEASE, 90),
    date(2025, 11, 19): ("early_release", _EARLY_RELEASE, 90),
    date(2026, 1, 14): ("early_release", _EARLY_RELEASE, 90),
    date(2026, 2, 11): ("early_release", _EARLY_RELEASE, 90),
    date(2026, 3, 18): ("early_release", _EARLY_RELEASE, 90),
    date(2026, 4, 22): ("early_release", _EARLY_RELEASE, 90),
    date(2026, 6, 10): ("early_release", _EARLY_RELEASE, 90),
}
_CLOSED = ("closed_planned", "closed_emergency", "staff_only")


@dataclass(frozen=True)
class DayRow:
    """One line of the school_days feed; `applies_to` is `*`, a grade code or a class."""

    day_on: date
    day_kind: str
    applies_to: str
    label: str
    lost_minutes: int | None


@dataclass(frozen=True)
class Calendar:
    """Weekdays up to the as-of date and, by room and day, whether the room was in session."""

    days: tuple[date, ...]
    in_session: npt.NDArray[np.bool_]
    kinds: tuple[str, ...]

    def index_of(self, day: date) -> int:
        """The place of the first weekday on or after `day` (len(days) when there is none)."""
        return bisect_left(self.days, day)

    def open_days(self, room: int, first_on: date, last_on: date) -> list[int]:
        """Places of the days on which this room was in session, first and last day included."""
        first, stop = self.index_of(first_on), self.index_of(last_on + timedelta(days=1))
        return [day for day in range(first, stop) if self.in_session[room, day]]


def day_rows(room_ids: Sequence[str]) -> list[DayRow]:
    """Every line of the year's calendar: one for the whole school a day, then the exceptions."""
    rows = [_school_row(day) for day in weekdays(LAST_ON)]
    for day in weekdays(date(2025, 9, 5)):
        rows.append(DayRow(day, "staff_only", "KG", "Home visits before kindergarten starts", None))
    rows.append(DayRow(date(2026, 3, 6), "closed_planned", "05", "Fifth grade is away", None))
    if "qb-rm16" in room_ids:
        day = date(2025, 11, 11)
        rows.append(DayRow(day, "closed_emergency", "qb-rm16", "No heating in one room", None))
    return rows


def make_calendar(rooms: Sequence[Room], as_of_on: date) -> Calendar:
    """Resolve the calendar by room: its own line first, then its grade's, then the school's."""
    days = tuple(weekdays(as_of_on))
    lines = {
        (row.day_on, row.applies_to): row.day_kind for row in day_rows([r.room_id for r in rooms])
    }
    in_session = np.array([[_is_open(lines, day, room) for day in days] for room in rooms])
    return Calendar(days, in_session, tuple(lines[day, "*"] for day in days))


def weekdays(last_on: date) -> Iterator[date]:
    """Mondays to Fridays from the first day of the school year to `last_on`."""
    for offset in range((last_on - FIRST_ON).days + 1):
        day = FIRST_ON + timedelta(days=offset)
        if day.weekday() < 5:
            yield day


def break_returns() -> list[date]:
    """The first day back after each break of five weekdays or more."""
    return [
        last_on + timedelta(days=3) if last_on.weekday() == 4 else last_on + timedelta(days=1)
        for _, _, last_on in BREAKS
    ]


def term_of(day: date) -> str:
    """The term a school day belongs to."""
    return next(term_id for term_id, _, first_on, last_on in TERMS if first_on <= day <= last_on)


@cache
def offset_text(day: date) -> str:
    """The school's offset from UTC at midday, as ISO 8601 writes it."""
    moment = datetime(day.year, day.month, day.day, 12, tzinfo=ZoneInfo(TIME_ZONE))
    return moment.isoformat()[-6:]


def term_records() -> list[tuple[object, ...]]:
    """The terms feed: one root for the year and the three terms below it."""
    root = ("y-2026", SCHOOL_ID, "school_year", "School year 2025-26", None, FIRST_ON, LAST_ON)
    return [root, *((t, SCHOOL_ID, "term", title, "y-2026", a, b) for t, title, a, b in TERMS)]


def _school_row(day: date) -> DayRow:
    for label, first_on, last_on in BREAKS:
        if first_on <= day <= last_on:
            return DayRow(day, "closed_planned", "*", label, None)
    kind, label, lost = _WHOLE_SCHOOL.get(day, ("instruction", "", None))
    return DayRow(day, kind, "*", label, lost)


def _is_open(lines: dict[tuple[date, str], str], day: date, room: Room) -> bool:
    grade = room.grades[0] if len(room.grades) == 1 else ""
    own = lines.get((day, room.room_id)) or lines.get((day, grade)) or lines[day, "*"]
    return own not in _CLOSED and not (own == "half_am" and room.session_pattern == "pm")


def calendar_events() -> list[tuple[date, date, str, str]]:
    """Closures and unusual days of the whole school: first day, day after, summary, day kind."""
    breaks = [(a, b + timedelta(days=1), label, "closed_planned") for label, a, b in BREAKS]
    days = [
        (day, day + timedelta(days=1), label, kind)
        for day, (kind, label, _) in _WHOLE_SCHOOL.items()
    ]
    return sorted(breaks + days)
