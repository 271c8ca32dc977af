"""Cells of a file: numbers as numbers, links dropped, and no text that a spreadsheet would run."""

from __future__ import annotations

import re
from datetime import date, datetime, time

import pandas as pd

from app.text.exact import for_files
from app.text.numbers import missing
from app.text.places import unlinked

Cell = str | int | float | date | None
# Signs that make a spreadsheet take what follows for a formula, with their full-width twins.
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_BREAKS = re.compile(r"[\x00-\x1f\x7f]+")
# Counts as the screen writes them, with thin gaps for thousands; never a code with a zero in front.
_COUNT = re.compile(r"0|[1-9]\d{0,2}(\u202f\d{3})*|[1-9]\d*")


def one_line(text: str) -> str:
    """The text without line breaks: what follows one would begin a line for a careless reader."""
    return _BREAKS.sub(" ", text)


def harmless(text: str) -> str:
    """The text; with an apostrophe in front where a spreadsheet could take it for a formula."""
    plain = one_line(text)
    return f"'{plain}" if is_risky(text) else plain


def is_risky(text: str) -> bool:
    """Whether a spreadsheet could take the text for a formula, blanks in front or not."""
    return text.startswith(_STARTS) or text.lstrip().startswith(_STARTS)


def table_cells(frame: pd.DataFrame) -> tuple[list[str], list[list[Cell]]]:
    """Names and rows of a table for a file; texts are not made harmless yet."""
    shown = for_files(frame)
    names = [one_line(str(name)) or "Note" for name in shown.columns]
    return names, [[_cell(value) for value in row] for row in shown.to_numpy(object).tolist()]


def _cell(value: object) -> Cell:
    if missing(value):
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value if value.time() != time.min else value.date()
    if isinstance(value, date):
        return value
    if isinstance(value, int | float):
        return int(value) if float(value).is_integer() else float(value)
    text = one_line(unlinked(str(value)).replace("**", ""))
    return int(text.replace("\u202f", "")) if _COUNT.fullmatch(text) else text
