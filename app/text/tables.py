"""Tables for reading: the same numbers as the charts, in words and whole percents."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping

import pandas as pd

from app.text import dates, exact, words
from app.text.numbers import amount, amount_range, figure, missing, number
from app.text.places import linked, of_term
from app.text.readings import Reading, reading

Row = Mapping[Hashable, object]


def measure_cells(got: Reading, unit: str = "share") -> dict[str, object]:
    """The cells of one measured number."""
    shown = got.is_known
    said = amount(got.value, unit) if shown else words.standing(got) if got.is_withheld else ""
    return {
        "Figure": linked(said, got.place),
        "Range": amount_range(got.low, got.high, unit) if shown else "",
        "Counts": _counts(got, unit) if shown else "",
        "Visits or days": number(got.session_count),
        "How much is behind it": words.spoken(got.sufficiency, words.SUFFICIENCY),
        **_exact_cells(got, unit),
    }


def _exact_cells(got: Reading, unit: str) -> dict[str, object]:
    """The same for a file; empty beside a figure that is not shown, whatever the row holds."""
    as_number = exact.share if unit == "share" else exact.plain
    seen = got if got.is_known else Reading()
    return {
        **as_number("Figure", seen.value),
        **as_number("Low", seen.low),
        **as_number("High", seen.high),
        **exact.plain("Numerator", seen.numerator if unit == "share" else None),
        **exact.plain("Denominator", seen.denominator if unit == "share" else None),
    }


def weeks_table(weeks: pd.DataFrame, names: Mapping[str, str]) -> pd.DataFrame:
    """Weeks of measured shares, with the routine by name."""
    rows = [
        {
            "Routine": names.get(str(week["routine_id"]), str(week["routine_id"])),
            "Week of": dates.short_day(week["week_first_on"]),
            **measure_cells(reading(week)),
            **exact.on("Week of", week["week_first_on"]),
        }
        for week in weeks.to_dict("records")
        if str(week["routine_id"]) in names
    ]
    return pd.DataFrame(rows)


def named_table(
    rows: Iterable[tuple[str, Reading]], name: str, unit: str = "share"
) -> pd.DataFrame:
    """Named measured numbers, in the order given."""
    return pd.DataFrame([{name: label, **measure_cells(got, unit)} for label, got in rows])


def pairs_table(frame: pd.DataFrame, name: str, label: str) -> pd.DataFrame:
    """This term and the term before of each group."""
    rows = []
    for row in frame.to_dict("records"):
        got, before = reading(row), figure(row.get("previous_value"))
        place = of_term(got.place, row.get("previous_term_id"))
        earlier = "" if before is None else linked(amount(before, "share"), place)
        known = exact.share("Term before", before)
        rows.append({label: row[name], **measure_cells(got), "Term before": earlier, **known})
    return pd.DataFrame(rows)


def plain_table(frame: pd.DataFrame, columns: Mapping[str, str]) -> pd.DataFrame:
    """Chosen columns under readable names; gaps empty, dates as people write them."""
    shown = {label: [cell(value) for value in frame[name]] for name, label in columns.items()}
    days = {
        f"{label}, date": [exact.day(value) for value in frame[name]]
        for name, label in columns.items()
        if name.endswith("_on")
    }
    return pd.DataFrame(shown | exact.marked(days))


def cell(value: object) -> str:
    """One cell as words."""
    if missing(value):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, pd.Timestamp):
        return dates.moment(value) if (value.hour or value.minute) else dates.weekday_day(value)
    if isinstance(value, int | float):
        return number(value) if float(value).is_integer() else f"{value:.1f}"
    return str(value)


def _counts(got: Reading, unit: str) -> str:
    if unit != "share" or not got.denominator:
        return ""
    return f"{number(got.numerator)} of {number(got.denominator)}"
