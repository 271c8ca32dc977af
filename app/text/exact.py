"""The exact number beside a cell of words: for files to take away, never on the screen.

A screen says `82 %`; a file says that and 0.8214. A builder of tables adds the number where it
still has it, in a column that the screen leaves out. A number that is not shown is not added.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pandas as pd

from app.text.dates import as_date
from app.text.numbers import figure

_MARK = "exact: "
SHARE = "0 to 1"


def share(name: str, value: object) -> dict[str, object]:
    """A share between 0 and 1 (a difference of two of them: between -1 and 1)."""
    return {f"{_MARK}{name}, {SHARE}": figure(value)}


def plain(name: str, value: object) -> dict[str, object]:
    """A number in the unit that its name says."""
    return {f"{_MARK}{name}": figure(value)}


def on(name: str, value: object) -> dict[str, object]:
    """A day, which the screen writes without its year."""
    return {f"{_MARK}{name}, date": as_date(value)}


def day(value: object) -> date | None:
    """A day of a column of days."""
    return as_date(value)


def marked(columns: Mapping[str, list[date | None]]) -> dict[str, list[date | None]]:
    """Whole columns for files only."""
    return {f"{_MARK}{name}": cells for name, cells in columns.items()}


def on_screen(frame: pd.DataFrame) -> pd.DataFrame:
    """The table without the columns that are for files only."""
    return frame[[name for name in frame.columns if not str(name).startswith(_MARK)]]


def for_files(frame: pd.DataFrame) -> pd.DataFrame:
    """The whole table: words first, then the numbers behind them, all under plain names."""
    behind = [name for name in frame.columns if str(name).startswith(_MARK)]
    ordered = frame[[name for name in frame.columns if name not in behind] + behind]
    return ordered.rename(columns=lambda name: str(name).removeprefix(_MARK))
