"""Quantiles of the gamma distribution with a whole shape against scipy."""

from __future__ import annotations

import numpy as np
from scipy import stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

QUANTILE = macros()["gamma_quantile"]("p", "a")
P = np.array(
    [0.0005, 0.005, 0.025, 0.05, 0.1, 0.25, 0.5, 0.6, 0.75, 0.9, 0.95, 0.975, 0.995, 0.9995]
)


def _error(shapes: np.ndarray) -> float:
    p, a = (one.ravel() for one in np.meshgrid(P, shapes.astype(float)))
    return worst(column(QUANTILE, p=p, a=a), stats.gamma.ppf(p, a))


def test_shape_one_is_exact() -> None:
    assert _error(np.array([1])) < 2e-13


def test_up_to_shape_twenty_it_errs_by_less_than_one_in_a_thousand_million() -> None:
    assert _error(np.arange(2, 21)) < 1e-9


def test_beyond_it_the_expansion_keeps_five_places_and_more_the_larger_the_shape() -> None:
    assert _error(np.arange(21, 120)) < 2.2e-6
    assert _error(np.arange(60, 120)) < 1.5e-7
    assert _error(np.array([300, 1_000])) < 5e-9
    assert _error(np.array([30_000])) < 1e-10


def test_two_shapes_meet_at_twenty() -> None:
    """The step from one way to the other is smaller than what both promise."""
    steps = np.diff([scalar("gamma_quantile", "0.975", "a", a=a) for a in (19, 20, 21, 22)])
    assert np.abs(np.diff(steps)).max() < 0.01


def test_below_shape_one_there_is_none() -> None:
    assert scalar("gamma_quantile", "0.5", "a", a=0) is None
    assert scalar("gamma_quantile", "0.5", "a", a=None) is None
