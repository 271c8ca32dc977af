"""Nothing about a person, nothing of another class, nothing that can be worked back."""

from __future__ import annotations

import re
from collections import defaultdict

import duckdb
import pytest

from tests.dbt_project.marts.attack import difference
from tests.dbt_project.marts.conftest import Built

SMALL_CELL = 10


def _tables(warehouse: duckdb.DuckDBPyConnection, schema: str) -> list[str]:
    query = "select table_name from information_schema.tables where table_schema = ? order by 1"
    return [name for (name,) in warehouse.execute(query, [schema]).fetchall()]


def _texts(warehouse: duckdb.DuckDBPyConnection, schema: str, table: str) -> set[str]:
    described = warehouse.execute(f"describe {schema}.{table}").fetchall()
    found: set[str] = set()
    for column in [row[0] for row in described if row[1] == "VARCHAR"]:
        rows = warehouse.execute(
            f'select distinct "{column}" from {schema}.{table} where "{column}" is not null'
        )
        found.update(str(text) for (text,) in rows.fetchall())
    return found


def test_no_published_cell_names_or_keys_a_child(warehouse: duckdb.DuckDBPyConnection) -> None:
    pupils = warehouse.execute("select person_id from core.dim_people where role = 'student'")
    keys = {key for (key,) in pupils.fetchall()}
    named = warehouse.execute("select given_name, family_name from memory.landing_names").fetchall()
    names = {name for row in named for name in row if name}
    assert keys
    assert names
    tables = _tables(warehouse, "published")
    assert len(tables) > 25
    for table in tables:
        texts = _texts(warehouse, "published", table)
        words = {word for text in texts for word in re.split(r"[\s;:,.()]+", text)}
        assert not words & keys, table
        assert not words & names, table


def test_only_the_queue_of_a_room_carries_names(warehouse: duckdb.DuckDBPyConnection) -> None:
    rows = warehouse.execute(
        "select distinct table_schema, table_name from information_schema.columns"
        " where column_name in ('given_name', 'family_name', 'family_initial')"
        " and table_schema in ('published', 'rooms')"
    ).fetchall()
    assert rows == [("rooms", "room_turns")]
    named = warehouse.execute("select count(given_name) from rooms.room_turns").fetchall()
    assert named[0][0] > 0


def test_a_room_holds_its_own_children_only(warehouse: duckdb.DuckDBPyConnection) -> None:
    strangers = warehouse.execute(
        """
        select room_turns.class_id, room_turns.pupil_id
        from rooms.room_turns
        left join core.dim_memberships
            on
                room_turns.class_id = dim_memberships.class_id
                and room_turns.pupil_id = dim_memberships.person_id
                and dim_memberships.is_member
        where dim_memberships.person_id is null
        """
    ).fetchall()
    assert strangers == []
    for table in _tables(warehouse, "rooms"):
        lost = warehouse.execute(f"select count(*) from rooms.{table} where class_id is null")
        assert lost.fetchall()[0][0] == 0, table
        others = warehouse.execute("select class_id from core.dim_classes").fetchall()
        for (class_id,) in others:
            own = warehouse.execute(
                f"select * from rooms.{table} where class_id = ?", [class_id]
            ).fetchdf()
            texts = {str(cell) for column in own.columns for cell in own[column].dropna()}
            assert not texts & {other for (other,) in others if other != class_id}, table


def test_the_school_reads_no_class(warehouse: duckdb.DuckDBPyConnection, built: Built) -> None:
    classes = {
        key for (key,) in warehouse.execute("select class_id from core.dim_classes").fetchall()
    }
    staff = {
        key
        for (key,) in warehouse.execute(
            "select person_id from core.dim_people where role != 'student'"
        ).fetchall()
    }
    school = built.school_tables()
    assert "mart_measures_by_grade" in school
    for table in school:
        texts = _texts(warehouse, "published", table)
        assert not texts & (classes | staff), table


