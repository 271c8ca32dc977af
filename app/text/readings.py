"""One measured number with everything it rests on, and the sentences made from it."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from app.text import numbers
from app.text.places import Place, place_of_row

ENOUGH = ("usable", "solid")


@dataclass(frozen=True)
class Reading:
    """A row of a measure table. Shares are 0-1; None where there is nothing to say."""

    value: float | None = None
    low: float | None = None
    high: float | None = None
    numerator: float | None = None
    denominator: float | None = None
    session_count: int = 0
    unit_count: int = 0
    sufficiency: str = "none"
    status: str = "none"
    is_withheld: bool = False
    withheld_reason: str = ""
    place: Place | None = None

    @property
    def is_known(self) -> bool:
        """There is a number and it may be shown."""
        return not self.is_withheld and numbers.known(self.value)

    @property
    def is_enough(self) -> bool:
        """There is enough behind it to say something."""
        return self.is_known and self.sufficiency in ENOUGH


def reading(row: Mapping[Hashable, object]) -> Reading:
    """The reading of one table row, as `frame.to_dict("records")` gives it."""
    figure, text = numbers.figure, _text
    return Reading(
        value=figure(row.get("value")),
        low=figure(row.get("low")),
        high=figure(row.get("high")),
        numerator=figure(row.get("numerator_count")),
        denominator=figure(row.get("denominator_count")),
        session_count=int(figure(row.get("session_count")) or 0),
        unit_count=int(figure(row.get("unit_count")) or 0),
        sufficiency=text(row.get("sufficiency")) or "none",
        status=text(row.get("status")) or "none",
        is_withheld=bool(row.get("is_withheld")) and not numbers.missing(row.get("is_withheld")),
        withheld_reason=text(row.get("withheld_reason")),
        place=place_of_row(row),
    )


def pick(rows: pd.DataFrame, **wanted: str) -> Reading:
    """The reading of the one row that fits, an empty reading when there is none."""
    row = pick_row(rows, **wanted)
    return Reading() if row is None else reading(row)


def pick_row(rows: pd.DataFrame, **wanted: str) -> dict[Hashable, Any] | None:
    """The one row that fits, None when there is none."""
    fits = np.ones(len(rows), dtype=bool)
    for column, value in wanted.items():
        fits &= (rows[column] == value).to_numpy(dtype=bool)
    places = np.flatnonzero(fits)
    if not len(places):
        return None
    row = rows.iloc[places[0]]
    return dict(zip(rows.columns, row, strict=True))


def _text(value: object) -> str:
    return "" if numbers.missing(value) else str(value)
