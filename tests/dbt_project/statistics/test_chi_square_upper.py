"""Upper tails of chi-square against scipy, with fractions of degrees of freedom."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special, stats

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

UPPER = macros()["chi_square_upper"]("x", "df")


def _grid(least: float, most: float, count: int) -> dict[str, np.ndarray]:
    chance = np.random.default_rng(4)
    df = np.exp(chance.uniform(np.log(least), np.log(most), count))
    p = special.ndtr(chance.normal(0, 3, count)).clip(1e-12, 1 - 1e-9)
    return {"x": stats.chi2.isf(p, df), "df": df}


@pytest.mark.parametrize(
    ("least", "most", "error"),
    [(0.2, 200, 4e-14), (200, 5000, 2e-13), (5000, 1e6, 5e-11)],
)
def test_it_errs_by_no_more_than_its_header_says(least: float, most: float, error: float) -> None:
    given = _grid(least, most, 2000)
    assert furthest(column(UPPER, **given), stats.chi2.sf(given["x"], given["df"])) < error


def test_far_tails_keep_their_digits() -> None:
    df = np.tile([0.5, 1, 2, 3, 4.5, 10, 25, 60], 30)
    x = df + 2 + np.repeat(np.geomspace(0.01, 900, 30), 8)
    assert worst(column(UPPER, x=x, df=df), stats.chi2.sf(x, df)) < 2e-13


def test_near_nothing_the_rest_is_what_scipy_says() -> None:
    df = np.tile([0.5, 1, 2, 3, 8], 20)
    x = np.repeat(np.geomspace(1e-12, 0.5, 20), 5)
    found = column(UPPER, x=x, df=df)
    assert furthest(found, stats.chi2.sf(x, df)) < 2e-14


def test_two_degrees_are_an_exponential() -> None:
    x = np.linspace(0, 60, 241)
    assert worst(column(UPPER, x=x, df=np.full_like(x, 2)), np.exp(-x / 2)) < 6e-14


def test_beyond_the_ends_and_the_unknown() -> None:
    assert scalar("chi_square_upper", "x", "df", x=0, df=3) == 1.0
    assert scalar("chi_square_upper", "x", "df", x=-4, df=3) == 1.0
    assert scalar("chi_square_upper", "x", "df", x=1e300, df=3) == 0.0
    for given in ({"x": None, "df": 3}, {"x": 1, "df": None}, {"x": 1, "df": 0}):
        assert scalar("chi_square_upper", "x", "df", **given) is None


def test_the_steps_grow_with_the_root_of_the_shape_up_to_ten_thousand() -> None:
    shapes = {"a": [0.25, 4, 100, 1e9]}
    assert column(macros()["gamma_lower_steps"]("a"), **shapes).tolist() == [30, 45, 125, 10_000]
    assert column(macros()["gamma_upper_steps"]("a"), **shapes).tolist() == [74, 86, 150, 10_000]
