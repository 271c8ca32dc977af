"""A group of staves made ready: a row for each routine. Pure, so that pages can keep it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from app.charts.frame import Spec
from app.charts.stave import Stave, stave_and_words
from app.look import evidence
from app.text.dates import as_date
from app.text.tables import weeks_table

Row = Mapping[Hashable, Any]


@dataclass(frozen=True)
class Line:
    """One stave, its name and a quiet word, and the same in words."""

    name: str
    under: str
    spec: Spec
    said: str


@dataclass(frozen=True)
class Group:
    """Staves one under the other, what their shapes mean, and the same as a table."""

    lines: tuple[Line, ...]
    shapes: tuple[str, ...]
    table: pd.DataFrame


def drawn(
    weeks: pd.DataFrame,
    routines: Sequence[Row],
    look: Callable[[Row, bool, bool], Stave],
    under: Callable[[Row], str],
    last_on: object = None,
) -> Group:
    """One stave for each routine that has weeks."""
    parts = {str(key): part for key, part in weeks.groupby("routine_id", sort=False)}
    seen = [routine for routine in routines if str(routine["routine_id"]) in parts]
    looks = [look(routine, routine is seen[0], routine is seen[-1]) for routine in seen]
    lines = [
        _line(routine, parts[str(routine["routine_id"])], drawing, under(routine), last_on)
        for routine, drawing in zip(seen, looks, strict=True)
    ]
    has_band = "band_low" in weeks.columns and bool(weeks["band_low"].notna().any())
    has_change = any(drawing.changes for drawing in looks)
    kinds = {"withheld": bool(weeks["is_withheld"].any()), "band": has_band, "change": has_change}
    extra = [kind for kind, is_there in kinds.items() if is_there]
    names = {routine["routine_id"]: routine["name"] for routine in seen}
    return Group(tuple(lines), (*evidence.STAVE_KEY, *extra), weeks_table(weeks, names))


def _line(routine: Row, own: pd.DataFrame, look: Stave, under: str, last_on: object) -> Line:
    spec, said = stave_and_words(str(routine["name"]), own, look, as_date(last_on))
    return Line(str(routine["name"]), under, spec, said)
