"""What came in and what became of it, in words and tables."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text import exact
from app.text.dates import days_ago, short_day, weekday_day
from app.text.numbers import counted, figure, number, percent
from app.text.plain_numbers import counted_link
from app.text.words import FEED, spoken

Row = Mapping[Hashable, object]
LATE_NOTE = (
    "“Entered later” counts rows written down on a later school day than the one they tell of."
)


def sentence(total: Row, school_id: str = "") -> str:
    """How much was taken in and how much waits for someone."""
    received = figure(total["received_count"]) or 0
    if not received:
        return "Nothing has been received yet."

    def to(text: str) -> str:
        return counted_link(text, "rows_received", school=school_id) if school_id else text

    taken = to(number(figure(total["accepted_count"]) or 0))
    said = f"**{taken}** of {to(number(received))} rows received were taken in"
    held = figure(total["held_count"]) or 0
    waits = f"**{to(counted(held, 'row'))}** wait{'s' if held == 1 else ''} for a correction"
    return f"{said}; {waits if held else 'nothing waits for a correction'}."


def late_sentence(rows: pd.DataFrame) -> str:
    """How many lessons were written down on a later school day than they were given."""
    lessons = rows[rows["feed"] == "routine_lessons"].to_dict("records")
    late = figure(lessons[0]["late_rate"]) if lessons else None
    if late is None:
        return ""
    share = counted_link(percent(late), "late_entries", school=lessons[0]["school_id"])
    return f"{share} of the lessons were written down on a later school day."


def balance(rows: pd.DataFrame) -> str:
    """Whether every received row is accounted for."""
    if rows.empty:
        return ""
    if bool(rows["is_balanced"].all()):
        return (
            "Every row is accounted for: received = taken in + already known + set aside + refused."
        )
    return (
        "The counts of at least one file do not add up. Please tell whoever looks after the data."
    )


def feeds_table(rows: pd.DataFrame) -> pd.DataFrame:
    """One line for each kind of data."""
    found = []
    for row in rows.to_dict("records"):
        late = figure(row["late_rate"])
        found.append(
            {
                "Data": _first_up(spoken(row["feed"], FEED)),
                "Received": number(figure(row["received_count"])),
                "Taken in": number(figure(row["accepted_count"])),
                "Already known": _some(row["known_count"]),
                "Set aside": _some(row["quarantined_count"]),
                "Refused": _some(row["refused_count"]),
                "Entered later": "" if late is None else percent(late),
                "Last day told of": short_day(row["last_event_on"]),
                **exact.share("Entered later", late),
                **exact.on("Last day told of", row["last_event_on"]),
            }
        )
    return pd.DataFrame(found)


def files_table(files: pd.DataFrame) -> pd.DataFrame:
    """One line for each file received."""
    status = {"loaded": "loaded", "refused": "refused", "already_known": "already known"}
    return pd.DataFrame(
        [
            {
                "File": row["file_name"],
                "Data": _first_up(spoken(row["feed"], FEED)),
                "Received": weekday_day(row["received_at"]),
                "What became of it": spoken(row["status"], status),
                "Rows": number(figure(row["received_count"])),
                "Taken in": _some(row["accepted_count"]),
                "Known": _some(row["known_count"]),
                "Set aside": _some(row["quarantined_count"]),
                "Refused": _some(row["refused_count"]),
                **exact.on("Received", row["received_at"]),
            }
            for row in files.to_dict("records")
        ]
    )


def findings_table(findings: pd.DataFrame) -> pd.DataFrame:
    """What was found, a line for each rule in each file."""
    verdicts = {"refuse": "file refused", "quarantine": "rows set aside", "warn": "to look at"}
    return pd.DataFrame(
        [
            {
                "File": row["file_name"],
                "Verdict": spoken(row["verdict"], verdicts),
                "Times": number(figure(row["finding_count"])),
                "First line": _some(row["first_line"]),
                "Column": "" if pd.isna(row["column_name"]) else row["column_name"],
                "What was found": row["message"],
                "What to do": row["remedy"],
            }
            for row in findings.to_dict("records")
        ]
    )


def set_aside_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Rows set aside, without their values."""
    states = {"held": "waits", "released": "released", "corrected": "corrected"}
    return pd.DataFrame(
        [
            {
                "File": row["file_name"],
                "Line": _some(row["line_number"]),
                "Column": "" if pd.isna(row["column_name"]) else row["column_name"],
                "What was found": row["message"],
                "What to do": row["remedy"],
                "Now": spoken(row["status"], states),
                "A person may release it": "yes" if row["can_release"] else "no, correct it",
            }
            for row in rows.to_dict("records")
        ]
    )


def freshness_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Per kind of data, the last day it tells of and the last file, before the day of the build."""
    return pd.DataFrame(
        [
            {
                "Data": _first_up(spoken(row["feed"], FEED)),
                "Last day told of": weekday_day(row["last_event_on"]),
                "How long ago": days_ago(
                    row["last_event_on"], pd.Timestamp(row["as_of_on"]).date()
                ),
                "Last file received": weekday_day(row["last_received_on"]),
                **exact.on("Last day told of", row["last_event_on"]),
                **exact.on("Last file received", row["last_received_on"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def gaps_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Per class and kind of data, what should have come and what did."""
    return pd.DataFrame(
        [
            {
                "Class": row["class_title"],
                "Data": _first_up(spoken(row["feed"], FEED)),
                "Expected": number(figure(row["expected_count"])),
                "Came": number(figure(row["seen_count"])),
                "Still missing": _some(row["missing_count"]),
                "Last day told of": weekday_day(row["last_event_on"]),
                "School days since": _some(row["silent_days"]),
                **exact.on("Last day told of", row["last_event_on"]),
            }
            for row in rows.to_dict("records")
        ]
    )


def _some(count: object) -> str:
    found = figure(count)
    return "0" if found == 0 else "" if found is None else number(found)


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def aside_sentence(rows: pd.DataFrame) -> str:
    """How many rows still wait."""
    held = rows[rows["status"] == "held"]
    places = held[["file_hash", "file_name", "line_number"]].drop_duplicates()
    if places.empty:
        return "No row waits for anything."
    few = len(places) == 1
    return f"**{counted(len(places), 'row')}** wait{'s' if few else ''} for a correction or a word."


def shown_note(shown: int, rows: pd.DataFrame) -> str:
    """Said when a table shows only its beginning."""
    return f"The first {shown} of {number(len(rows))} lines." if len(rows) > shown else ""
