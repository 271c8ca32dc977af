"""The teaching calendar: what was planned and given, week by week."""

from __future__ import annotations

import pandas as pd

from app.access import Visit
from app.charts.stave_looks import spans
from app.charts.teaching import teaching, teaching_words
from app.look import evidence
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text.dates import as_date
from app.text.tables import plain_table

_COLUMNS = {
    "routine_name": "Routine",
    "week_first_on": "Week of",
    "lesson_count": "Given",
    "due_count": "Planned",
}


def drawn(visit: Visit, school: Row, rows: pd.DataFrame, key: str) -> None:
    """The chart of some rows of the calendar, its words, its legend and its table."""
    terms = ask.terms(visit.scope, school["school_id"])
    ends = [day for day in map(as_date, terms["last_on"]) if day is not None]
    pauses = spans(ask.breaks(visit.scope, school["school_id"]))
    evidence.picture(teaching(rows, pauses, ends), teaching_words(rows))
    evidence.legend("given", "planned", "break")
    evidence.as_table(plain_table(rows, _COLUMNS), "Lessons given and planned", key)
