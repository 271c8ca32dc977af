"""The surroundings of a stave, made from the published tables of breaks, terms and changes."""

from __future__ import annotations

from datetime import date, timedelta

import pandas as pd

from app.charts.stave import Stave
from app.text.dates import as_date


def look_of_term(
    criterion: float,
    breaks: list[tuple[date, date]],
    last_on: object,
    changes: list[tuple[date, str]] | None = None,
    *,
    has_dates: bool = False,
    height: int = 58,
) -> Stave:
    """One term: its breaks, our line, the double bar at its end."""
    end = as_date(last_on)
    return Stave(
        line=criterion,
        breaks=breaks,
        term_ends=[end] if end else [],
        changes=changes or [],
        has_dates=has_dates,
        height=height,
    )


def look_of_year(
    criterion: float,
    breaks: list[tuple[date, date]],
    terms: pd.DataFrame,
    changes: list[tuple[date, str]],
    *,
    is_first: bool,
    is_last: bool,
    height: int = 58,
) -> Stave:
    """The terms of a year beside each other; their names stand over the first row only."""
    rows = terms.to_dict("records")
    starts = [(as_date(row["first_on"]), str(row["title"])) for row in rows]
    ends = [as_date(row["last_on"]) for row in rows]
    return Stave(
        line=criterion,
        breaks=breaks,
        term_ends=[day for day in ends if day is not None],
        changes=changes,
        headings=[(day, title) for day, title in starts if day is not None] if is_first else [],
        has_dates=is_last,
        height=height,
    )


def spans(breaks: pd.DataFrame) -> list[tuple[date, date]]:
    """First and last day of each break, whole weeks, so that a band is as wide as its weeks."""
    days = [(as_date(r["first_on"]), as_date(r["last_on"])) for r in breaks.to_dict("records")]
    return [
        (first - timedelta(days=first.weekday()), last)
        for first, last in days
        if first is not None and last is not None
    ]


def within(changes: list[tuple[date, str]], first: object, last: object) -> list[tuple[date, str]]:
    """The changes of one term."""
    begin, end = as_date(first) or date.min, as_date(last) or date.max
    return [(day, label) for day, label in changes if begin <= day <= end]


def class_changes(
    marks: pd.DataFrame, routine_id: str, *, has_shared: bool
) -> list[tuple[date, str]]:
    """What changed for a class in one routine; `has_shared` adds what changed for all of them."""
    shared = changes_of(marks, "*", "marked_on", "label") if has_shared else []
    return changes_of(marks, routine_id, "marked_on", "label") + shared


def changes_of(
    frame: pd.DataFrame, routine_id: str, day: str, label: str
) -> list[tuple[date, str]]:
    """Days of one routine (`*`: of all) and what changed; a day with two is named once."""
    found: dict[date, str] = {}
    for row in frame[frame["routine_id"] == routine_id].to_dict("records"):
        when = as_date(row[day])
        if when is not None:
            found.setdefault(when, str(row[label]))
    return list(found.items())
