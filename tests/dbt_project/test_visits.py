"""Scores of visits, worked out by hand."""

from __future__ import annotations

import pytest

from tests.dbt_project.answers import Figure


def test_two_observers_of_a_pair_are_one_visit_with_their_mean(figure: Figure) -> None:
    # 2 of 2 and 1 of 2: (1 + .5) / 2. The training visit (0 of 2) is not counted.
    adherence = figure("adherence", "eye", class_id="e1")
    assert adherence["value"] == 0.75
    assert (adherence["session_count"], adherence["numerator_count"]) == (1, 1.5)


def test_a_substitutes_day_is_left_out_of_the_class_and_kept_for_the_school(figure: Figure) -> None:
    assert figure("adherence", "eye", class_id="e2")["value"] == 0.5
    # School: e1 .75; e2 with the substitute (.5 + .5 + .5 + 0) / 4 = .375; mean .5625.
    assert figure("adherence", "eye", "school")["value"] == 0.5625


def test_a_class_counts_once_however_often_it_was_visited(figure: Figure) -> None:
    # Pooling every step would give (1.5 + 3) / (2 + 8) = .45 and let the much visited class rule.
    grade = figure("adherence", "eye", "grade", grade_code="01")
    assert grade["value"] == 0.5625
    assert grade["value"] != pytest.approx(0.45)


def test_a_visit_that_saw_too_little_is_thin(figure: Figure) -> None:
    # v5 saw 2 of 4 steps: below .6. Three visits less one thin one are too few to be usable.
    adherence = figure("adherence", "eye", class_id="e2", routine_id="listen")
    assert (adherence["thin_count"], adherence["sufficiency"]) == (1, "thin")
    assert adherence["status"] == "none"


def test_an_accepted_alternative_counts_as_met_and_hidden_children_do_not_count(
    figure: Figure,
) -> None:
    looks = figure("responsiveness", "eye", class_id="e2")
    assert (looks["numerator_count"], looks["denominator_count"]) == (4.0, 5.0)


def test_tolerance_never_turns_silent_into_voiced(figure: Figure) -> None:
    # Expected a whisper (1); heard 0, 1, 2.
    assert figure("voice_match", "eye", class_id="e2")["value"] == pytest.approx(1 / 3, abs=1e-9)
    tolerant = figure("voice_match_tolerant", "eye", class_id="e2")
    assert tolerant["value"] == pytest.approx(2 / 3, abs=1e-9)
    assert figure("voice_bias", "eye", class_id="e2")["value"] == 0.0


def test_thirty_chances_in_ten_minutes_carry_the_exact_poisson_range(figure: Figure) -> None:
    rate = figure("opportunities_individual", "eye", class_id="e2")
    assert rate["value"] == 3.0
    assert (round(rate["low"], 2), round(rate["high"], 2)) == (2.02, 4.28)


def test_time_to_ready_takes_the_censored_as_longer(figure: Figure) -> None:
    # 20, 40, 300+ : at 40 s a third is left.
    ready = figure("time_to_ready", "eye", class_id="e2")
    assert (ready["value"], ready["numerator_count"], ready["denominator_count"]) == (
        40.0,
        2.0,
        3.0,
    )


def test_what_nobody_looked_at_is_a_row_and_not_a_zero(figure: Figure) -> None:
    quality = figure("quality", "eye", class_id="e1")
    assert (quality["value"], quality["sufficiency"], quality["session_count"]) == (None, "none", 0)


def test_sessions_lost_to_absence_do_not_count_against_support(figure: Figure) -> None:
    # 3 of (5 - 2) and 4 of 5.
    support = figure("support_delivery", "up", class_id="u1")
    assert (support["numerator_count"], support["denominator_count"]) == (7.0, 8.0)


def test_a_child_in_two_tiers_counts_in_the_highest(figure: Figure) -> None:
    shares = [figure("tier_share", "up", "tier", tier_code=tier)["value"] for tier in "123"]
    assert shares == [0.75, 0.0, 0.25]
