"""The course of an offer: since when it stands, what would close it, and why there is none."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping

import pandas as pd

from app.text import exact
from app.text.dates import as_date, day, weekday_day
from app.text.numbers import counted, figure, missing, percent
from app.text.offers import SURE, WHY_NOT
from app.text.places import linked, place_of_row

Row = Mapping[Hashable, object]
REVIEW = {
    "opened": "an offer was opened",
    "held_on": "the offer stayed open",
    "closing": "back at our line, not yet long enough to close",
    "closed": "the offer was closed",
    "waiting": "waiting until the team has hands free",
    "held_grade": "held: it is a matter of the grade",
    "held_school": "held: it is a matter of the school",
    "silent": "no offer",
}


def since_when(row: Row) -> str:
    """Since which review the offer is open, and at how many it was."""
    opened = as_date(row.get("opened_on"))
    if opened is None:
        return ""
    count = figure(row.get("review_count"))
    said = f"Open since the review of {day(opened)}"
    return f"{said}, at {counted(count, 'review')} so far." if count else f"{said}."


def closing(row: Row) -> str:
    """What would close it, or settle a line that is not open."""
    visits = figure(row.get("closing_session_count"))
    code = "" if missing(row.get("closing_code")) else str(row.get("closing_code"))
    share = figure(row.get("closing_value"))
    if not code or visits is None:
        return ""
    more = counted(visits, "more visit")
    if code == "more_visits":
        return f"{more.capitalize()} would be needed before anything can be said."
    if code == "quiet_visits":
        return f"It is back at our line. {more.capitalize()} without a run under it would close it."
    if share is None or share > 1:
        return "It closes when the visits since it was opened are back at our line on average."
    return f"It would close after {more} with {percent(share)} or more on average."


def against_luck(row: Row) -> str:
    """How the line stands to what luck alone would give among so many lines."""
    tested = figure(row.get("tested_count"))
    if not tested or missing(row.get("adjusted_p")):
        return ""
    among = f"among the {counted(tested, 'line')} of one review"
    if str(row.get("why_not")) == "by_chance":
        return f"It would speak by itself, but {among} it may well be luck."
    if str(row.get("state_code")) == "offer":
        return f"It is clear enough to hold {among}, where a few look low by luck alone."
    return ""


def reasons_table(rows: Iterable[Row], routines: Mapping[str, str]) -> pd.DataFrame:
    """Every routine with its number, whether an offer is open and, if none is, why."""
    found = []
    for row in rows:
        value = figure(row.get("value"))
        said = "" if value is None else linked(percent(value), place_of_row(row))
        found.append(
            {
                "Routine": routines.get(str(row["routine_id"]), str(row["routine_id"])),
                "Figure": said,
                "Visits": counted(figure(row.get("session_count")), "visit"),
                "Offer": _standing(row),
                "What would settle it": closing(row),
                **exact.share("Figure", value),
                **exact.plain("Visits, count", row.get("session_count")),
            }
        )
    return pd.DataFrame(found)


def _standing(row: Row) -> str:
    if str(row["state_code"]) == "offer":
        return "open"
    why = "" if missing(row.get("why_not")) else str(row.get("why_not"))
    return f"none: {WHY_NOT.get(why, why.replace('_', ' '))}" if why else "none"


def reviews_table(rows: pd.DataFrame) -> pd.DataFrame:
    """One class and routine at every review of the year."""
    found = []
    for row in rows.to_dict("records"):
        why = "" if missing(row["why_not"]) else str(row["why_not"])
        value = figure(row["value"])
        found.append(
            {
                "Review": weekday_day(row["review_on"]),
                "What it found": REVIEW.get(str(row["review_state"]), ""),
                "Why there was none": WHY_NOT.get(why, why.replace("_", " ")),
                "Figure then": "" if value is None else percent(value),
                "Visits then": counted(figure(row["session_count"]), "visit"),
                "How sure": SURE.get(str(row["sureness"]), "").rstrip("."),
                **exact.on("Review", row["review_on"]),
                **exact.share("Figure then", value),
                **exact.plain("Visits then, count", row["session_count"]),
            }
        )
    return pd.DataFrame(found)


def seen_first(row: Row) -> str:
    """From which day the team sees what the teacher sees already."""
    when = as_date(row.get("team_sees_from_on"))
    return "" if when is None else f"The support team sees it from {day(when)} on."
