"""Lessons written down late: school days between the lesson and its entry.

| taught | entered    | school days later                 | later day | within ten |
|--------|------------|-----------------------------------|-----------|------------|
| Mon 1  | Mon 1      | 0                                 | no        | yes        |
| Tue 2  | Wed 3      | 1                                 | yes       | yes        |
| Fri 5  | Sat 6      | 0 (no school day between)         | no        | yes        |
| Thu 4  | Mon 22     | 12 (5, 8-12, 15-19, 22)           | yes       | no         |
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Ask, Figure


@pytest.mark.parametrize(
    ("measure", "counts"), [("backfilled_share", (2, 4)), ("timeliness_lessons", (3, 4))]
)
@pytest.mark.parametrize("level", ["class", "school"])
def test_later_and_too_late_are_two_things(
    figure: Figure, measure: str, counts: tuple[int, int], level: str
) -> None:
    keys = {"class_id": "ink"} if level == "class" else {}
    row = figure(measure, "late", level, **keys)
    assert (row["numerator_count"], row["denominator_count"]) == counts


def test_only_school_days_count_as_delay(ask: Ask) -> None:
    rows = ask(
        "select lesson_id, entry_delay_days from core.fct_lessons where school_id = 'late'"
        " order by taught_on"
    )
    assert rows == [("k1", 0), ("k2", 1), ("k4", 12), ("k5", 0)]