def test_a_grade_too_small_is_withheld_and_has_company(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    """Grade 05 is one class (few_classes); the next smallest by children goes along."""
    rows = warehouse.execute(
        "select grade_code, class_count, pupil_count, withheld_reason from published.mart_grades"
    ).fetchall()
    reasons = {grade: reason for grade, _, _, reason in rows}
    assert {grade: classes for grade, classes, _, _ in rows} == {"01": 4, "02": 4, "03": 3, "05": 1}
    assert reasons["05"] == "few_classes"
    assert sorted(map(str, reasons.values())) == ["None", "None", "complementary", "few_classes"]
    assert all((people is None) == (reason is not None) for _, _, people, reason in rows)


def test_no_count_of_a_withheld_grade_can_be_worked_out(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    """Differencing every count of every measure, term and window: school minus the shown grades."""
    query = """
        select
            grades.routine_id, grades.term_id, grades.window_code, grades.measure_name,
            grades.grade_code, grades.numerator_count, grades.denominator_count,
            grades.is_withheld, school.numerator_count, school.denominator_count
        from published.mart_measures_by_grade as grades
        inner join published.mart_measures_by_school as school
            using (school_id, routine_id, term_id, window_code, measure_name)
        where school.numerator_count is not null
    """
    rows: dict[tuple[str, ...], list[tuple[str, float | None, bool, float]]] = defaultdict(list)
    for row in warehouse.execute(query).fetchall():
        for side, own, total in (("n", row[5], row[8]), ("d", row[6], row[9])):
            rows[(*row[:4], side)].append((row[4], own, row[7], total))
    assert len(rows) > 500
    for key, cells in rows.items():
        hidden = {grade: None for grade, _, is_withheld, _ in cells if is_withheld}
        shown = {grade: own or 0.0 for grade, own, is_withheld, _ in cells if not is_withheld}
        assert len(hidden) != 1, key
        guesses = difference({**shown, **hidden}, cells[0][3])
        assert not [one for one in guesses.values() if one.is_recovered and one.high > 0], key


@pytest.mark.parametrize("kind", ["school", "grade", "tier", "class"])
def test_no_people_below_the_setting_are_counted(
    warehouse: duckdb.DuckDBPyConnection, kind: str
) -> None:
    rows = warehouse.execute(
        f"""
        select measure_name, numerator_count, denominator_count
        from published.mart_measures_by_{kind}
        where
            measure_name in ('turn_coverage', 'tier_share')
            and (
                numerator_count < {SMALL_CELL}
                or denominator_count < {SMALL_CELL}
                or (measure_name != 'tier_share'
                    and denominator_count - numerator_count < {SMALL_CELL})
            )
        """
    ).fetchall()
    assert rows == []


def test_coarsened_shares_still_say_something_true(warehouse: duckdb.DuckDBPyConnection) -> None:
    rows = warehouse.execute(
        """
        select published.low, published.high, core.value
        from published.mart_measures_by_school as published
        inner join core.fct_measures as core
            using (school_id, routine_id, term_id, window_code, measure_name)
        where published.withheld_reason = 'end_coarsened' and core.level_code = 'school'
        """
    ).fetchall()
    assert rows
    assert all(low <= value <= high for low, high, value in rows)


def test_what_was_withheld_last_term_is_not_told_this_term(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    query = """
        select count(*), count(now.previous_value), count(now.previous_low)
        from published.mart_measures_by_grade as now
        inner join published.mart_measures_by_grade as before
            on
                now.grade_code = before.grade_code
                and now.routine_id = before.routine_id
                and now.measure_name = before.measure_name
                and now.window_code = before.window_code
                and now.previous_term_id = before.term_id
        where before.is_withheld
    """
    rows, values, lows = warehouse.execute(query).fetchall()[0]
    assert rows > 0
    assert (values, lows) == (0, 0)


def test_a_grade_withheld_for_the_term_is_withheld_every_week(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    query = """
        select count(*), count(value), count(low)
        from published.mart_weeks_by_grade
        where grade_code in (select grade_code from published.mart_grades where is_withheld)
    """
    rows, values, lows = warehouse.execute(query).fetchall()[0]
    assert rows > 0
    assert (values, lows) == (0, 0)


def test_children_are_never_counted_below_the_setting_in_the_turn_checks(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    query = """
        select finding_count from published.mart_turn_checks
        where counted_thing = 'children' and is_found
    """
    counts = [count for (count,) in warehouse.execute(query).fetchall()]
    assert counts
    assert all(count is None or count >= SMALL_CELL for count in counts)
