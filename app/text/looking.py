"""Where to look next, and how the observers see, as a coach would say it."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text.dates import as_date, short_day
from app.text.numbers import counted, figure, missing, number
from app.text.watching import KIND

Row = Mapping[Hashable, object]
_SHOWN = 5
NEXT_NOTE = (
    "Named by how few visits there were, and by how long ago, and by nothing else: it says where "
    "little is known, not how a class is doing. Look at another time of the day than last time."
)
VISITS_NOTE = (
    "With fewer, another set of visits by other people could well tell something else. Few "
    "classes get so many in a term: read a class’s number with its range and beside its own "
    "past, and look at several classes together."
)


def next_sentence(classes: pd.DataFrame) -> str:
    """The classes that were looked at least in the present term, fewest visits first."""
    known = classes[~classes["is_withheld"]] if "is_withheld" in classes else classes
    rows = sorted(known.to_dict("records"), key=_how_little)[:_SHOWN]
    if not rows:
        return ""
    return f"Fewest visits so far this term: {'; '.join(_looked(row) for row in rows)}."


def _how_little(row: Row) -> tuple[float, str, str]:
    last = as_date(row["last_visit_on"])
    return (figure(row["visit_count"]) or 0, str(last or ""), str(row["title"]))


def _looked(row: Row) -> str:
    count = figure(row["visit_count"]) or 0
    if missing(row["last_visit_on"]):
        return f"**{row['title']}** (nobody has looked yet)"
    last = short_day(row["last_visit_on"])
    return f"**{row['title']}** ({counted(count, 'visit')}, the last on {last})"


def observers_sentence(rows: pd.DataFrame) -> str:
    """Who sees less or more than most, and whose way of seeing has moved; all others together."""
    told = rows[~rows["is_withheld"]].to_dict("records")
    every = list(dict.fromkeys(str(row["observer_id"]) for row in told))
    apart = _named(told, "reading_code", {"sees_less": "less", "sees_more": "more"}, "than most")
    moved = _named(told, "drift_code", {"falling": "less", "rising": "more"}, "than at first")
    if not apart and not moved:
        return (
            f"Nothing sets one of {counted(len(every), 'observer')} apart from the others so far."
        )
    others = len(every) - len({name for name, _ in (*apart, *moved)})
    said = "; ".join(f"**{name}** sees {text}" for name, text in (*apart, *moved))
    rest = f" {number(others)} of {number(len(every))} observers see as most do." if others else ""
    return f"{said}.{rest} A few visits watched together with them would show why."


def _named(
    rows: list[dict[Hashable, object]], column: str, ways: Mapping[str, str], end: str
) -> list[tuple[str, str]]:
    """Observer and what is seen in which way, one line for each observer and way."""
    kinds: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        way = ways.get(str(row[column]))
        if way:
            kinds.setdefault((str(row["observer_id"]), way), []).append(
                KIND[str(row["measure_kind"])]
            )
    return [(name, f"{way} {end} in {' and '.join(of)}") for (name, way), of in kinds.items()]
