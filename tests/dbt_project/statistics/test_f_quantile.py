"""Quantiles of F against scipy and against printed tables."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special, stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["f_quantile"]("p", "m", "n")


def test_it_errs_by_less_than_one_in_ten_to_the_twelve() -> None:
    chance = np.random.default_rng(5)
    m, n = np.exp(chance.uniform(np.log(0.5), np.log(2000), (2, 2000)))
    p = special.ndtr(chance.normal(0, 2, 2000)).clip(1e-6, 1 - 1e-6)
    expected = np.where(p > 0.5, stats.f.isf(1 - p, m, n), stats.f.ppf(p, m, n))
    assert worst(column(QUANTILE, p=p, m=m, n=n), expected) < 1e-12


# Upper points as in any printed table of F.
@pytest.mark.parametrize(
    ("p", "m", "n", "printed"),
    [(0.95, 1, 10, 4.965), (0.95, 5, 2, 19.30), (0.975, 4, 20, 3.515), (0.99, 10, 10, 4.849)],
)
def test_printed_tables(p: float, m: int, n: int, printed: float) -> None:
    assert scalar("f_quantile", "p", "m", "n", p=p, m=m, n=n) == pytest.approx(printed, abs=6e-3)


def test_whole_numbers_may_be_written() -> None:
    assert scalar("f_quantile", "0.95", "3", "2 + 5") == pytest.approx(
        stats.f.ppf(0.95, 3, 7), rel=1e-13
    )


def test_without_degrees_there_is_none() -> None:
    assert scalar("f_quantile", "0.5", "m", "n", m=0, n=3) is None
    assert scalar("f_quantile", "0.5", "m", "n", m=3, n=None) is None
