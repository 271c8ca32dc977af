"""Quantiles against scipy, and the error that their record states."""

from __future__ import annotations

import duckdb
import numpy as np
import pandas as pd
import pytest
from scipy import stats

from tests.dbt_project.macro_runner import macros, scalar

UPPER = ["0.6", "0.75", "0.9", "0.95", "0.975", "0.99", "0.995", "0.9995"]
BOTH = ["0.0005", "0.005", "0.025", "0.1", "0.25", "0.5", *UPPER]
SHAPES = [*range(1, 120), 1_000, 30_000]


def _column(macro: str, p: str, values: list[int]) -> np.ndarray:
    given = pd.DataFrame({"x": np.array(values, dtype=float)})  # noqa: F841
    with duckdb.connect() as connection:
        query = f"select {macros()[macro](p, 'x')} as y from given order by x"
        return connection.execute(query).df()["y"].to_numpy()


@pytest.mark.parametrize(
    "p", [1e-300, 1e-20, 1e-9, 0.0005, 0.025, 0.0749, 0.0751, 0.3, 0.5, 0.8, 0.975, 0.9999999]
)
def test_the_normal_quantile_is_exact_to_rounding(p: float) -> None:
    assert scalar("normal_quantile", "p", p=p) == pytest.approx(
        stats.norm.ppf(p), rel=1e-14, abs=1e-15
    )


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, 1.1, None])
def test_the_normal_quantile_is_null_where_there_is_none(p: float | None) -> None:
    assert scalar("normal_quantile", "p", p=p) is None


@pytest.mark.parametrize("p", UPPER)
def test_the_t_quantile_errs_by_less_than_one_in_a_hundred_thousand(p: str) -> None:
    values = [*range(1, 200), 1_000, 100_000]
    error = _column("t_quantile", p, values) / stats.t.ppf(float(p), values) - 1
    assert np.abs(error).max() < 1e-5


def test_the_t_quantile_is_exact_for_one_and_two_degrees_of_freedom() -> None:
    for df in (1, 2):
        assert scalar("t_quantile", "0.975", "df", df=df) == pytest.approx(
            stats.t.ppf(0.975, df), rel=1e-12
        )


def test_the_t_quantile_takes_a_probability_written_as_a_sum() -> None:
    written = scalar("t_quantile", "1.0 - (1.0 - 0.95) / 2.0", "df", df=21)
    assert written == pytest.approx(2.0796138, rel=1e-6)


def test_the_t_quantile_without_degrees_of_freedom_is_null() -> None:
    assert scalar("t_quantile", "0.975", "df", df=0) is None
    assert scalar("t_quantile", "0.975", "df", df=None) is None


@pytest.mark.parametrize("p", BOTH)
def test_the_gamma_quantile_errs_by_less_than_one_in_a_hundred_thousand(p: str) -> None:
    error = _column("gamma_quantile", p, SHAPES) / stats.gamma.ppf(float(p), SHAPES) - 1
    assert np.abs(error).max() < 1e-5
    assert np.abs(error[:20]).max() < 1e-9
