"""The catalogue of measures and settings, in words."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

import pandas as pd

from app.text.numbers import figure, missing
from app.text.words import spoken

Row = Mapping[Hashable, object]
STAVE = (
    "Five lines stand for 0, 25, 50, 75 and 100 %. A note is one week’s visits, its stem the range "
    "the true value may lie in. Hollow grey means too few looks to say something; a short bar in "
    "the middle means that nobody looked. Notes are not joined: weeks between them are not known."
)
RANGE = (
    "A range says how far the true value may lie from the figure, given how few looks it rests on. "
    "Two figures whose ranges overlap may well be the same."
)
UNIT = {
    "share": "a share, shown in percent",
    "per_minute": "how often in a minute",
    "seconds": "seconds",
    "count": "a count",
    "level": "voice levels above (+) or below the agreed one",
    "ratio": "so many to one",
    "days": "school days",
    "draw_days": "days on which the class drew names",
    "minutes": "minutes",
    "coefficient": "a number from −1 to 1",
}


def paragraphs(row: Row) -> list[str]:
    """What a measure tells, paragraph by paragraph."""
    text = "" if missing(row.get("sense")) else str(row["sense"])
    return [" ".join(part.split()) for part in text.split("\n\n") if part.strip()]


def facts(row: Row) -> dict[str, str]:
    """The definition of one measure under plain headings."""
    told = {
        "It asks": row["question"],
        "Counted": row["numerator"],
        "Out of": row["denominator"],
        "Shown as": spoken(row["unit"], UNIT),
        "Needs at least": row["minimum_data"],
        "Cannot say": row["cannot_say"],
        "Comes from": row["source"],
    }
    return {name: str(text) for name, text in told.items() if not missing(text) and text}


def settings_table(rows: pd.DataFrame) -> pd.DataFrame:
    """Settings with the value in use, the default, and where it comes from."""
    return pd.DataFrame(
        [
            {
                "Setting": spoken(row["setting_name"]),
                "In use": _plain(row["value"]),
                "Default": _plain(row["default_value"]),
                "Where the default comes from": row["source_note"],
            }
            for row in rows.to_dict("records")
        ]
    )


def _plain(value: object) -> str:
    found = figure(value)
    return "" if found is None else f"{found:g}"
