"""The tables say what was planted, miss no week and add up."""

from __future__ import annotations

import duckdb
import pytest

from tests.dbt_project.marts.conftest import Built
from tests.dbt_project.run_dbt import run_dbt


def test_the_unit_tests_beside_the_models_hold(built: Built) -> None:
    done = run_dbt(
        ["test", "--select", "test_type:unit,path:models/marts"],
        built.landing,
        built.folder,
        built.values,
    )
    assert done.returncode == 0, done.stdout[-6000:]
    assert "PASS=0" not in done.stdout


def test_the_model_documentation_can_be_made(built: Built) -> None:
    done = run_dbt(["docs", "generate"], built.landing, built.folder, built.values)
    assert done.returncode == 0, done.stdout[-6000:]
    assert (built.folder / "target" / "catalog.json").is_file()


def test_the_school_has_one_row(warehouse: duckdb.DuckDBPyConnection) -> None:
    row = warehouse.execute(
        "select class_count, term_id, week_number, week_count, school_name"
        " from published.mart_school"
    ).fetchall()
    assert row == [(11, "t-winter", 4, 12, "Quillbrook Primary (invented)")]


@pytest.mark.parametrize("level", ["school", "grade", "class"])
def test_every_week_begun_has_a_row_also_where_nobody_looked(
    warehouse: duckdb.DuckDBPyConnection, level: str
) -> None:
    weeks = warehouse.execute("select count(*) from core.dim_weeks where is_elapsed").fetchall()
    group = {"school": "school_id", "grade": "grade_code", "class": "class_id"}[level]
    counts = warehouse.execute(
        f"select distinct count(*) from published.mart_weeks_by_{level}"
        f" group by {group}, routine_id, measure_name"
    ).fetchall()
    assert counts == weeks
    silent = warehouse.execute(
        f"select count(*), count(value) from published.mart_weeks_by_{level}"
        " where sufficiency = 'none'"
    ).fetchall()[0]
    assert silent[0] > 0
    assert silent[1] == 0


def test_breaks_are_weeks_without_school(warehouse: duckdb.DuckDBPyConnection) -> None:
    weeks = warehouse.execute(
        "select distinct week_first_on::varchar from published.mart_weeks_by_school where is_break"
    ).fetchall()
    assert weeks == [("2025-10-20",)]


def test_the_band_needs_five_classes(warehouse: duckdb.DuckDBPyConnection) -> None:
    rows = warehouse.execute(
        "select min(class_count), max(class_count), bool_and(q1 <= q3)"
        " from published.mart_weeks_band"
    ).fetchall()
    assert rows[0] == (5, 11, True)


def test_the_calendar_counts_every_lesson_once(warehouse: duckdb.DuckDBPyConnection) -> None:
    total, kinds, lessons = warehouse.execute(
        """
        select
            (select sum(lesson_count) from published.mart_teaching_calendar
             where lesson_kind = '*'),
            (select sum(lesson_count) from published.mart_teaching_calendar
             where lesson_kind != '*'),
            (select count(*) from core.fct_lessons where status in ('delivered', 'partly'))
        """
    ).fetchall()[0]
    assert total == kinds == lessons
    assert lessons > 500


def test_the_ledger_balances(warehouse: duckdb.DuckDBPyConnection) -> None:
    rows = warehouse.execute(
        "select count(*), bool_and(is_balanced), sum(received_count)"
        " from published.mart_data_health"
    ).fetchall()[0]
    assert rows[0] > 10
    assert rows[1] is True
    files = warehouse.execute("select sum(received_count) from published.mart_files").fetchall()
    assert rows[2] == files[0][0]


def test_the_dip_after_the_break_is_a_matter_of_the_grade(
    built: Built, warehouse: duckdb.DuckDBPyConnection
) -> None:
    planted = built.manifest.situation("dip_after_break")
    offers = warehouse.execute(
        "select grade_code, routine_id, shown_class_count, class_count from published.mart_offers"
        " where level_code = 'grade'"
    ).fetchall()
    assert (planted.grade_code, planted.routine_id, 3, 4) in offers
    held = warehouse.execute(
        "select count(*) from published.mart_offers"
        " where level_code = 'class' and state_code = 'held_grade' and routine_id = ?",
        [planted.routine_id],
    ).fetchall()
    assert held[0][0] == 3
    told = warehouse.execute(
        "select count(*) from published.mart_offers_by_school"
        " where matter_code = 'grade' and routine_id = ?",
        [planted.routine_id],
    ).fetchall()
    assert told[0][0] == 1


