"""Intervals against published values and against scipy and statsmodels.

Each published value carries its source and how it was seen: "read", "read (as quoted by others)" or
"from memory".
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from tests.dbt_project.macro_runner import scalar

LEVELS = st.sampled_from(["0.5", "0.8", "0.9", "0.95", "0.99", "0.999"])


# Newcombe RG (1998) Two-sided confidence intervals for the single proportion. Statistics in
# Medicine 17:857-872, Table I: read (as quoted by others). The last four are quoted in public test
# suites (Wilson 1927).
@pytest.mark.parametrize(
    ("successes", "trials", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (1, 29, 0.0061, 0.1718),
        (0, 10, 0.0, 0.2775),
        (5, 10, 0.2366, 0.7634),
        (8, 10, 0.4902, 0.9433),
        (10, 10, 0.7225, 1.0),
    ],
)
def test_wilson_gives_the_published_limits(
    successes: float, trials: float, low: float, high: float
) -> None:
    counts = {"x": successes, "n": trials}
    assert scalar("wilson_low", "x", "n", "0.95", **counts) == pytest.approx(low, abs=6e-5)
    assert scalar("wilson_high", "x", "n", "0.95", **counts) == pytest.approx(high, abs=6e-5)


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 5000), st.floats(0, 1), LEVELS)
@example(1, 0.0, "0.95")
@example(1, 1.0, "0.95")
def test_wilson_agrees_with_statsmodels(trials: int, share: float, level: str) -> None:
    successes = round(trials * share)
    low, high = proportion_confint(successes, trials, 1 - float(level), method="wilson")
    counts = {"x": successes, "n": trials}
    assert scalar("wilson_low", "x", "n", level, **counts) == pytest.approx(low, abs=1e-12)
    assert scalar("wilson_high", "x", "n", level, **counts) == pytest.approx(high, abs=1e-12)


def test_wilson_of_nothing_looked_at_is_null() -> None:
    assert scalar("wilson_low", "x", "n", "0.95", x=0, n=0) is None
    assert scalar("wilson_high", "x", "n", "0.95", x=None, n=None) is None


def test_praise_to_correction_of_24_to_6_ranges_from_1_7_to_9_5() -> None:
    low, high = (scalar(f"wilson_{side}", "x", "n", "0.95", x=24, n=30) for side in ("low", "high"))
    assert round(low / (1 - low), 1) == 1.7
    assert round(high / (1 - high), 1) == 9.5


def test_forty_looks_of_one_visit_are_worth_about_ten() -> None:
    assert scalar("effective_count", "n", "m", "0.074", n=40, m=1) == pytest.approx(
        40 / (1 + 39 * 0.074)
    )
    assert scalar("effective_count", "n", "m", "0.074", n=40, m=40) == 40
    assert scalar("effective_count", "n", "m", "0.074", n=40, m=0) is None


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 60) | st.integers(0, 100_000), LEVELS)
@example(0, "0.95")
@example(1, "0.95")
@example(20, "0.999")
@example(21, "0.999")
def test_poisson_limits_are_the_exact_ones(count: int, level: str) -> None:
    tail = (1 - float(level)) / 2
    low = stats.chi2.ppf(tail, 2 * count) / 2 if count else 0.0
    high = stats.chi2.ppf(1 - tail, 2 * count + 2) / 2
    assert scalar("poisson_low", "x", level, x=count) == pytest.approx(low, rel=1e-5, abs=1e-12)
    assert scalar("poisson_high", "x", level, x=count) == pytest.approx(high, rel=1e-5)


def test_thirty_events_in_ten_minutes_range_from_2_02_to_4_28() -> None:
    low, high = (scalar(f"poisson_{side}", "x", "0.95", x=30) / 10 for side in ("low", "high"))
    assert (round(low, 2), round(high, 2)) == (2.02, 4.28)


def test_poisson_limits_of_an_unknown_count_are_null() -> None:
    assert scalar("poisson_low", "x", "0.95", x=None) is None
    assert scalar("poisson_high", "x", "0.95", x=None) is None


def test_one_sided_limits_are_those_of_the_wider_two_sided_level() -> None:
    one_sided = scalar("poisson_high_one_sided", "x", "0.90", x=4)
    assert one_sided == pytest.approx(stats.chi2.ppf(0.90, 10) / 2, rel=1e-9)
    assert scalar("poisson_low_one_sided", "x", "0.90", x=0) == 0.0


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 400), st.floats(0, 10), LEVELS)
@example(1, 0.1, "0.95")
@example(2, 0.1, "0.999")
def test_t_margin_agrees_with_scipy(df: int, sd: float, level: str) -> None:
    expected = stats.t.ppf(0.5 + float(level) / 2, df) * sd / math.sqrt(df + 1)
    margin = scalar("t_margin", "sd", "n", "df", level, sd=sd, n=df + 1, df=df)
    assert margin == pytest.approx(expected, rel=1e-5, abs=1e-12)


def test_one_session_has_no_t_margin() -> None:
    assert scalar("t_margin", "sd", "n", "df", "0.95", sd=None, n=1, df=0) is None


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(0, 1), min_size=2, max_size=40))
@example([0.5, 0.5])
@example([0.0, 1.0])
def test_variance_from_sums_is_the_sample_variance(values: list[float]) -> None:
    got = scalar(
        "variance_from_sums", "s", "q", "n",
        s=sum(values), q=sum(one * one for one in values), n=len(values),
    )  # fmt: skip
    assert got == pytest.approx(np.var(values, ddof=1), abs=1e-12)
    assert got >= 0


def test_variance_of_one_value_is_null() -> None:
    assert scalar("variance_from_sums", "s", "q", "n", s=0.5, q=0.25, n=1) is None
