"""What a reader may choose on a page. Choices live in the address; junk there is ignored."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import Any

import pandas as pd
import streamlit as st

from app.access import Visit
from app.look import view
from app.queries import school as ask

Row = Mapping[Hashable, Any]
_NARROW, _WIDE, _LONG_NAME = 205, 275, 24  # pixels, pixels, letters


def the_school(visit: Visit) -> Row:
    """The school to show: the only one, or the reader's choice among several."""
    schools = {row["school_id"]: row for row in ask.schools(visit.scope).to_dict("records")}
    names = {school: row["school_name"] for school, row in schools.items()}
    return schools[one("School", names, "school") if len(names) > 1 else next(iter(names))]


def the_term(terms: pd.DataFrame) -> Row | None:
    """The term to show: the present one unless another is chosen; None before the first."""
    present = [*terms[terms["is_current"]]["term_id"], *terms["term_id"].tail(1), None]
    return _row_of(terms, "Term", "term_id", "title", "term", present[0])


def the_routine(routines: pd.DataFrame) -> Row | None:
    """The routine to show: the first unless another is chosen; None when there is none."""
    return _row_of(routines, "Routine", "routine_id", "name", "routine")


def the_grade(grades: pd.DataFrame) -> Row | None:
    """The grade to show."""
    return _row_of(grades, "Grade", "grade_code", "name", "grade")


def the_class(classes: pd.DataFrame) -> Row | None:
    """The class to open, by name."""
    return _row_of(classes, "Class", "class_id", "title", "class")


def the_measure(catalogue: pd.DataFrame, offered: Sequence[str]) -> Row | None:
    """The measure to show, among those that are drawn week by week."""
    known = catalogue[catalogue["measure_name"].isin(list(offered))]
    return _row_of(known, "What is measured", "measure_name", "title", "measure", offered[0])


def _row_of(
    frame: pd.DataFrame, label: str, column: str, name: str, key: str, first: str | None = None
) -> Row | None:
    rows = {row[column]: row for row in frame.to_dict("records")}
    if not rows:
        return None
    names = {code: row[name] for code, row in rows.items()}
    width = _WIDE if max(map(len, names.values())) > _LONG_NAME else _NARROW
    return rows[one(label, names, key, first, width)]


def one(
    label: str, names: Mapping[str, str], key: str, first: str | None = None, width: int = 205
) -> str:
    """One of several by name; the address carries it, and anything unknown there is dropped."""
    asked = st.query_params.get(key)
    chosen = st.selectbox(
        label,
        list(names),
        index=list(names).index(first or "") if first in names else 0,
        format_func=lambda key: names[key],
        key=key,
        bind="query-params",
        persist_state="session",
        width=width,
    )
    return view.chose(key, label, names, chosen, asked)