def test_the_class_whose_voices_do_not_match_has_a_line(
    built: Built, warehouse: duckdb.DuckDBPyConnection
) -> None:
    planted = built.manifest.situation("low_voice_match")
    rows = warehouse.execute(
        "select state_code, measure_name, sureness from published.mart_offers"
        " where class_id = ? and routine_id = ?",
        [planted.class_id, planted.routine_id],
    ).fetchall()
    assert rows == [("offer", "voice_match", "likely_below")]


def test_a_class_hardly_seen_gets_no_offer_and_the_reason(
    built: Built, warehouse: duckdb.DuckDBPyConnection
) -> None:
    planted = built.manifest.situation("thin_class")
    reasons = warehouse.execute(
        "select distinct why_not from published.mart_offers where class_id = ?", [planted.class_id]
    ).fetchall()
    assert reasons == [("thin",)]
    is_thin = warehouse.execute(
        "select is_thin from published.mart_classes where class_id = ?", [planted.class_id]
    ).fetchall()
    assert is_thin == [(True,)]


@pytest.mark.parametrize(
    ("situation", "check_name"),
    [("lost_card", "never_drawn_in_cycle"), ("newcomer_never_added", "newcomer_not_added")],
)
def test_children_whom_the_cards_forgot_are_found_and_no_other_class_is_named(
    built: Built, warehouse: duckdb.DuckDBPyConnection, situation: str, check_name: str
) -> None:
    planted = built.manifest.situation(situation)
    found = warehouse.execute(
        "select class_id from published.mart_turn_checks where check_name = ? and is_found",
        [check_name],
    ).fetchall()
    assert (planted.class_id,) in found
    forgotten = {
        built.manifest.situation(name).class_id for name in ("lost_card", "newcomer_never_added")
    }
    assert {class_id for (class_id,) in found} <= forgotten


def test_the_teacher_sees_the_forgotten_child_first_in_the_queue(
    built: Built, warehouse: duckdb.DuckDBPyConnection
) -> None:
    planted = built.manifest.situation("lost_card")
    assert planted.facts is not None
    rows = warehouse.execute(
        "select is_waiting, queue_position from rooms.room_turns"
        " where class_id = ? and pupil_id = ?",
        [planted.class_id, planted.facts["pupil_id"]],
    ).fetchall()
    assert rows == [(True, 1)]


def test_who_logs_nothing_shows_in_the_completeness(
    built: Built, warehouse: duckdb.DuckDBPyConnection
) -> None:
    planted = built.manifest.situation("silent_logger")
    rows = warehouse.execute(
        "select class_id, silent_days from published.mart_completeness"
        " where feed = 'routine_lessons' and term_id = 't-winter'"
        " order by silent_days desc, class_id"
    ).fetchall()
    assert rows[0][0] == planted.class_id
    assert rows[0][1] >= 10


def test_capacity_is_kept_and_offers_stand_in_order_of_date_and_name(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    rows = warehouse.execute(
        "select state_code, next_review_on, class_title from published.mart_offers"
        " where level_code = 'class' and state_code in ('offer', 'waiting')"
    ).fetchall()
    offers = [row[1:] for row in rows if row[0] == "offer"]
    waiting = [row[1:] for row in rows if row[0] == "waiting"]
    assert 0 < len(offers) <= 4
    assert not waiting or max(offers) <= min(waiting)


def test_no_word_of_an_offer_judges(warehouse: duckdb.DuckDBPyConnection) -> None:
    described = warehouse.execute("describe published.mart_offers").fetchall()
    texts = [row[0] for row in described if row[1] == "VARCHAR"]
    cells = {
        str(cell)
        for column in texts
        for (cell,) in warehouse.execute(
            f"select distinct {column} from published.mart_offers"
        ).fetchall()
    }
    for word in ("fail", "deficien", "worst", "rank", "percent"):
        assert not [text for text in (*cells, *(row[0] for row in described)) if word in text]
