"""Ranges of differences against Newcombe's table and scipy."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from tests.dbt_project.macro_runner import scalar


@pytest.mark.parametrize(
    ("newer", "older"),
    [((56, 70), (48, 80)), ((9, 10), (3, 10)), ((5, 56), (0, 29)), ((1, 9), (9, 9))],
)
def test_with_wilson_ranges_it_is_newcombes_method_10(
    newer: tuple[int, int], older: tuple[int, int]
) -> None:
    new, old = (proportion_confint(*one, method="wilson") for one in (newer, older))
    p, q = newer[0] / newer[1], older[0] / older[1]
    expected = confint_proportions_2indep(*newer, *older, method="newcomb")
    assert scalar("mover_low", p, new[0], q, old[1]) == pytest.approx(expected[0])
    assert scalar("mover_high", p, new[1], q, old[0]) == pytest.approx(expected[1])


def test_a_range_that_is_not_known_gives_none() -> None:
    assert scalar("mover_low", "0.5", "null", "0.4", "0.6") is None
    assert scalar("mover_high", "0.5", "0.6", "0.4", "null") is None


@settings(max_examples=10, deadline=None)
@given(
    st.lists(st.floats(0, 1), min_size=4, max_size=12),
    st.lists(st.floats(0, 1), min_size=5, max_size=12),
    st.sampled_from([0.8, 0.95]),
)
def test_welchs_margin_agrees_with_scipy(
    one: list[float], other: list[float], level: float
) -> None:
    errors = [stats.sem(one), stats.sem(other)]
    if min(errors) < 1e-6:
        return
    test = stats.ttest_ind(one, other, equal_var=False)
    expected = test.confidence_interval(level)
    margin = scalar("welch_margin", errors[0], len(one) - 1, errors[1], len(other) - 1, str(level))
    assert scalar("welch_df", errors[0], len(one) - 1, errors[1], len(other) - 1) == pytest.approx(
        test.df
    )
    assert margin == pytest.approx((expected.high - expected.low) / 2, rel=1e-4)


def test_two_means_without_spread_have_no_margin() -> None:
    assert scalar("welch_margin", "0.0", "3", "0.0", "3", "0.95") is None
    assert scalar("welch_margin", "0.1", "3", "null", "3", "0.95") is None


def test_equal_spreads_are_worked_by_hand() -> None:
    # se .03 and .04, 4 and 9 df: se .05; df = .05^4 / (.03^4 / 4 + .04^4 / 9) = 12.8.
    assert scalar("welch_df", "0.03", "4", "0.04", "9") == pytest.approx(12.84, abs=0.01)
    expected = stats.t.ppf(0.95, 12.8436) * math.hypot(0.03, 0.04)
    assert scalar("welch_margin", "0.03", "4", "0.04", "9", "0.9") == pytest.approx(
        expected, rel=1e-4
    )
