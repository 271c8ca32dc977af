"""A group of staves made ready, and that what is kept is kept by its key."""

from __future__ import annotations

import pandas as pd

from app.charts.stave import Stave
from app.look.evidence import STAVE_KEY
from app.pages.parts.stave_groups import Row, drawn
from app.queries.kept import kept

WEEK = {
    "value": 0.84, "low": 0.7, "high": 0.92, "numerator_count": 84.0, "denominator_count": 100.0,
    "session_count": 4, "unit_count": 100, "sufficiency": "usable", "status": "unclear",
    "withheld_reason": None, "measure_name": "responsiveness", "window_code": "week",
}  # fmt: skip
WEEKS = pd.DataFrame(
    [
        {**WEEK, "routine_id": "walk", "week_first_on": "2026-04-20", "is_withheld": True},
        {**WEEK, "routine_id": "listen", "week_first_on": "2026-04-20", "is_withheld": False},
        {**WEEK, "routine_id": "listen", "week_first_on": "2026-04-27", "is_withheld": False},
    ]
)
ROUTINES: list[Row] = [
    {"routine_id": "listen", "name": "Settling to listen"},
    {"routine_id": "turns", "name": "Fair turns"},
    {"routine_id": "walk", "name": "Walking"},
]


def _look(routine: Row, is_first: bool, is_last: bool) -> Stave:
    return Stave(line=0.8, has_dates=is_last)


def _under(routine: Row) -> str:
    return f"under {routine['name']}"


def test_routines_stand_in_the_order_of_the_school_and_only_those_with_weeks() -> None:
    group = drawn(WEEKS, ROUTINES, _look, _under)
    assert [(line.name, line.under) for line in group.lines] == [
        ("Settling to listen", "under Settling to listen"),
        ("Walking", "under Walking"),
    ]
    assert "2 of 2 weeks with visits" in group.lines[0].said
    assert group.shapes == (*STAVE_KEY, "withheld")
    assert len(group.table) == len(WEEKS)


def test_what_is_kept_is_made_once_for_each_key_and_not_for_what_the_key_names() -> None:
    made: list[str] = []

    @kept
    def told(term_id: str, _term: Row) -> str:
        made.append(term_id)
        return str(_term["title"])

    assert told("spring", {"title": "Spring"}) == "Spring"
    assert told("spring", {"title": "Spring"}) == "Spring"
    assert told("winter", {"title": "Winter"}) == "Winter"
    assert made == ["spring", "winter"]
