"""Weeks of a measure table as the rows of a stave: places on the axis, whole percents, words."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from app.charts.frame import Row
from app.text.dates import as_date, short_day
from app.text.numbers import counted, known, percent, percent_range, whole_percent
from app.text.readings import Reading, reading
from app.text.words import SUFFICIENCY, WITHHELD

_WEEK = 7


@dataclass(frozen=True)
class Axis:
    """Days counted from the first Monday; a week's note stands on its Wednesday."""

    first_on: date
    last_on: date

    @property
    def domain(self) -> list[float]:
        """From a little before the first week to a little after the last day."""
        return [-1.5, self.place(self.last_on) + 2.5]

    def place(self, when: date) -> float:
        """Where a day stands."""
        return (when - self.first_on).days


Weeks = Sequence[Mapping[Hashable, Any]]


def axis_of(days: Iterable[object], last_on: date | None) -> Axis:
    """The axis that holds the weeks of these first days, up to `last_on` if that is later."""
    mondays = [day for day in map(as_date, days) if day is not None]
    if not mondays:
        first = last_on or date(2000, 1, 3)
        return Axis(first - timedelta(days=_WEEK), first)
    last = max(mondays) + timedelta(days=4)
    return Axis(min(mondays), max(last, last_on) if last_on else last)


def notes_of(axis: Axis, weeks: Weeks) -> list[Row]:
    """A row for each week with a value."""
    found = []
    for week in weeks:
        got, monday = reading(week), as_date(week["week_first_on"])
        if monday is None or got.value is None or not got.is_known:
            continue
        low = got.low if known(got.low) else got.value
        high = got.high if known(got.high) else got.value
        found.append(
            {
                "at": axis.place(monday) + 2,
                "value": whole_percent(got.value),
                "low": whole_percent(low or 0),
                "high": whole_percent(high or 0),
                "is_enough": got.is_enough,
                "when": short_day(monday),
                "words": _words(monday, got),
            }
        )
    return found


def rests_of(axis: Axis, weeks: Weeks) -> list[Row]:
    """A row for each week without a value: nobody looked, or it is withheld."""
    found = []
    for week in weeks:
        got, monday = reading(week), as_date(week["week_first_on"])
        if monday is None or got.is_known:
            continue
        place = axis.place(monday) + 2
        why = _hidden(got) if got.is_withheld else SUFFICIENCY["none"]
        words = f"Week of {short_day(monday)}: {why}"
        row = {"from": place - 1.1, "to": place + 1.1, "y": 50, "words": words}
        found.append({**row, "is_withheld": got.is_withheld})
    return found


def _hidden(got: Reading) -> str:
    why = {"few_classes": WITHHELD["few_classes"], "complementary": WITHHELD["complementary"]}
    return f"withheld, {why.get(got.withheld_reason, 'a small group')}"


def _words(monday: date, got: Reading) -> str:
    ends = percent_range(got.low, got.high)
    spread = f" ({ends})" if ends else ""
    visits = counted(got.session_count, "visit")
    thin = "" if got.is_enough else f", {SUFFICIENCY['thin']}"
    return f"Week of {short_day(monday)}: {percent(got.value)}{spread}, {visits}{thin}"
