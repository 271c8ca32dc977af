"""The range of a median by order statistics: published ranks, another library, edges."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from tests.dbt_project.macro_runner import macros, table

Found = tuple[int, float, float | None, float | None]


def _found(groups: list[list[float]], level: float = 0.95, effect: float = 1.0) -> list[Found]:
    rows = ", ".join(
        f"({key}, {value}::double, {effect}::double)"
        for key, group in enumerate(groups)
        for value in group
    )
    query = macros()["median_range"]("given", ["k"], "x", level, "e")
    got = table(f"select * from ({query}) order by k", given=f"from (values {rows}) v(k, x, e)")
    return [row[1:] for row in got]


def _ranks(count: int, level: float = 0.95) -> tuple[float | None, float | None]:
    return _found([[float(place) for place in range(1, count + 1)]], level)[0][2:]


# The usual table of the sign test, 95 %: e.g. Conover (1999), table A3: from memory.
@pytest.mark.parametrize(
    ("count", "lower"),
    [(5, None), (6, 1), (8, 1), (9, 2), (12, 3), (15, 4), (20, 6), (25, 8), (50, 18), (100, 40)],
)
def test_the_ends_stand_at_the_ranks_of_the_sign_test(count: int, lower: int | None) -> None:
    upper = None if lower is None else count + 1 - lower
    assert _ranks(count) == (lower, upper)


def test_at_exactly_the_level_that_the_coins_have_the_extremes_are_the_ends() -> None:
    # Five coins fall alike with probability 2 / 32: the level 93.75 %.
    assert _ranks(5, 0.9375) == (1, 5)
    assert _ranks(4, 0.9375) == (None, None)


def _expected(values: list[float], level: float, effect: float) -> tuple[float | None, ...]:
    worth = math.floor(len(values) / effect + 1e-9)
    tails = binom.cdf(np.arange(worth), worth, 0.5)
    places = np.flatnonzero(tails <= (1 - level) / 2 + 1e-15)
    if not len(places):
        return (None, None)
    place = math.floor((len(values) + 1) * (places[-1] + 1) / (worth + 1) + 1e-9)
    ordered = sorted(values)
    return ordered[place - 1], ordered[len(values) - place]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.lists(st.integers(-30, 60).map(float), min_size=1, max_size=60), min_size=6, max_size=6
    ),
    st.sampled_from([0.8, 0.9, 0.95, 0.99]),
    st.sampled_from([1.0, 1.0, 1.5, 2.0, 3.7]),
)
def test_the_range_agrees_with_the_binomial_of_scipy(
    groups: list[list[float]], level: float, effect: float
) -> None:
    for group, (count, median, low, high) in zip(
        groups, _found(groups, level, effect), strict=True
    ):
        assert count == len(group)
        assert median == np.median(group)
        assert (low, high) == _expected(group, level, effect)


def test_many_rows_do_not_overflow() -> None:
    query = macros()["median_range"]("given", ["k"], "x", 0.95)
    got = table(query, given="select 1 as k, i * 1.0 as x from range(1, 20001) as r(i)")
    assert got == [(1, 20000, 10000.5, *_expected([float(i) for i in range(1, 20001)], 0.95, 1.0))]


def test_nulls_are_left_out_and_rows_that_are_all_alike_have_one_end() -> None:
    query = macros()["median_range"]("given", ["k"], "x", 0.95)
    rows = "select 1 as k, x from (values (2.0), (null), (2.0), (2.0), (2.0), (2.0), (2.0)) v(x)"
    assert table(query, given=rows) == [(1, 6, 2.0, 2.0, 2.0)]
    assert table(query, given="select 1 as k, cast(null as double) as x") == []


def test_rows_that_are_alike_count_for_fewer() -> None:
    tens = [float(place) for place in range(1, 21)]
    # Twenty worth ten: the 2nd of ten is 2 / 11 of the way, of twenty the 3rd.
    assert _found([tens], effect=2.0)[0][2:] == (3.0, 18.0)


@pytest.mark.slow
def test_of_two_hundred_ranges_about_95_in_100_hold_the_true_median() -> None:
    # Ten draw days of ten waits, correlated .05 within a day: the working figure .074 is near.
    rng = np.random.default_rng(7)
    days = rng.normal(0, math.sqrt(0.05), (200, 10, 1))
    waits = np.exp(days + rng.normal(0, math.sqrt(0.95), (200, 10, 10))).reshape(200, 100)
    found = _found(waits.tolist(), effect=1 + 9 * 0.074)
    held = [low is not None and high is not None and low <= 1 <= high for *_, low, high in found]
    assert 0.92 <= np.mean(held) <= 0.995
