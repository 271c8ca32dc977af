"""Quantiles of the beta distribution against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["beta_quantile"]("p", "a", "b")


@pytest.mark.parametrize(
    ("least", "most", "error"),
    [(0.1, 2, 2e-13), (0.5, 50, 2e-14), (0.5, 2000, 1e-13), (5, 1e5, 1e-12)],
)
def test_it_errs_by_no_more_than_its_header_says(least: float, most: float, error: float) -> None:
    chance = np.random.default_rng(7)
    a, b = np.exp(chance.uniform(np.log(least), np.log(most), (2, 1500)))
    p = special.ndtr(chance.normal(0, 2.5, 1500)).clip(1e-10, 1 - 1e-10)
    found = column(QUANTILE, p=p, a=a, b=b)
    assert furthest(found, special.betaincinv(a, b, p)) < error


def test_small_quantiles_keep_their_digits() -> None:
    p = np.tile([1e-10, 1e-5, 0.01, 0.2, 0.5], 4)
    a, b = np.repeat([0.5, 1, 3, 20], 5), np.repeat([40, 0.5, 200, 30], 5)
    assert worst(column(QUANTILE, p=p, a=a, b=b), special.betaincinv(a, b, p)) < 1e-12


def test_closed_forms() -> None:
    p = np.linspace(0.001, 0.999, 199)
    ones = np.ones_like(p)
    assert furthest(column(QUANTILE, p=p, a=ones, b=ones), p) < 1e-14
    assert furthest(column(QUANTILE, p=p, a=3 * ones, b=ones), p ** (1 / 3)) < 1e-14
    halves = column(QUANTILE, p=p, a=0.5 * ones, b=0.5 * ones)
    assert furthest(halves, np.sin(p * np.pi / 2) ** 2) < 1e-14


def test_both_ends_are_the_same_question() -> None:
    turned = 1 - scalar("beta_quantile", "p", "a", "b", p=0.9, a=4, b=2)
    assert scalar("beta_quantile", "p", "a", "b", p=0.1, a=2, b=4) == pytest.approx(
        turned, abs=1e-15
    )


def test_its_logarithm_of_the_odds_holds_where_the_share_itself_is_one() -> None:
    found = scalar("beta_logit_quantile", "p", "a", "b", p=0.999, a=2, b=0.01)
    assert found == pytest.approx(-np.log(special.betaincinv(0.01, 2, 0.001)), rel=1e-6)


def test_quantiles_too_near_the_ends_stop_at_seven_hundred() -> None:
    given = {"a": 0.001, "b": 0.5}
    assert scalar("beta_logit_quantile", "p", "a", "b", p=0.01, **given) == -700
    assert scalar("beta_logit_quantile", "p", "b", "a", p=0.99, **given) == 700


@pytest.mark.parametrize(
    "given",
    [{"p": 0}, {"p": 1}, {"p": None}, {"a": 0}, {"b": 0}, {"a": None}, {"b": None}],
)
def test_there_is_none_outside(given: dict[str, float]) -> None:
    assert scalar("beta_quantile", "p", "a", "b", **{"p": 0.4, "a": 2, "b": 3, **given}) is None


def test_it_starts_near_the_mean_and_spread_of_the_logarithm_of_the_odds() -> None:
    p, a, b = np.array([0.1, 0.5, 0.02]), np.array([1.0, 7.0, 0.3]), np.array([2.0, 0.5, 40.0])
    mean = np.log((a + 0.5) / (b + 0.5)) - 1 / a + 1 / b
    spread = np.sqrt(1 / a**2 + 1 / (a + 0.5) + 1 / b**2 + 1 / (b + 0.5))
    found = column(macros()["beta_start"]("p", "a", "b"), p=p, a=a, b=b)
    assert found == pytest.approx(mean + special.ndtri(p) * spread, rel=1e-12)
    assert mean == pytest.approx(special.digamma(a) - special.digamma(b), abs=0.1)
    assert spread == pytest.approx(
        np.sqrt(special.polygamma(1, a) + special.polygamma(1, b)), rel=0.1
    )
