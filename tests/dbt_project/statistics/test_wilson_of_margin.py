"""Wilson's interval of a share whose error comes from sessions: its definition and statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy import stats
from scipy.optimize import brentq
from statsmodels.stats.proportion import proportion_confint

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

Floats = NDArray[np.float64]
SIDES = ("low", "high")


def limits(value: object, margin: object) -> list[Floats]:
    """Low and high ends of shares with these margins."""
    return [
        column(macros()[f"wilson_of_margin_{side}"]("v", "m"), v=value, m=margin) for side in SIDES
    ]


@pytest.mark.parametrize("level", [0.8, 0.9, 0.95, 0.99])
def test_it_is_wilson_on_the_looks_the_spread_speaks_for(level: float) -> None:
    # statsmodels takes a level, so t is handed to it as the level whose normal quantile it is.
    value = np.array([0.05, 0.5, 0.62, 0.8, 0.93, 0.99])
    sd = np.array([0.08, 0.2, 0.1, 0.12, 0.05, 0.02])
    count = np.array([4.0, 5.0, 6.0, 10.0, 8.0, 40.0])
    quantile = stats.t.isf((1 - level) / 2, count - 1)
    looks = value * (1 - value) * count / sd**2
    low, high = limits(value, quantile * sd / np.sqrt(count))
    expected = [
        proportion_confint(share * size, size, 2 * stats.norm.sf(one), method="wilson")
        for share, size, one in zip(value, looks, quantile, strict=True)
    ]
    assert worst(low, np.array(expected)[:, 0]) < 1e-12
    assert worst(high, np.array(expected)[:, 1]) < 1e-12


@settings(max_examples=60, deadline=None)
@given(st.floats(0.001, 0.999), st.floats(1e-4, 3.0))
@example(0.999, 3.0)
@example(0.001, 3.0)
@example(0.5, 1e-4)
def test_its_ends_are_the_shares_that_lie_one_margin_away(value: float, margin: float) -> None:
    def beyond(share: float) -> float:
        return (value - share) ** 2 - margin**2 * share * (1 - share) / (value * (1 - value))

    low, high = limits([value], [margin])
    assert low[0] == pytest.approx(brentq(beyond, 0, value, xtol=1e-14), abs=1e-9)
    assert high[0] == pytest.approx(brentq(beyond, value, 1, xtol=1e-14), abs=1e-9)
    assert 0 <= low[0] < value < high[0] <= 1


def test_a_share_of_a_half_with_a_small_margin_keeps_it() -> None:
    # At .5 the error elsewhere is smaller by little: k = .0004; the ends are .5 -+ .02 / 1.0008.
    low, high = limits([0.5], [0.02])
    k = 0.02**2 / 0.25
    assert low[0] == pytest.approx((0.5 + k / 2 - np.sqrt(0.02**2 + k * k / 4)) / (1 + k))
    assert (round(low[0], 4), round(high[0], 4)) == (0.48, 0.52)


@pytest.mark.parametrize(
    "given_row",
    [
        {"v": 1.0, "m": 0.1},
        {"v": 0.0, "m": 0.1},
        {"v": 0.8, "m": 0.0},
        {"v": None, "m": 0.1},
        {"v": 0.8, "m": None},
    ],
)
def test_a_spread_that_says_nothing_gives_no_range(given_row: dict[str, float | None]) -> None:
    assert [scalar(f"wilson_of_margin_{side}", "v", "m", **given_row) for side in SIDES] == [
        None,
        None,
    ]


@pytest.mark.parametrize("size", [4, 6, 10, 20])
def test_near_one_it_holds_the_truth_where_a_range_like_on_both_sides_does_not(size: int) -> None:
    # 4,000 classes whose visits of 40 looks have mean .95 and spread .05.
    rng = np.random.default_rng(size)
    share, spread = 0.95, 0.05
    weight = share * (1 - share) / spread**2 - 1
    chance = rng.beta(share * weight, (1 - share) * weight, (4000, size))
    visits = rng.binomial(40, chance) / 40
    visits = visits[visits.std(axis=1) > 0]
    value, sd = visits.mean(axis=1), visits.std(axis=1, ddof=1)
    margin = stats.t.isf(0.025, size - 1) * sd / np.sqrt(size)
    low, high = limits(value, margin)
    held = np.mean((low <= share) & (share <= high))
    assert 0.93 <= held <= 0.985
    assert np.mean(np.abs(value - share) <= margin) < held - 0.01
