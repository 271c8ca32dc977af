"""Bootstrap over sessions: another library, facts that hold exactly, edges."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.macro_runner import macros, table

NAMES = ("session_count", "estimate", "standard_error", "low", "high", "percentile_low",
         "percentile_high")  # fmt: skip
SEEDED = np.random.default_rng(20250901)
SCORES = [SEEDED.beta(8, 2, size).round(3).tolist() for size in (4, 5, 8, 12, 20, 30)]


def _rows(groups: list[list[Any]]) -> str:
    values = ", ".join(
        f"({key}, {'null' if value is None else value}::double)"
        for key, group in enumerate(groups)
        for value in group
    )
    return f"select * from (values {values}) v(k, x)"


def _means(
    groups: list[list[Any]], level: float = 0.95, resamples: int = 4000, seed: int = 1
) -> list[dict[str, Any]]:
    query = macros()["bootstrap_mean"]("given", ["k"], "x", level, resamples, seed)
    got = table(f"select * from ({query}) order by k", given=_rows(groups))
    return [dict(zip(NAMES, row[1:], strict=True)) for row in got]


@pytest.mark.parametrize("level", [0.8, 0.95])
def test_percentiles_and_spread_agree_with_scipy(level: float) -> None:
    for scores, found in zip(SCORES, _means(SCORES, level), strict=True):
        other = stats.bootstrap(
            (np.array(scores),), np.mean, n_resamples=20000, confidence_level=level,
            method="percentile", rng=np.random.default_rng(2),
        )  # fmt: skip
        size = len(scores)
        error = float(other.standard_error)
        assert found["standard_error"] == pytest.approx(
            error * math.sqrt(size / (size - 1)), rel=0.045
        )
        ends = other.confidence_interval
        assert found["percentile_low"] == pytest.approx(ends.low, abs=0.16 * error)
        assert found["percentile_high"] == pytest.approx(ends.high, abs=0.16 * error)


def test_the_standard_error_is_that_of_a_mean() -> None:
    for scores, found in zip(SCORES, _means(SCORES), strict=True):
        exact = np.std(scores, ddof=1) / math.sqrt(len(scores))
        assert found["standard_error"] == pytest.approx(exact, rel=0.045)
        assert found["estimate"] == pytest.approx(np.mean(scores), abs=1e-12)
        assert found["session_count"] == len(scores)


@pytest.mark.parametrize("level", [0.8, 0.95])
def test_the_range_is_t_times_the_standard_error_either_side(level: float) -> None:
    for found in _means(SCORES, level, resamples=200):
        t = stats.t.ppf((1 + level) / 2, found["session_count"] - 1)
        margin = t * found["standard_error"]
        assert found["high"] == pytest.approx(found["estimate"] + margin, abs=1e-5)
        assert found["low"] == pytest.approx(found["estimate"] - margin, abs=1e-5)


def test_the_same_seed_gives_the_same_figures_in_whatever_order_rows_come() -> None:
    first = _means(SCORES, resamples=50, seed=3)
    turned = _means([scores[::-1] for scores in SCORES], resamples=50, seed=3)
    assert [row["standard_error"] for row in turned] == pytest.approx(
        [row["standard_error"] for row in first], abs=1e-12
    )
    other = _means(SCORES, resamples=50, seed=4)
    assert other[0]["standard_error"] != pytest.approx(first[0]["standard_error"], abs=1e-6)


def test_the_last_digit_of_a_sum_does_not_change_who_is_drawn() -> None:
    """Sessions alike in x but for a last digit keep the order that y gives them."""
    query = macros()["bootstrap_sums"]("given", ["k"], ["x", "y"], 200, 5)
    y_sums = []
    for nudge in (math.nextafter(0.3, 0.0), 0.3, math.nextafter(0.3, 1.0)):
        given = f"select 1 as k, * from (values ({nudge!r}, 1), (0.3::double, 2), (0.5, 4)) v(x, y)"
        rows = table(f"select * from ({query}) order by resample_number", given=given)
        y_sums.append([row[4] for row in rows])
    assert y_sums[0] == y_sums[1] == y_sums[2]


def test_groups_are_drawn_apart_from_each_other() -> None:
    twins = _means([SCORES[2], SCORES[2]], resamples=50)
    assert twins[0]["standard_error"] != pytest.approx(twins[1]["standard_error"], abs=1e-6)


def test_one_session_has_no_range_and_sessions_alike_have_no_width() -> None:
    one, alike, gaps = _means([[0.4], [0.5] * 4, [0.2, None, 0.6], [None]])
    assert one == {
        "session_count": 1, "estimate": 0.4, "standard_error": None, "low": None, "high": None,
        "percentile_low": 0.4, "percentile_high": 0.4,
    }  # fmt: skip
    assert (alike["low"], alike["high"], alike["standard_error"]) == (0.5, 0.5, 0.0)
    assert (gaps["session_count"], gaps["estimate"]) == (2, pytest.approx(0.4))


def test_nothing_but_nulls_is_no_row() -> None:
    query = macros()["bootstrap_mean"]("given", ["k"], "x", 0.95, 50, 1)
    assert table(query, given="select 1 as k, cast(null as double) as x") == []


SHARES = [(3, 4), (10, 10), (2, 8), (5, 9), (0, 2), (7, 8)]


def test_a_share_is_a_sum_over_a_sum_with_the_spread_of_a_ratio() -> None:
    values = ", ".join(f"(1, {top}, {bottom})" for top, bottom in SHARES)
    query = macros()["bootstrap_share"]("given", ["k"], "a", "b", 0.95, 4000, 1)
    rows = f"select * from (values {values}, (1, null, 3), (1, 3, null)) v(k, a, b)"
    row = table(query, given=rows)
    found = dict(zip(NAMES, row[0][1:], strict=True))
    assert found["session_count"] == 6
    assert found["estimate"] == pytest.approx(27 / 41, abs=1e-12)
    tops, bottoms = np.array(SHARES, dtype=float).T
    other = stats.bootstrap(
        (tops, bottoms), lambda a, b, axis=-1: a.sum(axis=axis) / b.sum(axis=axis), paired=True,
        n_resamples=20000, method="percentile", vectorized=True, rng=np.random.default_rng(3),
    )  # fmt: skip
    error = float(other.standard_error)
    assert found["standard_error"] == pytest.approx(error * math.sqrt(6 / 5), rel=0.045)
    assert found["percentile_low"] == pytest.approx(other.confidence_interval.low, abs=0.16 * error)


def test_a_share_of_nothing_is_null() -> None:
    query = macros()["bootstrap_share"]("given", ["k"], "a", "b", 0.95, 50, 1)
    row = table(query, given="select 1 as k, 0.0 as a, 0.0 as b from range(3)")
    assert row == [(1, 3, None, None, None, None, None, None)]


def test_resampled_sessions_stay_whole_and_every_one_is_as_likely() -> None:
    query = macros()["bootstrap_sums"]("given", ["k"], ["x", "y"], 6000, 5)
    rows = table(query, given="select 1 as k, * from (values (1, 10), (0, 0), (100, 1000)) v(x, y)")
    assert sorted(row[1] for row in rows) == list(range(1, 6001))
    assert {row[2] for row in rows} == {3}
    assert all(y == 10 * x for *_, x, y in rows)
    # Of 27 ordered draws: how often each sum comes up.
    expected = {0: 1, 1: 3, 2: 3, 3: 1, 100: 3, 101: 6, 102: 3, 200: 3, 201: 3, 300: 1}
    seen = {total: sum(row[3] == total for row in rows) for total in expected}
    assert sum(seen.values()) == 6000
    test = stats.chisquare(list(seen.values()), [share * 6000 / 27 for share in expected.values()])
    assert test.pvalue > 0.001


def test_a_null_in_a_column_counts_as_nothing() -> None:
    query = macros()["bootstrap_sums"]("given", ["k"], ["x", "y"], 40, 5)
    rows = table(query, given="select 1 as k, * from (values (1, null), (1, 1)) v(x, y)")
    assert {row[3] for row in rows} == {2}
    assert {row[4] for row in rows} == {None, 1, 2}


@pytest.mark.slow
@pytest.mark.parametrize("size", [4, 6, 10])
def test_of_a_thousand_ranges_about_95_in_100_hold_the_truth_and_percentiles_fewer(
    size: int,
) -> None:
    # Visits of 40 looks to classes whose visits have mean .8 and spread .1.
    rng = np.random.default_rng(size)
    truth = rng.beta(0.8 * 15, 0.2 * 15, (1000, size))
    groups = (rng.binomial(40, truth) / 40).tolist()
    found = _means(groups, resamples=400)
    held = [row["low"] <= 0.8 <= row["high"] for row in found]
    by_percentiles = [row["percentile_low"] <= 0.8 <= row["percentile_high"] for row in found]
    assert 0.92 <= np.mean(held) <= 0.97
    assert np.mean(by_percentiles) < np.mean(held) - 0.02
