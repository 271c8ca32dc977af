"""Clopper-Pearson and mid-p intervals: published limits and what defines them."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from tests.check_values import example
from tests.dbt_project.columns import Numbers, column, furthest
from tests.dbt_project.macro_runner import macros

PUBLISHED = ("a-wilson-newcombe98a-a", "a-wilson-newcombe98a-b", "a-wilson-newcombe98a-d")
GRID = [(x, n) for n in (1, 2, 5, 30, 200) for x in sorted({0, 1, n // 3, n // 2, n - 1, n})]
PRINTED = [(example(one).inputs["x"], example(one).inputs["n"]) for one in PUBLISHED]
EDGES = [(0, 0), (np.nan, 5), (2, np.nan)]
SUCCESSES, TRIALS = np.array([*GRID, *PRINTED, *EDGES], dtype=float).T
KNOWN = slice(0, len(GRID) + len(PRINTED))


@cache
def _limits(name: str) -> tuple[Numbers, Numbers]:
    """Lower and upper limits at 95 % of every case of this file."""
    low, high = (
        column(macros()[f"{name}_{side}"]("x", "n", "0.95"), x=SUCCESSES, n=TRIALS)
        for side in ("low", "high")
    )
    return low, high


@pytest.mark.parametrize("name", ["clopper_pearson", "mid_p"])
def test_the_published_limits(name: str) -> None:
    # Newcombe (1998a), Table I, methods 5 and 6: read as quoted by others.
    low, high = _limits(name)
    for place, identifier in enumerate(PUBLISHED, len(GRID)):
        assert [low[place], high[place]] == example(identifier).expects(name)


def test_clopper_pearson_agrees_with_statsmodels() -> None:
    expected = proportion_confint(SUCCESSES[KNOWN], TRIALS[KNOWN], 0.05, method="beta")
    for found, limits in zip(_limits("clopper_pearson"), expected, strict=True):
        assert furthest(found[KNOWN], limits) < 2e-14


def test_at_the_mid_p_limits_half_of_the_seen_and_all_beyond_it_are_a_fortieth() -> None:
    low, high = (limits[KNOWN] for limits in _limits("mid_p"))
    x, n = SUCCESSES[KNOWN], TRIALS[KNOWN]
    for limit, beyond, is_open in (
        (low, stats.binom.sf(x, n, low), x > 0),
        (high, stats.binom.cdf(x - 1, n, high), x < n),
    ):
        reached = beyond + stats.binom.pmf(x, n, limit) / 2
        assert reached[is_open] == pytest.approx(0.025, abs=1e-12)


@pytest.mark.parametrize("name", ["clopper_pearson", "mid_p"])
def test_all_or_none_reach_the_end_and_nothing_has_no_limits(name: str) -> None:
    low, high = _limits(name)
    assert (low[KNOWN][SUCCESSES[KNOWN] == 0] == 0).all()
    assert (high[KNOWN][SUCCESSES[KNOWN] == TRIALS[KNOWN]] == 1).all()
    assert np.isnan([low[-3:], high[-3:]]).all()
