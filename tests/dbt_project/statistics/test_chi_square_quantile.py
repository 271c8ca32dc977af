"""Quantiles of chi-square against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special, stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["chi_square_quantile"]("p", "df")


@pytest.mark.parametrize(
    ("least", "most", "error"), [(0.5, 5, 2e-12), (5, 500, 1e-13), (500, 1e5, 1e-12)]
)
def test_it_errs_by_no_more_than_its_header_says(least: float, most: float, error: float) -> None:
    chance = np.random.default_rng(6)
    df = np.exp(chance.uniform(np.log(least), np.log(most), 1500))
    p = special.ndtr(chance.normal(0, 2.5, 1500)).clip(1e-10, 1 - 1e-10)
    expected = np.where(p > 0.5, stats.chi2.isf(1 - p, df), stats.chi2.ppf(p, df))
    assert worst(column(QUANTILE, p=p, df=df), expected) < error


def test_two_degrees_are_an_exponential() -> None:
    p = np.concatenate([np.linspace(0.001, 0.999, 199), [1e-12]])
    found = column(QUANTILE, p=p, df=np.full_like(p, 2))
    assert worst(found, -2 * np.log1p(-p)) < 1e-13


def test_small_fractions_of_a_degree() -> None:
    p = np.tile([0.001, 0.1, 0.4, 0.6, 0.9, 0.99, 0.9999], 3)
    df = np.repeat([0.12, 0.2, 0.4], 7)
    assert worst(column(QUANTILE, p=p, df=df), stats.chi2.ppf(p, df)) < 1e-10


def test_so_small_that_no_number_holds_it() -> None:
    """Newton's steps stop at exp(-700); a true quantile of 1e-600 comes out as that."""
    assert scalar("chi_square_quantile", "p", "df", p=1e-6, df=0.02) == pytest.approx(
        2 * np.exp(-700), rel=1e-9
    )


@pytest.mark.parametrize(
    "given",
    [{"p": 0, "df": 3}, {"p": 1, "df": 3}, {"p": 0.5, "df": 0}, {"p": None, "df": 3},
     {"p": 0.5, "df": None}],
)  # fmt: skip
def test_there_is_none_outside(given: dict[str, float]) -> None:
    assert scalar("chi_square_quantile", "p", "df", **given) is None


def test_it_starts_where_wilson_and_hilferty_say() -> None:
    p, a = np.array([0.01, 0.4, 0.9, 0.99, 0.01]), np.array([8, 2.5, 30, 1, 0.2])
    cube = 1 - 1 / (9 * a) + stats.norm.ppf(p) / (3 * np.sqrt(a))
    assert cube.min() < 0.1
    found = column(macros()["gamma_start"]("p", "a"), p=p, a=a)
    assert found == pytest.approx(np.log(a * np.maximum(cube, 0.1) ** 3), rel=1e-12)
