"""Groups of staves: a row for each routine, or for each term of one."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import Any

import pandas as pd
import streamlit as st

from app.charts.stave import Stave, stave, stave_words
from app.look import cards, evidence, states, words
from app.text import change
from app.text.dates import as_date
from app.text.tables import weeks_table

Row = Mapping[Hashable, Any]


def moved(rows: pd.DataFrame, routines: Sequence[Row], thing: str, key: str) -> None:
    """Beside the staves: what has moved since the last named change, and what is too early."""
    names = {str(routine["routine_id"]): str(routine["name"]) for routine in routines}
    said = change.sentence(rows, names)
    if said:
        words.plain(said)
        words.note(change.NOTE)
        table = change.table(rows, names, thing)
        label = "What has moved, routine by routine"
        evidence.as_table(table, label, f"moved-{key}", label)


def by_routine(
    weeks: pd.DataFrame,
    routines: Sequence[Row],
    look: Callable[[Row, bool, bool], Stave],
    key: str,
    under: Callable[[Row], str],
    last_on: object = None,
) -> None:
    """One stave for each routine that has weeks, its name and a quiet word beside it."""
    seen = [r for r in routines if not weeks[weeks["routine_id"] == r["routine_id"]].empty]
    if not seen:
        states.nothing_here("Nobody has looked yet in this term. Empty is not bad.")
        return
    looks = [look(routine, routine is seen[0], routine is seen[-1]) for routine in seen]
    with cards.stave_rows(key):
        for routine, drawing in zip(seen, looks, strict=True):
            own = weeks[weeks["routine_id"] == routine["routine_id"]]
            name, chart = st.columns([1, 3.4])
            with name:
                words.row_name(routine["name"], under(routine))
            with chart:
                spec = stave(own, drawing, as_date(last_on))
                said = stave_words(routine["name"], own, drawing.line)
                evidence.picture(spec, said, f"{key}-{routine['routine_id']}")
    has_band = "band_low" in weeks.columns and bool(weeks["band_low"].notna().any())
    has_change = any(drawing.changes for drawing in looks)
    kinds = {"withheld": bool(weeks["is_withheld"].any()), "band": has_band, "change": has_change}
    extra = [kind for kind, is_there in kinds.items() if is_there]
    evidence.legend(*evidence.STAVE_KEY, *extra)
    names = {routine["routine_id"]: routine["name"] for routine in seen}
    evidence.as_table(weeks_table(weeks, names), "Every routine, week by week", key)
