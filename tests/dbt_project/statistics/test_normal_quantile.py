"""The inverse of the normal distribution against scipy, to the last digits."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["normal_quantile"]("p")


def test_the_lower_half_is_exact_to_rounding() -> None:
    p = np.concatenate([np.geomspace(1e-300, 0.49, 4001), np.linspace(0.0701, 0.0799, 199)])
    assert worst(column(QUANTILE, p=p), stats.norm.ppf(p)) < 2e-15


def test_the_upper_half_is_exact_to_rounding() -> None:
    p = np.concatenate([np.linspace(0.51, 0.999, 2001), 1 - np.geomspace(1e-15, 1e-3, 500)])
    assert worst(column(QUANTILE, p=p), stats.norm.ppf(p)) < 2e-15
    assert furthest(column(QUANTILE, p=np.array([0.5])), [0.0]) == 0


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, 1.1, None])
def test_it_is_null_where_there_is_none(p: float | None) -> None:
    assert scalar("normal_quantile", "p", p=p) is None


def test_a_two_sided_level_leaves_half_of_the_rest_above() -> None:
    level = np.array([0.5, 0.8, 0.9, 0.95, 0.99, 0.999])
    found = column(macros()["two_sided_z"]("level"), level=level)
    assert worst(found, stats.norm.isf((1 - level) / 2)) < 1e-13
    assert round(scalar("two_sided_z", "0.95"), 6) == 1.959964


def test_a_polynomial_takes_its_coefficients_from_the_highest_power() -> None:
    x = np.array([-1.5, 0.0, 2.0])
    text = macros()["polynomial"]("x", ["2.0", "-3.0", "0.5"])
    assert furthest(column(text, x=x), 2 * x * x - 3 * x + 0.5) == 0
