"""Margins by t and variances from sums, against scipy and numpy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.columns import column, worst
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("s", "q", "n")


@pytest.mark.parametrize("level", ["0.5", "0.8", "0.95", "0.999"])
def test_the_margin_is_t_times_the_error_of_the_mean(level: str) -> None:
    df = np.array([1, 2, 3, 4, 7, 12, 30, 200], dtype=float)
    sd, count = np.linspace(0.02, 4, 8), np.array([2, 3, 1, 9, 8, 4, 31, 50], dtype=float)
    found = column(macros()["t_margin"]("sd", "n", "df", level), sd=sd, n=count, df=df)
    assert worst(found, stats.t.isf((1 - float(level)) / 2, df) * sd / np.sqrt(count)) < 1e-5


@pytest.mark.parametrize(
    "given_counts", [{"n": 1, "df": 0}, {"n": 0, "df": 20}, {"n": None, "df": 3}]
)
def test_without_sessions_or_degrees_there_is_no_margin(given_counts: dict[str, float]) -> None:
    assert scalar("t_margin", "sd", "n", "df", "0.95", sd=0.1, **given_counts) is None


def test_one_session_with_a_pooled_spread_has_a_margin() -> None:
    found = scalar("t_margin", "sd", "n", "df", "0.95", sd=0.1, n=1, df=1)
    assert found == pytest.approx(1.2706205, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.lists(st.floats(-1, 2), min_size=2, max_size=40), min_size=1, max_size=20))
@example([[0.5, 0.5], [0.0, 1.0], [0.1] * 7])
def test_variance_from_sums_is_the_sample_variance(groups: list[list[float]]) -> None:
    found = column(
        macros()["variance_from_sums"](*NAMES),
        s=[sum(one) for one in groups],
        q=[sum(value * value for value in one) for one in groups],
        n=[len(one) for one in groups],
    )
    assert found == pytest.approx([np.var(one, ddof=1) for one in groups], abs=1e-12)
    assert found.min() >= 0


def test_the_variance_of_one_value_is_null_and_never_below_zero() -> None:
    assert scalar("variance_from_sums", *NAMES, s=0.5, q=0.25, n=1) is None
    assert scalar("variance_from_sums", *NAMES, s=3.0, q=2.9999999999, n=3) == 0.0
    assert scalar("variance_from_sums", *NAMES, s=1.0, q=1.0, n=2) == 0.5
