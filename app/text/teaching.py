"""Teaching over the year in words and tables."""

from __future__ import annotations

import pandas as pd

from app.text.dates import short_day
from app.text.numbers import counted, number
from app.text.plain_numbers import counted_link
from app.text.words import LESSON_KIND


def summary(weeks: pd.DataFrame) -> str:
    """How much was given, in one sentence."""
    if weeks.empty:
        return "Nothing has been planned or taught yet."
    given = float(weeks["lesson_count"].sum())
    routines = weeks["routine_id"].nunique()
    lessons = counted_link(
        counted(given, "lesson"), "lessons_by_week", school=weeks["school_id"].iloc[0]
    )
    said = f"**{lessons}** of {counted(routines, 'routine')} were given so far"
    return f"{said} this school year."


def kinds_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Lessons by routine (rows) and kind (columns), in the order the kinds are taught."""
    found = []
    for name, part in rows.groupby("routine_name", sort=False):
        given = part.groupby("lesson_kind")["lesson_count"].sum()
        line = {"Routine": str(name)}
        for code, word in LESSON_KIND.items():
            count = given.get(code, 0)
            line[word[:1].upper() + word[1:]] = number(count) if count else "0"
        found.append(line)
    return pd.DataFrame(found)


def break_words(breaks: pd.DataFrame) -> list[str]:
    """Each break with its days."""
    return [
        f"{row['label'] or 'Break'}: {short_day(row['first_on'])} to {short_day(row['last_on'])}"
        for row in breaks.to_dict("records")
    ]
