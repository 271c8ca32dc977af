"""Student's t distribution against scipy, with fractions of degrees of freedom."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

CDF = macros()["t_cdf"]("t", "df")
DF = np.array([0.1, 0.5, 1, 1.5, 2, 3, 3.7, 4, 5, 7, 10, 20.25, 30, 60, 120, 400])


def _pairs(t: np.ndarray, df: np.ndarray) -> dict[str, np.ndarray]:
    grid = np.meshgrid(t, df)
    return {"t": grid[0].ravel(), "df": grid[1].ravel()}


@pytest.mark.parametrize(
    ("df", "error"),
    [(DF, 2e-14), (np.geomspace(400, 1e4, 8), 1e-12), (np.geomspace(1e4, 1e6, 6), 1e-10)],
)
def test_it_errs_by_no_more_than_its_header_says(df: np.ndarray, error: float) -> None:
    given = _pairs(np.linspace(-8, 8, 161), df)
    assert furthest(column(CDF, **given), stats.t.cdf(given["t"], given["df"])) < error


def test_the_lower_tail_keeps_its_digits() -> None:
    given = _pairs(-np.geomspace(0.01, 60, 40), DF)
    assert worst(column(CDF, **given), stats.t.cdf(given["t"], given["df"])) < 5e-13


def test_closed_forms_of_one_and_two_degrees() -> None:
    t = np.concatenate([np.linspace(-20, 20, 201), [1e-9, -1e-6, 1e-3]])
    one, two = (column(CDF, t=t, df=np.full_like(t, df)) for df in (1, 2))
    assert furthest(one, 0.5 + np.arctan(t) / np.pi) < 2e-14
    assert furthest(two, 0.5 + t / (2 * np.sqrt(2 + t * t))) < 2e-14


def test_the_middle_and_the_unknown() -> None:
    assert scalar("t_cdf", "0", "df", df=5) == 0.5
    for given in (
        {"t": None, "df": 3},
        {"t": 1, "df": None},
        {"t": 1, "df": 0},
        {"t": 1, "df": -1},
    ):
        assert scalar("t_cdf", "t", "df", **given) is None
