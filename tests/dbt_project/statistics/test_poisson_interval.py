"""Exact intervals of a count against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

COUNTS = np.array([*range(1, 60), 100, 1_000, 100_000], dtype=float)


@pytest.mark.parametrize("level", ["0.5", "0.8", "0.95", "0.999"])
def test_the_limits_are_the_exact_ones(level: str) -> None:
    tail = (1 - float(level)) / 2
    low = column(macros()["poisson_low"]("x", level), x=COUNTS)
    high = column(macros()["poisson_high"]("x", level), x=[0, *COUNTS])
    assert worst(low, stats.chi2.ppf(tail, 2 * COUNTS) / 2) < 5e-6
    assert worst(low[:20], stats.chi2.ppf(tail, 2 * COUNTS[:20]) / 2) < 1e-9
    assert worst(high, stats.chi2.isf(tail, 2 * np.array([0, *COUNTS]) + 2) / 2) < 5e-6
    assert worst(high[:20], stats.chi2.isf(tail, 2 * np.arange(20) + 2) / 2) < 1e-9


def test_nothing_seen_may_still_be_nothing() -> None:
    assert scalar("poisson_low", "x", "0.95", x=0) == 0.0


def test_thirty_events_in_ten_minutes_range_from_2_02_to_4_28() -> None:
    low, high = (scalar(f"poisson_{side}", "x", "0.95", x=30) / 10 for side in ("low", "high"))
    assert (round(low, 2), round(high, 2)) == (2.02, 4.28)


def test_the_limits_of_an_unknown_count_are_null() -> None:
    for name in ("low", "high", "low_one_sided", "high_one_sided"):
        assert scalar(f"poisson_{name}", "x", "0.95", x=None) is None


def test_one_sided_limits_are_those_of_the_wider_two_sided_level() -> None:
    for count in (1, 4, 12):
        low = scalar("poisson_low_one_sided", "x", "0.90", x=count)
        high = scalar("poisson_high_one_sided", "x", "0.90", x=count)
        assert low == pytest.approx(stats.chi2.ppf(0.10, 2 * count) / 2, rel=1e-9)
        assert high == pytest.approx(stats.chi2.ppf(0.90, 2 * count + 2) / 2, rel=1e-9)
    assert scalar("poisson_low_one_sided", "x", "0.90", x=0) == 0.0
