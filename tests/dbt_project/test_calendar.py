"""School days of each class, worked out by hand."""

from __future__ import annotations

from tests.dbt_project.answers import Ask
from tests.dbt_project.golden import day


def _days(ask: Ask, class_id: str) -> dict[str, tuple[bool, int | None]]:
    rows = ask(
        "select day_on::varchar, is_in_session, instructional_day_number"
        " from core.dim_school_days where class_id = ?",
        class_id,
    )
    return {on: (is_in, number) for on, is_in, number in rows}


def test_a_mixed_class_is_in_session_when_one_of_its_grades_is(ask: Ask) -> None:
    days = _days(ask, "m1")
    assert days[day(2)] == (True, 2)
    assert days[day(4)] == (False, None)


def test_an_entry_for_the_class_goes_before_everything_else(ask: Ask) -> None:
    assert _days(ask, "m1")[day(5)] == (False, None)


def test_a_half_day_is_a_school_day_for_the_half_that_is_taught(ask: Ask) -> None:
    assert _days(ask, "m1")[day(8)] == (True, 4)
    assert _days(ask, "m2")[day(8)] == (False, None)
    assert _days(ask, "m2")[day(9)] == (True, 6)


def test_weekends_are_no_rows(ask: Ask) -> None:
    assert day(6) not in _days(ask, "m1")


def test_an_emergency_is_told_from_a_planned_day(ask: Ask) -> None:
    rows = ask(
        "select day_on::varchar from core.dim_school_days"
        " where is_emergency_closed and school_id = 'snow'"
    )
    assert rows == [(day(3),)]


def test_a_mixed_class_counts_in_each_grade_and_once_in_the_school(ask: Ask) -> None:
    grades = ask(
        "select grade_code from core.dim_class_grades where class_id = 'm1' order by grade_code"
    )
    assert grades == [("02",), ("03",)]
    assert ask("select class_count from core.dim_schools where school_id = 'mix'") == [(2,)]


def test_schools_do_not_share_days_or_figures(ask: Ask) -> None:
    assert ask("select count(distinct school_id) from core.dim_school_days") == ask(
        "select count(*) from core.dim_schools"
    )
    odd = ask(
        "select count(*) from core.fct_measures as measures"
        " join core.dim_classes as classes using (class_id)"
        " where measures.school_id is distinct from classes.school_id"
    )
    assert odd == [(0,)]
