"""A matter of classes or of the school: how much classes differ beyond chance."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text import exact
from app.text.numbers import counted, figure, missing, number, whole_percent
from app.text.plain_numbers import counted_link
from app.text.words import WITHHELD

Row = Mapping[Hashable, object]
SPREAD = {
    "beyond_chance": "classes differ: it can be a matter of single classes",
    "within_chance": "no sign that classes differ: what stands is the school’s matter",
}
NOTE = (
    "Points are the usual distance from the middle. Visits to one and the same class differ too; "
    "only what goes beyond that is laid to the classes. No class is named or counted out."
)


def sentence(rows: pd.DataFrame, routines: Mapping[str, str]) -> str:
    """In which routines classes differ beyond what chance between visits gives."""
    if rows.empty:
        return "Too few classes have been visited to say whether they differ."
    differ = _names(rows, "beyond_chance", routines)
    alike = _names(rows, "within_chance", routines)
    if not differ and not alike:
        return "Too few classes have been visited to say whether they differ."
    if not differ:
        return "In no routine do classes differ beyond what chance between visits gives."
    said = f"Classes differ beyond chance in: **{', '.join(differ)}**."
    return f"{said} In the other routines there is no sign of it." if alike else said


def one(row: Row | None) -> str:
    """The same for one routine, in a line."""
    if row is None or missing(row["spread_code"]):
        return "Too few classes have been visited to say whether they differ."
    return f"{_first_up(SPREAD[str(row['spread_code'])])} ({_classes(row)})."


def table(rows: pd.DataFrame, routines: Mapping[str, str]) -> pd.DataFrame:
    """Every routine with its spread between classes and between visits."""
    return pd.DataFrame(
        [
            {
                "Routine": routines.get(str(row["routine_id"]), "All routines together"),
                "Classes visited": number(figure(row["class_count"])),
                "Between classes": counted_link(
                    _points(row["class_sd"]),
                    "class_spread",
                    school=row["school_id"],
                    term=row["term_id"],
                ),
                "Between visits to one class": _points(row["visit_sd"]),
                "In short": _short(row),
                **exact.share("Between classes", row["class_sd"]),
                **exact.share("Between visits to one class", row["visit_sd"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def _names(rows: pd.DataFrame, code: str, routines: Mapping[str, str]) -> list[str]:
    found = rows[(rows["spread_code"] == code) & (rows["routine_id"] != "*")]
    return [routines.get(str(key), str(key)) for key in found["routine_id"]]


def _short(row: Row) -> str:
    if bool(row["is_withheld"]):
        return f"withheld: {WITHHELD.get(str(row['withheld_reason']), 'too few')}"
    return "too little to say" if missing(row["spread_code"]) else SPREAD[str(row["spread_code"])]


def _points(value: object) -> str:
    spread = figure(value)
    return "" if spread is None else counted(whole_percent(spread), "point")


def _classes(row: Row) -> str:
    said = counted(figure(row["class_count"]), "class visited", "classes visited")
    return counted_link(said, "class_spread", school=row["school_id"], term=row["term_id"])


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]
