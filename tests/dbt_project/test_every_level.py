"""Every measure has its row wherever the catalogue says that it has one."""

from __future__ import annotations

from tests.dbt_project.answers import Ask

GRID = """
    with catalogue as (
        select measure_name, is_by_routine, unnest(string_split(level_codes, ';')) as level_code
        from intermediate.int_rollup_catalogue
    ),
    wanted as (
        select *, unnest(['term', 'last_20']) as window_code from catalogue
    ),
    measures as (
        select * from core.fct_measures
    )
"""


def test_every_measure_has_rows_for_each_of_its_levels_and_both_windows(ask: Ask) -> None:
    missing = ask(
        GRID + "select measure_name, level_code, window_code from wanted where not exists ("
        " select 1 from measures where measures.measure_name = wanted.measure_name"
        " and measures.level_code = wanted.level_code"
        " and measures.window_code = wanted.window_code)"
    )
    assert missing == []


def test_a_measure_by_routine_has_rows_for_single_routines_and_the_others_have_none(
    ask: Ask,
) -> None:
    odd = ask(
        GRID + "select measure_name, level_code, window_code from wanted"
        " where level_code != 'tier' and is_by_routine is distinct from exists ("
        " select 1 from measures where measures.measure_name = wanted.measure_name"
        " and measures.level_code = wanted.level_code and measures.routine_id != '*'"
        " and measures.window_code = wanted.window_code)"
    )
    assert odd == []


def test_no_row_stands_at_a_level_that_the_measure_does_not_have(ask: Ask) -> None:
    odd = ask(
        GRID + "select distinct measure_name, level_code from measures where not exists ("
        " select 1 from wanted where wanted.measure_name = measures.measure_name"
        " and wanted.level_code = measures.level_code)"
    )
    assert odd == []


def test_every_class_grade_and_school_has_a_row_of_every_measure_for_each_of_its_terms(
    ask: Ask,
) -> None:
    places = ask(
        GRID + ", cells as ("
        " select distinct school_id, level_code, class_id, grade_code, tier_code, term_id,"
        " window_code from measures where routine_id = '*')"
        " select wanted.measure_name, cells.* from cells inner join wanted"
        " on cells.level_code = wanted.level_code and cells.window_code = wanted.window_code"
        " where not exists (select 1 from measures"
        " where measures.measure_name = wanted.measure_name and measures.routine_id = '*'"
        " and measures.school_id = cells.school_id and measures.level_code = cells.level_code"
        " and measures.class_id = cells.class_id and measures.grade_code = cells.grade_code"
        " and measures.tier_code = cells.tier_code and measures.term_id = cells.term_id"
        " and measures.window_code = cells.window_code)"
    )
    assert places == []


def test_a_figure_that_a_model_gives_is_never_lost_for_want_of_a_row(ask: Ask) -> None:
    lost = ask(
        "select distinct figures.measure_name, figures.level_code"
        " from intermediate.int_rollup_figures as figures"
        " inner join intermediate.int_rollup_catalogue as catalogue using (measure_name)"
        " where figures.window_code != 'week' and figures.value is not null"
        " and (figures.routine_id = '*' or catalogue.is_by_routine)"
        " and contains(catalogue.level_codes, figures.level_code)"
        " and not exists (select 1 from core.fct_measures as measures"
        " where measures.measure_name = figures.measure_name"
        " and measures.school_id = figures.school_id"
        " and measures.level_code = figures.level_code and measures.class_id = figures.class_id"
        " and measures.grade_code = figures.grade_code and measures.tier_code = figures.tier_code"
        " and measures.routine_id = figures.routine_id and measures.term_id = figures.term_id"
        " and measures.window_code = figures.window_code and measures.value is not null)"
    )
    assert lost == []
