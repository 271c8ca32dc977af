"""Classes and visits in tables of words."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text import exact
from app.text.dates import weekday_day
from app.text.numbers import counted, figure, missing, number, percent
from app.text.plain_numbers import counted_link
from app.text.words import PATTERN, PURPOSE, TAUGHT_BY, TIME_OF_DAY, grade_list, spoken

Row = Mapping[Hashable, object]
_SEEN = (
    ("As agreed", "responsiveness_rate", "responsiveness_count"),
    ("Steps done", "adherence_rate", "adherence_count"),
    ("Voice level", "voice_match_rate", "voice_count"),
)


def class_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Each class with its size and its visits."""
    return pd.DataFrame(
        [
            {
                "Class": row["title"],
                "Grade": grade_list(row["grade_codes"]),
                "Day": spoken(row["session_pattern"], PATTERN),
                "Children": _count(row["pupil_count"]),
                "Visits": counted_link(
                    number(figure(row["visit_count"])), "visits_made", room=row["class_id"]
                ),
                "Last visit": weekday_day(row["last_visit_on"]),
                "Routines seen": number(figure(row["seen_routine_count"])),
                "In short": _in_short(row),
                **exact.on("Last visit", row["last_visit_on"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def class_note(row: Row) -> str:
    """Size and visits of one class in a line."""
    parts = [
        grade_list(row["grade_codes"]),
        f"{_count(row['pupil_count'])} children",
        counted_link(
            counted(figure(row["visit_count"]), "visit"), "visits_made", room=row["class_id"]
        )
        + " this term",
    ]
    if not missing(row["last_visit_on"]):
        parts.append(f"last seen {weekday_day(row['last_visit_on'])}")
    return " · ".join(part for part in parts if part)


def visit_table(rows: pd.DataFrame, routines: Mapping[str, str], *, by_class: bool) -> pd.DataFrame:
    """Visits, the latest first: what was watched and what was seen."""
    found = []
    for row in rows.to_dict("records"):
        line: dict[str, object] = {"Day": weekday_day(row["observed_on"])}
        if by_class:
            line["Class"] = str(row["class_title"])
        routine = "" if missing(row["routine_id"]) else str(row["routine_id"])
        line["Routine"] = routines.get(routine, "several")
        line["When"] = spoken(row["time_of_day_code"], TIME_OF_DAY)
        line["Taught by"] = spoken(row["taught_by_role"], TAUGHT_BY)
        line["Minutes"] = number(figure(row["minutes_observed"]))
        line |= {name: _share(row, rate, count) for name, rate, count in _SEEN}
        line |= exact.on("Day", row["observed_on"])
        for name, rate, count in _SEEN:
            line |= exact.share(name, row[rate] if figure(row[count]) else None)
        line["Kind"] = spoken(row["purpose"], PURPOSE) if row["is_scored"] else "not counted"
        found.append(line)
    return pd.DataFrame(found)


def visits_sentence(rows: pd.DataFrame) -> str:
    """How many visits, in how many classes, at which times of the day."""
    if rows.empty:
        return "Nobody has visited yet in this term."
    times = {code: _visits(part) for code, part in rows.groupby("time_of_day_code")}
    spread = ", ".join(
        f"{number(times[code])} {'around midday' if code == 'midday' else f'in the {code}'}"
        for code in TIME_OF_DAY
        if code in times
    )
    said = f"**{_counted_visits(rows)}**"
    if "class_id" in rows.columns and rows["class_id"].nunique() > 1:
        said += f" to {counted(rows['class_id'].nunique(), 'class', 'classes')}"
    return f"{said} this term: {spread}."


def _counted_visits(rows: pd.DataFrame) -> str:
    first = rows.to_dict("records")[0]
    one_class = rows["class_id"].nunique() == 1
    where = {"room": first["class_id"]} if one_class else {"school": first["school_id"]}
    return counted_link(
        counted(_visits(rows), "visit"), "visits_made", term=first["term_id"], **where
    )


def _visits(rows: pd.DataFrame) -> int:
    """Two observers of one visit are one visit."""
    if "pair_id" not in rows.columns:
        return len(rows)
    return int(rows["pair_id"].fillna(rows["observation_id"]).nunique())


def _share(row: Row, rate: str, count: str) -> str:
    value, of = figure(row[rate]), figure(row[count])
    return "" if value is None or not of else f"{percent(value)} of {number(of)}"


def _count(value: object) -> str:
    found = figure(value)
    return "not shown" if found is None else number(found)


def _in_short(row: Row) -> str:
    if row["is_thin"]:
        return "more looks would help"
    return counted(figure(row["open_offer_count"]), "open offer")
