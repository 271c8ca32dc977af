"""Quantiles of Student's t against scipy, and the error that their record states."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["t_quantile"]
DF = np.array([*range(3, 60), 80, 120, 200, 1_000, 100_000], dtype=float)
UPPER = [0.55, 0.6, 0.75, 0.9, 0.95, 0.975, 0.99, 0.995, 0.9995]
# How near the expansions are, measured, at the quantiles .9, .95, .975 and .995 by df.
CLOSE = {
    3: (8e-7, 8e-6, 1e-6, 2e-8),
    4: (2e-7, 6e-8, 3e-7, 5e-7),
    5: (1e-8, 5e-8, 7e-8, 5e-6),
    8: (2e-9, 6e-9, 1e-8, 2e-8),
    20: (2e-11, 6e-11, 2e-10, 7e-10),
    120: (2e-14, 2e-14, 2e-14, 1e-13),
}


def test_one_and_two_degrees_are_exact() -> None:
    for df in (1, 2):
        p = np.array([*UPPER, 0.999999])
        found = column(QUANTILE("p", "df"), p=p, df=np.full_like(p, df))
        assert worst(found, stats.t.ppf(p, df)) < 1e-10


def test_it_errs_by_less_than_one_in_a_hundred_thousand() -> None:
    p, df = (one.ravel() for one in np.meshgrid(UPPER, DF))
    assert worst(column(QUANTILE("p", "df"), p=p, df=df), stats.t.ppf(p, df)) < 1e-5


def test_the_more_degrees_the_nearer() -> None:
    p, df = (one.ravel() for one in np.meshgrid([0.9, 0.95, 0.975, 0.995], list(CLOSE)))
    error = np.abs(column(QUANTILE("p", "df"), p=p, df=df) / stats.t.ppf(p, df) - 1)
    assert (error < np.array(list(CLOSE.values())).ravel()).all()


def test_a_probability_may_be_written_as_a_sum() -> None:
    written = scalar("t_quantile", "1.0 - (1.0 - 0.95) / 2.0", "df", df=21)
    assert written == pytest.approx(2.0796138447, rel=1e-7)


def test_without_degrees_of_freedom_there_is_none() -> None:
    assert scalar("t_quantile", "0.975", "df", df=0) is None
    assert scalar("t_quantile", "0.975", "df", df=None) is None
