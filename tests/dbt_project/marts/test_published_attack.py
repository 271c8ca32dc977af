"""What can be worked out from our own files: every sum that holds, against what is withheld.

Readers: whoever holds the school's file; the support team, which holds that and its own; a teacher,
who holds the school's file and her own class in full.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

import duckdb
import pytest

from tests.dbt_project.linear_attack import Known, System, known
from tests.dbt_project.marts import published_looks as looks
from tests.dbt_project.marts import published_people as people

SCHOOL = ("school", "grade", "tier")
TEAM = (*SCHOOL, "class")


def _grades(warehouse: duckdb.DuckDBPyConnection) -> tuple[dict[str, list[str]], bool]:
    rows = warehouse.execute(
        "select grade_code, class_id, is_mixed_grade from core.dim_class_grades"
        " inner join core.dim_classes using (school_id, class_id) where is_current"
    ).fetchall()
    grades: dict[str, list[str]] = {}
    for grade, class_id, _ in rows:
        grades.setdefault(grade, []).append(class_id)
    return grades, any(is_mixed for _, _, is_mixed in rows)


def _people_system(
    warehouse: duckdb.DuckDBPyConnection, levels: tuple[str, ...], is_open: bool = False
) -> tuple[System, dict[str, float]]:
    found = people.rows(warehouse, levels)
    grades, is_mixed = _grades(warehouse)
    system = System()
    for row in found:
        people.tell(system, row, is_open)
    for table in people.by_table(found):
        if not is_open:
            people.tell_company(system, table)
    people.relate(system, found, grades, is_mixed)
    names = system.names()
    small = {name: n for name, n in people.small_truths(found).items() if name in names}
    return system, small


def _attack(system: System, small: Mapping[str, float]) -> dict[str, Known]:
    return known(system, small)


@pytest.mark.parametrize(("levels", "width"), [(SCHOOL, 9), (TEAM, 4)])
def test_no_count_of_few_children_can_be_worked_out(
    warehouse: duckdb.DuckDBPyConnection, levels: tuple[str, ...], width: int
) -> None:
    """Any number under ten stays possible; half of them where a class counts in two grades."""
    system, small = _people_system(warehouse, levels)
    assert len(small) > 50
    for name, found in _attack(system, small).items():
        assert not found.is_exact, (name, small[name])
        assert found.high - found.low >= width - 1e-6, (name, small[name], found)


@pytest.mark.parametrize("levels", [SCHOOL, TEAM])
def test_without_company_the_attack_finds_children(
    warehouse: duckdb.DuckDBPyConnection, levels: tuple[str, ...]
) -> None:
    system, small = _people_system(warehouse, levels, is_open=True)
    assert sum(found.is_exact for found in _attack(system, small).values()) > 10


def test_a_teacher_who_takes_her_class_away_finds_no_other(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    """Her own room in full, and the school's file; what the other classes hold stays open."""
    grades, is_mixed = _grades(warehouse)
    everything = people.rows(warehouse, TEAM)
    classes = [row for row in everything if row.level == "class"]
    tried = 0
    for own in sorted({row.row for row in classes}):
        system, _ = _people_system(warehouse, SCHOOL)
        for row in classes:
            if row.row == own:
                for end, count in row.ends().items():
                    system.publish(row.name(end), count)
        people.relate(system, everything, grades, is_mixed)
        others = [
            row.name(end)
            for row in classes
            for end, count in row.ends().items()
            if row.row != own and 0 < count < people.SMALL_CELL
        ]
        tried += len(others)
        found = known(system, others)
        assert [name for name in others if found[name].is_exact] == [], own
    assert tried > 100


