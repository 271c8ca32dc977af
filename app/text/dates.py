"""Dates and moments as people write them."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pandas as pd

from app.text.numbers import missing

_STALE_AFTER = timedelta(days=3)


def as_date(value: object) -> date | None:
    """A date from whatever a table gives (date, moment, gap)."""
    if missing(value):
        return None
    if isinstance(value, datetime):
        return value.date()
    return value if isinstance(value, date) else pd.Timestamp(str(value)).date()


def day(value: object) -> str:
    """`Friday 15 May`."""
    when = as_date(value)
    return "no date yet" if when is None else f"{when:%A} {when.day} {when:%B}"


def short_day(value: object) -> str:
    """`15 May`."""
    when = as_date(value)
    return "" if when is None else f"{when.day} {when:%b}"


def weekday_day(value: object) -> str:
    """`Fri 15 May`."""
    when = as_date(value)
    return "" if when is None else f"{when:%a} {when.day} {when:%b}"


def moment(value: object) -> str:
    """`15 May 2026, 07:10`."""
    if missing(value):
        return "never"
    when = value if isinstance(value, datetime) else pd.Timestamp(str(value))
    return f"{when.day} {when:%B} {when.year}, {when:%H:%M}"


def days_ago(value: object, today: date) -> str:
    """`today`, `yesterday`, `9 days ago`."""
    when = as_date(value)
    if when is None:
        return ""
    gap = (today - when).days
    return {0: "today", 1: "yesterday"}.get(gap, f"{gap} days ago" if gap > 0 else day(when))


def age_note(built_at: datetime, now: datetime) -> str:
    """What to say about an old build: empty while it is fresh."""
    age = now - built_at
    return f"Last built {age.days} days ago." if age >= _STALE_AFTER else ""
