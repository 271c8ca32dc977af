"""Binomial probabilities and tails against scipy."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import Numbers, column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

CHANCE = np.random.default_rng(2)
TRIALS = np.concatenate([CHANCE.integers(0, 60, 1500), CHANCE.integers(60, 3000, 300)])
SHARE = np.concatenate([[0.0] * 60, [1.0] * 60, CHANCE.uniform(0.001, 0.999, 1680)])
COUNT = stats.binom.rvs(TRIALS, SHARE, random_state=3) + CHANCE.integers(-1, 2, 1800)
BETWEEN = {
    "binomial_probability": stats.binom.pmf,
    "binomial_at_least": lambda k, n, p: stats.binom.sf(k - 1, n, p),
    "binomial_at_most": stats.binom.cdf,
}


@pytest.mark.parametrize("name", list(BETWEEN))
def test_it_agrees_with_scipy(name: str) -> None:
    other: Callable[..., Numbers] = BETWEEN[name]
    found = column(macros()[name]("k", "n", "p"), k=COUNT, n=TRIALS, p=SHARE)
    assert furthest(found, other(COUNT, TRIALS, SHARE)) < 2e-13


def test_far_tails_keep_their_digits() -> None:
    n, p = np.array([12, 15, 60, 1, 9]), np.array([0.02, 0.1, 0.05, 0.01, 0.001])
    for name in ("binomial_probability", "binomial_at_least"):
        k = np.array([9, 14, 30, 1, 3])
        assert (
            worst(column(macros()[name]("k", "n", "p"), k=k, n=n, p=p), BETWEEN[name](k, n, p))
            < 1e-11
        )
    at_most = macros()["binomial_at_most"]("k", "n", "1.0 - q")
    k = np.array([0, 2, 5, 0, 1])
    assert worst(column(at_most, k=k, n=n, q=p), stats.binom.sf(n - k - 1, n, p)) < 1e-11


def test_three_of_four_heads_or_more() -> None:
    assert scalar("binomial_at_least", "3", "4", "0.5") == pytest.approx(5 / 16)
    assert scalar("binomial_at_most", "2", "4", "0.5") == pytest.approx(11 / 16)
    assert scalar("binomial_probability", "2", "4", "0.5") == pytest.approx(6 / 16)


@pytest.mark.parametrize("name", list(BETWEEN))
@pytest.mark.parametrize("missing", ["k", "n", "p"])
def test_anything_unknown_gives_null(name: str, missing: str) -> None:
    for given in (
        {"k": 2, "n": 4, "p": 0.5},
        {"k": 0, "n": 4, "p": 0.5},
        {"k": 4, "n": 4, "p": 0.5},
    ):
        assert scalar(name, "k", "n", "p", **{**given, missing: None}) is None
