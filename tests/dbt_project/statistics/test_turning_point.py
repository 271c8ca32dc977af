"""Where a condition turns: against roots known in closed form."""

from __future__ import annotations

import math

import numpy as np

from tests.dbt_project.columns import column, furthest
from tests.dbt_project.macro_runner import macros, scalar


def test_it_finds_roots_to_the_last_digit() -> None:
    c = np.linspace(0.001, 0.999, 101)
    square = macros()["turning_point"]("r", "0.0", "1.0", "r * r < c")
    assert furthest(column(square, c=c), np.sqrt(c)) < 3e-16
    logarithm = macros()["turning_point"]("r", "-20.0", "4.0", "exp(r) < c")
    assert furthest(column(logarithm, c=c), np.log(c)) < 6e-15


def test_ends_may_be_columns_and_sums() -> None:
    found = scalar("turning_point", "r", "a - 1.0", "a + 2.0", "r < 2.5", a=2.0)
    assert found == 2.5 or math.isclose(found, 2.5, abs_tol=1e-15)


def test_where_nothing_turns_it_is_an_end() -> None:
    assert abs(scalar("turning_point", "r", "2.0", "6.0", "r > 100.0") - 2) < 1e-14
    assert abs(scalar("turning_point", "r", "2.0", "6.0", "r < 100.0") - 6) < 1e-14


def test_fewer_steps_are_coarser_by_halves() -> None:
    found = scalar("turning_point", "r", "0.0", "1.0", "r < 0.3", 3)
    assert found in (0.25 + 1 / 16, 0.25 - 1 / 16, 0.3125)
    assert abs(found - 0.3) <= 1 / 16
