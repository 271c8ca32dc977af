"""Turns against chances, worked out by hand.

Day 1: two turns, four eligible. Day 2: p3 is away, one turn, three eligible. Day 10: p4 has left
and p5 has come, one turn, four eligible.
"""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Ask, Figure


def test_chances_count_only_draws_while_the_child_was_there(ask: Ask) -> None:
    rows = ask(
        "select pupil_id, offered_count, taken_count, present_draw_count, expected_count,"
        " longest_wait_days, open_wait_days from core.fct_turns where class_id = 't1' order by 1"
    )
    assert rows == [
        ("t-p1", 2, 2, 4, pytest.approx(2 / 4 + 1 / 3 + 1 / 4, abs=1e-9), 1, 1),
        ("t-p2", 1, 0, 4, pytest.approx(2 / 4 + 1 / 3 + 1 / 4, abs=1e-9), 2, 2),
        ("t-p3", 0, 0, 3, pytest.approx(2 / 4 + 1 / 4, abs=1e-9), 2, 2),
        ("t-p4", 0, 0, 3, pytest.approx(2 / 4 + 1 / 3, abs=1e-9), 2, 2),
        ("t-p5", 1, 1, 1, pytest.approx(1 / 4, abs=1e-9), 0, 0),
    ]


def test_expected_turns_add_up_to_the_turns_there_were(ask: Ask) -> None:
    turns, expected = ask(
        "select sum(offered_count), sum(expected_count) from core.fct_turns where class_id = 't1'"
    )[0]
    assert turns == 4
    assert expected == pytest.approx(4, abs=1e-6)


def test_coverage_counts_children_with_a_turn(figure: Figure) -> None:
    coverage = figure("turn_coverage", "turn", class_id="t1")
    assert (coverage["numerator_count"], coverage["denominator_count"]) == (3.0, 5.0)


def test_evenness_is_one_minus_the_gini_of_turns_per_chance(figure: Figure) -> None:
    # T/X in order: 0, 0, 1/4, 1/2, 1. Sum (2i - 6) x = 0.5 * 2 + 1 * 4 = 5; 5 / (5 * 1.75) = .571.
    evenness = figure("turn_evenness", "turn", class_id="t1")
    assert evenness["value"] == pytest.approx(1 - 5 / (5 * 1.75), abs=1e-9)


def test_the_longest_wait_counts_the_open_one(figure: Figure) -> None:
    assert figure("turn_longest_wait", "turn", class_id="t1")["value"] == 2.0


def test_who_has_not_had_a_turn_in_the_open_cycle_is_waiting(ask: Ask) -> None:
    rows = ask(
        "select pupil_id from core.fct_turns where class_id = 't1' and is_waiting order by 1"
    )
    assert rows == [("t-p3",)]


def test_think_time_is_the_median_wait_with_the_share_of_long_ones(figure: Figure) -> None:
    think = figure("think_time", "turn", class_id="t1")
    assert (think["value"], think["numerator_count"], think["denominator_count"]) == (2.5, 2.0, 4.0)
