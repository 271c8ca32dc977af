"""Matters of the data, apart from how routines are taught: logs, late entries, visits, draws."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace

import pandas as pd

from app.text import exact
from app.text.numbers import counted, figure, number, percent
from app.text.places import Place, linked, place_of_row
from app.text.plain_numbers import counted_link
from app.text.words import spoken

Row = Mapping[Hashable, object]
METHOD = {
    "cycle": "cards stay out until everyone has had a turn",
    "with_replacement": "cards go back at once",
    "queue": "whoever has waited longest is next",
}
VERDICT = {
    "as_declared": "as declared: nothing speaks against it",
    "look_at_the_box": "such as luck seldom gives; a card may be lost or double",
    "too_few": "too few to say",
}


def lines(rows: pd.DataFrame, *, by_class: bool) -> list[str]:
    """What a class is asked about its data, by name."""
    return [_line(row, by_class) for row in rows[rows["is_asked"]].to_dict("records")]


def _line(row: Row, by_class: bool) -> str:
    found, looked = figure(row["found_count"]), figure(row["looked_count"])
    counts = linked(f"{number(found) or '0'} of {number(looked) or '0'}", _place(row))
    said = {
        "missing_logs": f"{counts} lessons due lately have no entry",
        "back_filled": f"{counts} entries were written on a later school day",
        "thin": f"{linked(counted(found, 'more visit'), _place(row))} would let it be read",
        "conflicting": f"{counts} measures are held because observers do not see the same",
    }[str(row["data_code"])]
    return f"{row['class_title']}: {said}" if by_class else f"{said[:1].upper()}{said[1:]}"


def _place(row: Row) -> Place | None:
    place = place_of_row({**row, "routine_id": "*"})
    if place is None or str(row["data_code"]) != "missing_logs":
        return place
    return replace(place, window="last_20")


def audit_lines(rows: pd.DataFrame) -> list[str]:
    """Classes whose turns fell otherwise than their way of drawing says, by name."""
    return [
        f"{row['class_title']}: the draws are {_verdict(row)}"
        for row in rows[rows["verdict_code"] == "look_at_the_box"].to_dict("records")
    ]


def audit_note(rows: pd.DataFrame) -> str:
    """How many classes' draws look as declared, and of how many too little is known."""
    if rows.empty:
        return "No draw has been looked at yet."
    fine = int((rows["verdict_code"] == "as_declared").sum())
    few = int((rows["verdict_code"] == "too_few").sum())
    said = f"Turns fell as declared in {fine} of {counted(len(rows), 'draw box', 'draw boxes')}"
    return f"{said}; in {few} there are too few turns to say." if few else f"{said}."


def audit_sentence(row: Row) -> str:
    """The audit of one class, for its teacher."""
    way = spoken(row["method"], METHOD)
    return f"{way[:1].upper()}{way[1:]}. The draws are {_verdict(row)}."


def audits_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Each audit with what it looked at."""
    return pd.DataFrame(
        [
            {
                "Way of drawing": spoken(row["method"], METHOD),
                "Turns": number(figure(row["turn_count"])) or "0",
                "Passed over": ""
                if figure(row["passed_over_count"]) is None
                else number(figure(row["passed_over_count"])) or "0",
                "As uneven by luck": _luck(row),
                "In short": spoken(row["verdict_code"], VERDICT),
                **exact.share("As uneven by luck", row["p"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def _verdict(row: Row) -> str:
    turns = counted(figure(row["turn_count"]), "turn")
    where = {"room": row["class_id"], "term": row["term_id"]}
    luck = _luck(row)
    by_luck = f", as uneven by luck in {luck} of honest draws" if luck else ""
    shown = counted_link(turns, "turn_checks", **where)
    return f"{spoken(row['verdict_code'], VERDICT)} ({shown}{by_luck})"


def _luck(row: Row) -> str:
    p = figure(row["p"])
    return "" if p is None else percent(p)
