"""One day lost (the 3rd), to a storm and by the calendar; ten lessons planned for ten weekdays.

Storm: the plan counted on ten days and nine came. Lesson k is due on day k, so nine are due, and
nine were given: 9 of 9. Calendar: the plan knew of nine days, all ten lessons are due in them: 9 of
10.
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Ask, Figure


@pytest.mark.parametrize(("class_id", "counts"), [("storm", (9.0, 9.0)), ("trip", (9.0, 10.0))])
def test_only_an_emergency_takes_a_due_lesson_away(
    figure: Figure, class_id: str, counts: tuple[float, float]
) -> None:
    dose = figure("dose", "shut", class_id=class_id)
    assert (dose["numerator_count"], dose["denominator_count"]) == counts


def test_both_classes_had_nine_school_days(ask: Ask) -> None:
    rows = ask(
        "select class_id, count(*) filter (where is_in_session),"
        " count(*) filter (where is_emergency_closed) from core.dim_school_days"
        " where school_id = 'shut' and day_on <= '2025-09-12' group by 1 order by 1"
    )
    assert rows == [("storm", 9, 1), ("trip", 9, 0)]
