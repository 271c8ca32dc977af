"""T, E and sum (T - E)^2 / E of small classes, worked out by hand."""

from __future__ import annotations

import pytest

from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.statistics.audit_worlds import FOUR, chances_of

# The same child three times of three among four.
THRICE = [(1, 1, 0, 3), (1, 1, 1, 0), (1, 1, 2, 0), (1, 1, 3, 0)]


def _asked(name: str, *classes: list[tuple[int, int, int, int]]) -> list[tuple[object, ...]]:
    query = f"select * from ({macros()[name]('chances')}) as asked order by 1, 2"
    return table(query, chances=chances_of(classes))


def test_expected_turns_are_the_shares_of_the_sittings_a_child_was_there() -> None:
    # Child 2: 2/4. The others: 2/4 + 2/3.
    assert _asked("draw_expectations", FOUR) == [
        (0, 0, 2, pytest.approx(7 / 6)),
        (0, 1, 2, pytest.approx(7 / 6)),
        (0, 2, 0, pytest.approx(1 / 2)),
        (0, 3, 0, pytest.approx(7 / 6)),
    ]


def test_the_statistic_is_that_of_the_hand() -> None:
    # 2 (2 - 7/6)^2 / (7/6) + 1/2 + 7/6 = 2.857; thrice: (9/4)^2 / (3/4) + 3 x 3/4 = 9.
    by_hand = 2 * (2 - 7 / 6) ** 2 / (7 / 6) + 1 / 2 + 7 / 6
    assert _asked("draw_statistics", FOUR, THRICE) == [
        (0, 4, 4, pytest.approx(by_hand)),
        (1, 4, 3, pytest.approx(9.0)),
    ]


def test_sittings_without_a_turn_and_classes_without_one_do_not_count() -> None:
    idle = [(1, 1, 0, 0), (1, 1, 1, 0)]
    later = [*THRICE, (2, 1, 0, 0), (2, 1, 9, 0)]
    assert _asked("draw_statistics", idle, later) == [(1, 4, 3, pytest.approx(9.0))]


def test_a_single_turn_counts_and_has_its_chances() -> None:
    assert _asked("draw_expectations", [(1, 1, 0, 1), (1, 1, 1, 0), (2, 1, 1, 0)]) == [
        (0, 0, 1, pytest.approx(0.5)),
        (0, 1, 0, pytest.approx(0.5)),
    ]


def test_the_sum_over_simulated_turns_is_the_same_statistic() -> None:
    turns = "from (values (1, 7, 2), (1, 8, 1), (2, 7, 3)) t(pupil_number, simulation, turn_count)"
    pupils = "from (values (1, 'a', 2.0), (2, 'a', 1.0)) t(pupil_number, audit_id, expected_count)"
    query = macros()["simulated_statistic"]("turns", "pupils") + " order by simulation"
    found = table(query, turns=turns, pupils=pupils)
    # Simulation 7: 4/2 + 9/1 - 5. Simulation 8: 1/2 - 1 (the rest of the turns fell elsewhere).
    assert found == [("a", 7, pytest.approx(6.0)), ("a", 8, pytest.approx(-0.5))]
