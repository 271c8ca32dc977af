"""The entries of an iCalendar file written out as days.

Source: RFC 5545 (iCalendar), by section: 3.1 folded lines, 3.3.10 and 3.8.5 recurrence, 3.6.1 the
event and its exclusive end, 3.8.1.11 status, 3.8.2.2 DTEND. Parsing and recurrence are done by the
libraries `icalendar` and `recurring_ical_events`.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import recurring_ical_events

# What a property of an entry is depends on its text, so entries are typed loosely.
Entry = Any

# Carries the line of an entry through the library that writes recurrences out.
LINE = "X-ROUNDELAY-LINE"
AUDIENCE = "X-ROUNDELAY-APPLIES-TO"
LOST = "X-ROUNDELAY-LOST-MINUTES"
# A school day is a day: an entry that repeats within a day is a mistake, and could be endless.
_WITHIN_A_DAY = frozenset({"SECONDLY", "MINUTELY", "HOURLY"})


class NotACalendar(ValueError):  # noqa: N818 - said to a clerk by the reader, not an error of ours
    """The text is no iCalendar text."""


@dataclass(frozen=True)
class Occurrence:
    """One entry on its days: half-open, by the clock of the place where it happens."""

    line: int
    summary: str
    categories: tuple[str, ...]
    said_for: str | None
    lost_minutes: str
    first_on: date
    after_on: date
    is_utc: bool

    def days(self) -> Iterator[date]:
        """Yield each day of the entry."""
        day = self.first_on
        while day < self.after_on:
            yield day
            day += timedelta(days=1)


@dataclass(frozen=True)
class Calendar:
    """A parsed file: its occurrences within the window, and the lines of entries without any."""

    occurrences: tuple[Occurrence, ...]
    entry_count: int
    unreadable_lines: tuple[int, ...]
    within_day_lines: tuple[int, ...]
    outside_lines: tuple[int, ...]


def parse(text: str, first_on: date, last_on: date, time_zone: str = "") -> Calendar:
    """Parse a file and write its entries out between two days, both included.

    Cancelled entries are left out. `time_zone` is where the school is: moments in UTC are taken to
    its clock. Raises NotACalendar.
    """
    try:
        calendars = icalendar.Calendar.from_ical(text, multiple=True)
    except (ValueError, IndexError, KeyError) as fault:
        raise NotACalendar(str(fault)) from fault
    if not calendars:
        raise NotACalendar("no calendar begins in it")
    starts = iter(_entry_lines(text))
    zone = ZoneInfo(time_zone) if time_zone else None
    parts = [_expand(one, starts, first_on, last_on, zone) for one in calendars]
    return Calendar(
        occurrences=tuple(one for part in parts for one in part.occurrences),
        entry_count=sum(part.entry_count for part in parts),
        unreadable_lines=tuple(line for part in parts for line in part.unreadable_lines),
        within_day_lines=tuple(line for part in parts for line in part.within_day_lines),
        outside_lines=tuple(line for part in parts for line in part.outside_lines),
    )


def _entry_lines(text: str) -> list[int]:
    """Return the line on which each VEVENT begins, in the order of the file."""
    begin = re.compile(r"BEGIN:VEVENT\s*", re.IGNORECASE)
    lines = re.split(r"\r\n|\r|\n", text)
    return [number for number, line in enumerate(lines, start=1) if begin.fullmatch(line)]


def _expand(
    calendar: icalendar.Calendar,
    starts: Iterator[int],
    first_on: date,
    last_on: date,
    zone: tzinfo | None,
) -> Calendar:
    """Write out the entries of one calendar."""
    unreadable: list[int] = []
    within_day: list[int] = []
    single: list[int] = []
    good = icalendar.Calendar()
    events: list[Entry] = list(calendar.walk("VEVENT"))
    for event, line in zip(events, starts, strict=False):
        event[LINE] = str(line)
        if event.errors or _start(event) is None or not _can_be_written_out(event, first_on):
            unreadable.append(line)
        elif _repeats_within_a_day(event):
            within_day.append(line)
        else:
            good.add_component(event)
            if "RRULE" not in event and "RDATE" not in event and "RECURRENCE-ID" not in event:
                single.append(line)
    if "X-WR-TIMEZONE" in calendar:
        good["X-WR-TIMEZONE"] = calendar["X-WR-TIMEZONE"]
    for component in calendar.walk("VTIMEZONE"):
        good.add_component(component)
    found = recurring_ical_events.of(good).between(first_on, last_on + timedelta(days=1))
    occurrences = [_occurrence(event, zone) for event in found if not _is_cancelled(event)]
    within = {int(event[LINE]) for event in found}
    return Calendar(
        occurrences=tuple(sorted(occurrences, key=lambda one: (one.first_on, one.line))),
        entry_count=len(events),
        unreadable_lines=tuple(unreadable),
        within_day_lines=tuple(within_day),
        outside_lines=tuple(line for line in single if line not in within),
    )


def _start(event: Entry) -> date | None:
    """Return the written start of an entry; None when it has none or one that is no date."""
    start = getattr(event.get("DTSTART"), "dt", None)
    return start if isinstance(start, date) else None


def _can_be_written_out(event: Entry, first_on: date) -> bool:
    """Tell whether the library can place an entry: an end before its start, say, it cannot."""
    alone = icalendar.Calendar()
    alone.add_component(event)
    try:
        # The library would quietly turn an end before the start around.
        if event.end < event.start or type(event.end) is not type(event.start):
            return False
        if not _repeats_within_a_day(event):
            recurring_ical_events.of(alone).between(first_on, first_on + timedelta(days=1))
    except (ValueError, TypeError, AttributeError, OverflowError):
        return False
    return True


def _repeats_within_a_day(event: Entry) -> bool:
    """Tell whether a recurrence rule counts in less than days."""
    rules = event.get("RRULE", [])
    listed = rules if isinstance(rules, list) else [rules]
    return any(set(map(str, rule.get("FREQ", []))) & _WITHIN_A_DAY for rule in listed)


def _is_cancelled(event: Entry) -> bool:
    """Tell whether an entry, or this day of a series, does not take place (RFC 5545, 3.8.1.11)."""
    return str(event.get("STATUS", "")).upper() == "CANCELLED"


def _local(moment: date, zone: tzinfo | None) -> date:
    """Return the day of a date or of a moment by the clock it is written in, or the school's."""
    if isinstance(moment, datetime):
        if zone is not None and moment.tzinfo is not None and _is_utc(moment):
            moment = moment.astimezone(zone)
        return moment.date()
    return moment


