"""A routine is reworded on the 8th, from four steps to two.

Lessons given in part with two steps done: on the 5th 2 of 4 = .5, on the 8th 2 of 2 = 1.
Dose: 1.5 of 2. Visits: 1 of 4 under the old wording, 2 of 2 under the new: (.25 + 1) / 2 = .625,
and the steps of the two wordings are never added together.
"""

from __future__ import annotations

from tests.dbt_project.answers import Ask, Figure
from tests.dbt_project.golden import day


def test_a_part_is_measured_by_the_wording_of_its_day(figure: Figure) -> None:
    dose = figure("dose", "word", class_id="said")
    assert (dose["numerator_count"], dose["denominator_count"]) == (1.5, 2.0)


def test_a_visit_is_scored_by_the_steps_it_saw(figure: Figure) -> None:
    assert figure("adherence", "word", class_id="said")["value"] == 0.625


def test_steps_of_two_wordings_stay_apart(ask: Ask) -> None:
    rows = ask(
        "select version, sum(done_count), sum(not_done_count) from core.fct_step_results"
        " where class_id = 'said' group by 1 order by 1"
    )
    assert rows == [(1, 1, 3), (2, 2, 0)]


def test_the_day_of_the_change_is_kept_for_the_trend(ask: Ask) -> None:
    rows = ask(
        "select version, valid_from_on::varchar from core.dim_routine_versions"
        " where routine_id = 'listen' order by version"
    )
    assert rows == [(1, "2025-08-01"), (2, day(8))]
