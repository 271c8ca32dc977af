"""Lessons against the plan, worked out by hand."""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Ask, Figure


def test_extra_of_one_routine_does_not_hide_none_of_another(figure: Figure) -> None:
    # listen: 12 given, 10 due -> 10. walk: 1 + 0.5 given, 4 due -> 1.5. Together 11.5 of 14.
    # One walk slot has no entry: with it 12.5 of 14.
    dose = figure("dose", "north", class_id="n1")
    assert (dose["numerator_count"], dose["denominator_count"]) == (11.5, 14.0)
    assert dose["value"] == dose["low"] == pytest.approx(11.5 / 14, abs=1e-9)
    assert dose["high"] == pytest.approx(12.5 / 14, abs=1e-9)


def test_the_uncapped_dose_counts_every_lesson(figure: Figure) -> None:
    assert figure("dose_uncapped", "north", class_id="n1")["numerator_count"] == 13.5


def test_a_routine_of_its_own_is_capped_by_itself(figure: Figure) -> None:
    assert figure("dose", "north", class_id="n1", routine_id="listen")["value"] == 1.0
    assert figure("dose", "north", class_id="n1", routine_id="walk")["value"] == 0.375


def test_tiers_split_the_dose_by_the_tier_of_the_routine(figure: Figure) -> None:
    assert figure("dose", "north", "tier", tier_code="1")["value"] == 1.0
    assert figure("dose", "north", "tier", tier_code="2")["value"] == 0.375
    assert figure("dose", "north", "tier", tier_code="3")["sufficiency"] == "none"


def test_every_due_slot_says_what_became_of_it(ask: Ask) -> None:
    rows = ask(
        "select slot_number, status, credit, cancel_reason from core.fct_plan_slots"
        " where class_id = 'n1' and routine_id = 'walk' order by slot_number"
    )
    assert rows == [
        (1, "delivered", 1.0, None),
        (2, "partly", 0.5, None),
        (3, "cancelled", 0.0, "trip"),
        (4, "not_logged", 0.0, None),
    ]


def test_pupils_reached_counts_nobody_where_nothing_was_given(figure: Figure) -> None:
    # 10 enrolled. 12 filled slots with 8 present, 2 empty: 96 of 140; the slot without an entry
    # could have reached its 10: 106 of 140.
    exposure = figure("exposure", "north", class_id="n1")
    assert (exposure["numerator_count"], exposure["denominator_count"]) == (96.0, 140.0)
    assert exposure["high"] == pytest.approx(106 / 140, abs=1e-9)


def test_completeness_is_about_the_log_only(figure: Figure) -> None:
    complete = figure("completeness_lessons", "north", class_id="n1")
    assert (complete["numerator_count"], complete["denominator_count"]) == (13.0, 14.0)


def test_written_down_on_a_later_school_day_is_back_filled_late_that_evening_is_not(
    ask: Ask,
) -> None:
    rows = ask(
        "select lesson_id, entry_delay_days, is_backfilled from core.fct_lessons"
        " where lesson_id in ('l5b', 'l9b') order by 1"
    )
    assert rows == [("l5b", 1, True), ("l9b", 0, False)]


def test_what_was_written_down_after_the_as_of_day_is_not_known(ask: Ask) -> None:
    assert ask("select count(*) from core.fct_lessons where lesson_id = 'w4'") == [(0,)]


def test_a_lesson_lost_to_an_emergency_is_not_due(figure: Figure) -> None:
    # 10 lessons on 10 weekdays, one closed: 9 due. Given 4 and two parts.
    # Part on the 2nd: 2 of the 4 steps of version 1. Part on the 9th: 1 of the 2 of version 2.
    dose = figure("dose", "snow", class_id="s1")
    assert (dose["numerator_count"], dose["denominator_count"]) == (5.0, 9.0)


def test_a_grade_plan_is_written_out_once_onto_a_mixed_class(ask: Ask) -> None:
    # listen: 4 for one grade, 6 for the other, the larger number applies.
    # walk: the class's own 2 replace the grade's 6.
    rows = ask(
        "select routine_id, count(*) from core.fct_plan_slots where class_id = 'm1'"
        " group by 1 order by 1"
    )
    assert rows == [("listen", 6), ("walk", 2)]