def _is_utc(moment: date) -> bool:
    """Tell whether a moment is written in UTC, which is no school's clock."""
    return isinstance(moment, datetime) and str(moment.tzinfo) in ("UTC", "UTC+00:00", "Etc/UTC")


def _occurrence(event: Entry, zone: tzinfo | None) -> Occurrence:
    """Read one written-out entry; a moment at midnight ends the day before it."""
    start, end = event["DTSTART"].dt, event.end
    first_on = _local(start, zone)
    after_on = _local(end, zone)
    if isinstance(end, datetime):
        ends_at = end.astimezone(zone).time() if zone and _is_utc(end) else end.time()
        after_on += timedelta(days=0 if ends_at == time(0) and after_on > first_on else 1)
    return Occurrence(
        line=int(event[LINE]),
        summary=str(event.get("SUMMARY", "")).strip(),
        categories=tuple(_categories(event)),
        said_for=str(event[AUDIENCE]) if AUDIENCE in event else None,
        lost_minutes=str(event.get(LOST, "")),
        first_on=first_on,
        after_on=max(after_on, first_on + timedelta(days=1)),
        is_utc=zone is None and _is_utc(start),
    )


def _categories(event: Entry) -> Iterator[str]:
    """Yield the categories of an entry, which may stand in one property or in several."""
    listed = event.get("CATEGORIES", [])
    for one in listed if isinstance(listed, list) else [listed]:
        yield from (str(category) for category in getattr(one, "cats", [one]))