def test_no_size_of_a_withheld_grade_or_class_can_be_worked_out(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    """Sizes now: school, grades, and the classes that the support team sees."""
    system = System()
    small: dict[str, float] = {}
    total = warehouse.execute("select pupil_count from core.dim_schools").fetchall()[0][0]
    shown = warehouse.execute("select pupil_count from published.mart_school").fetchall()[0][0]
    assert shown == total
    system.publish("school", total)
    classes = warehouse.execute(
        "select class_id, core.pupil_count, shown.pupil_count from core.dim_classes as core"
        " inner join published.mart_classes as shown using (school_id, class_id)"
    ).fetchall()
    for class_id, count, told in classes:
        if told is not None:
            system.publish(class_id, told)
        if count < people.SMALL_CELL:
            small[class_id] = count
    system.adds_up([class_id for class_id, _, _ in classes], "school")
    sizes = {class_id: count for class_id, count, _ in classes}
    grades, _ = _grades(warehouse)
    told_grades = dict(
        warehouse.execute("select grade_code, pupil_count from published.mart_grades").fetchall()
    )
    for grade, members in grades.items():
        system.adds_up(members, grade)
        if told_grades[grade] is not None:
            system.publish(grade, told_grades[grade])
        if sum(sizes[member] for member in members) < people.SMALL_CELL:
            small[grade] = sum(sizes[member] for member in members)
    assert any(told is None for told in told_grades.values())
    found = known(system, small)
    assert not [name for name in small if found[name].is_exact]


def _measures(warehouse: duckdb.DuckDBPyConnection) -> list[tuple[str, str]]:
    return [
        (measure, term)
        for measure, term in warehouse.execute(
            "select distinct measure_name, term_id from core.fct_measures_judged"
            " inner join core.dim_measure_counts using (measure_name)"
            " where is_by_routine and not is_over_children order by 1, 2"
        ).fetchall()
    ]


@pytest.mark.parametrize(("window", "has_weeks", "most"), [
    ("term", False, 1000), ("last_20", False, 1000), ("term", True, 12),
])  # fmt: skip
def test_no_figure_of_one_or_two_classes_can_be_worked_out(
    warehouse: duckdb.DuckDBPyConnection, window: str, has_weeks: bool, most: int
) -> None:
    """Routine by grade by week, with all their sums; of weeks a drawn part (seeded)."""
    drawn, tried = random.Random(3), 0
    for measure, term in _measures(warehouse):
        found = looks.figures(warehouse, measure, term, window, has_weeks)
        few = looks.of_few(found)
        names = drawn.sample(sorted(few), min(most, len(few)))
        tried += len(names)
        for name, range_of in known(looks.system_of(found), names).items():
            width = range_of.high - range_of.low
            assert width >= min(1.0, 0.2 * few[name]) - 1e-6, (measure, term, name, few[name])
    assert tried > 100


def test_without_company_the_attack_finds_single_classes(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    exact = 0
    for measure, term in _measures(warehouse):
        found = looks.figures(warehouse, measure, term, "term", has_weeks=False)
        few = looks.of_few(found)
        open_system = looks.system_of(found, is_open=True)
        exact += sum(range_of.is_exact for range_of in known(open_system, few).values())
    assert exact > 5


def test_what_is_attacked_is_what_is_published(warehouse: duckdb.DuckDBPyConnection) -> None:
    """The reasons in the core tables are those of the files, and a withheld row has no counts."""
    for level, table, keys in (
        ("school", "mart_measures_by_school", "school_id"),
        ("grade", "mart_measures_by_grade", "school_id, grade_code"),
        ("class", "mart_measures_by_class", "school_id, class_id"),
        ("tier", "mart_measures_by_tier", "school_id, tier_code"),
    ):
        rows = warehouse.execute(
            f"""
            select count(*), count(*) filter (
                where shown.withheld_reason is distinct from judged.reason
                    or (judged.reason is not null and (shown.numerator_count is not null
                        or shown.denominator_count is not null or shown.value is not null
                        or shown.unit_count is not null or shown.change_value is not null))
                    or (judged.previous_reason is not null and (shown.previous_value is not null
                        or shown.previous_low is not null or shown.change_value is not null))
            )
            from core.fct_measures_compared as judged
            inner join published.{table} as shown
                using ({keys}, routine_id, term_id, window_code, measure_name)
            where judged.level_code = '{level}'
            """
        ).fetchall()
        assert rows[0][0] > 50, table
        assert rows[0][1] == 0, table
