"""A morning and an afternoon class on a day that is open in the morning only (the 8th).

Ten lessons are planned from the 1st to the 12th. The morning class has ten school days and nine
lessons given: 9 of 10. The afternoon class has nine school days; its calendar never promised the
8th, so all ten stay due, and three are given: 3 of 10. On the 9th the morning class is on its
seventh school day, the afternoon class on its sixth.
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Ask, Figure
from tests.dbt_project.golden import day


@pytest.mark.parametrize(("class_id", "counts"), [("h-am", (9.0, 10.0)), ("h-pm", (3.0, 10.0))])
def test_each_half_has_its_own_school_days_and_due_lessons(
    figure: Figure, class_id: str, counts: tuple[float, float]
) -> None:
    dose = figure("dose", "half", class_id=class_id)
    assert (dose["numerator_count"], dose["denominator_count"]) == counts


def test_the_day_is_a_school_day_of_the_morning_class_only(ask: Ask) -> None:
    rows = ask(
        "select class_id, is_in_session, instructional_day_number from core.dim_school_days"
        " where school_id = 'half' and day_on in (?::date, ?::date) order by class_id, day_on",
        day(8), day(9),
    )  # fmt: skip
    assert rows == [("h-am", True, 6), ("h-am", True, 7), ("h-pm", False, None), ("h-pm", True, 6)]
