"""What the support team decided about a teacher's own class, in words for her."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from datetime import timedelta

import pandas as pd

from app.text import decisions
from app.text.dates import as_date, weekday_day
from app.text.numbers import missing

Row = Mapping[Hashable, object]
DECIDED = {
    "offer": "the support team offered you a hand",
    "wait": "the support team said: wait, and look again",
    "close": "the support team closed it: it holds, or the help is done",
    "decline": "it was written down that you would rather not",
}
IN_SHORT = {
    "offer": "A hand was offered",
    "wait": "Wait, and look again",
    "close": "Closed",
    "decline": "You would rather not",
}
TITLE = "What the support team decided"
NOTE = (
    "The team reads the same as you here, and its own short note beside it. Does something not "
    "fit? Say so: you may decline any offer, also one that was made."
)
BACK = "It has come back: the team said wait, and its day to look again has come."


def when_decided(row: Row, rest_days: int) -> str:
    """What was decided on which day, and what happens next."""
    code, standing = str(row["decision_code"]), str(row["standing_code"])
    said = f"On {weekday_day(row['decided_on'])} {DECIDED[code]}."
    if standing == "resting":
        until = as_date(row["decided_on"])
        last = "" if until is None else weekday_day(until + timedelta(days=rest_days))
        return f"{said} It rests until {last}, unless what is seen changes."
    if missing(row.get("follow_up_on")):
        return said
    word = (
        "The team’s day to come back to it was" if standing == "due" else "It comes back to it on"
    )
    return f"{said} {word} {weekday_day(row['follow_up_on'])}."


def still_open(rows: Iterable[Row]) -> list[Row]:
    """Those that have not run their course, and have no later one about the same."""
    return [row for row in rows if str(row["standing_code"]) != "past"]


def table(rows: Iterable[Row], routines: Mapping[str, str]) -> pd.DataFrame:
    """Every decision of the year, with what stood before and what has been seen since."""
    return decisions.actions_table(rows, routines, IN_SHORT)
