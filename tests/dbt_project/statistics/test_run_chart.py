"""Runs about the median: published limits, hand-counted series, counting in Python."""

from __future__ import annotations

import itertools
import math
import statistics as plain
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.macro_runner import macros, one_thread
from tests.dbt_project.series import Points, rows_of, series


def _charts(*given: Points, center: str | None = None) -> list[dict[str, Any]]:
    return rows_of("run_chart", "g", ["k"], "i", "x", "10", center, g=series(*given))


def _flat(*sides: int) -> list[float]:
    """Runs of these lengths, in turn above and below zero."""
    signs = itertools.cycle([1.0, -1.0])
    return [sign for length, sign in zip(sides, signs, strict=False) for _ in range(length)]


# Anhoej & Olesen (2014) PLoS ONE 9:e113825: limits from n; abstract read, rule from the design.
def test_the_limits_for_each_number_of_points_are_those_of_the_binomial() -> None:
    given = [_flat(*[1] * count) for count in range(1, 101)]
    for count, row in zip(range(1, 101), _charts(*given, center="0.0"), strict=True):
        assert row["run_limit"] == round(math.log2(count) + 3)
        assert row["crossing_limit"] == stats.binom.ppf(0.05, count - 1, 0.5)


def test_twenty_points_signal_a_run_over_seven_and_crossings_under_six() -> None:
    seven, eight, six, five = _charts(
        _flat(7, 3, 1, 1, 2, 2, 1, 3),
        _flat(8, 3, 1, 1, 1, 2, 1, 3),
        _flat(3, 3, 3, 3, 3, 3, 2),
        _flat(4, 4, 3, 3, 3, 3),
        center="0.0",
    )
    assert (seven["run_limit"], seven["crossing_limit"]) == (7, 6)
    assert [row["longest_run"] for row in (seven, eight)] == [7, 8]
    assert [row["has_long_run"] for row in (seven, eight)] == [False, True]
    assert [row["crossing_count"] for row in (six, five)] == [6, 5]
    assert [row["has_few_crossings"] for row in (six, five)] == [False, True]


def test_points_on_the_median_neither_end_nor_lengthen_a_run() -> None:
    (row,) = _charts([5, 6, 3, 5, 6, 5, 1, 1, 1, 5])
    assert (row["point_count"], row["center"], row["useful_count"]) == (10, 5.0, 6)
    assert (row["longest_run"], row["crossing_count"]) == (3, 3)
    assert row["is_tested"] is False
    assert row["has_long_run"] is row["has_few_crossings"] is row["direction"] is None


def test_ten_useful_points_are_tested_and_nine_are_not() -> None:
    nine, ten = _charts(_flat(*[1] * 9), _flat(*[1] * 10), center="0.0")
    assert (nine["is_tested"], ten["is_tested"]) == (False, True)
    assert (nine["has_long_run"], ten["has_long_run"]) == (None, False)
    assert (nine["has_few_crossings"], ten["has_few_crossings"]) == (None, False)
    assert (nine["direction"], ten["direction"]) == (None, -1)


def test_the_direction_is_the_side_that_comes_later() -> None:
    up, down, above, below = _charts(
        _flat(2, 5, 9), _flat(12, 8), [1.0] * 12, [-1.0] * 12, center="0.0"
    )
    assert [row["direction"] for row in (up, down, above, below)] == [1, -1, 1, -1]
    assert above["has_long_run"] is True


def test_a_share_that_is_mostly_one_is_not_tested_about_its_own_median() -> None:
    mostly, rarely = _charts([1.0] * 12 + [0.5] * 11, [1.0] * 10 + [0.5] * 11 + [0.6] * 3)
    assert (mostly["useful_count"], mostly["is_tested"], mostly["has_long_run"]) == (
        11,
        False,
        None,
    )
    assert (mostly["has_few_crossings"], mostly["direction"]) == (None, None)
    assert (rarely["useful_count"], rarely["is_tested"]) == (21, True)
    (given,) = _charts([1.0] * 12 + [0.5] * 11, center="1.0")
    assert (given["is_tested"], given["has_long_run"], given["direction"]) == (True, True, -1)


def test_all_alike_or_alone_or_without_values_is_nothing_to_test() -> None:
    alike, alone = _charts([4, 4, 4], [4], [None])
    for row, count in ((alike, 3), (alone, 1)):
        assert (row["point_count"], row["useful_count"]) == (count, 0)
        assert (row["longest_run"], row["crossing_count"]) == (0, 0)
        assert (row["run_limit"], row["crossing_limit"]) == (None, None)


@settings(max_examples=12, deadline=None)
@given(st.lists(st.lists(st.integers(0, 6), min_size=1, max_size=40), min_size=1, max_size=12))
@example([list(range(30)), [1] * 12, [0, 1] * 10])
def test_runs_agree_with_counting(given: list[list[int]]) -> None:
    for points, row in zip(given, _charts(*given), strict=True):
        middle = plain.median(points)
        sides = [point > middle for point in points if point != middle]
        runs = [(side, len(list(run))) for side, run in itertools.groupby(sides)]
        assert row["useful_count"] == sum(length for _, length in runs)
        assert row["longest_run"] == max((length for _, length in runs), default=0)
        assert row["crossing_count"] == max(len(runs) - 1, 0)


@pytest.mark.parametrize(("count", "most"), [(10, 0.02), (20, 0.04), (30, 0.05)])
def test_chance_alone_seldom_signals_and_a_shift_of_the_second_half_often(
    count: int, most: float
) -> None:
    random = np.random.default_rng(count)
    quiet = random.normal(size=(1500, count))
    moved = random.normal(size=(1500, count)) + 2.0 * (np.arange(count) >= count // 2)
    shares = []
    for points in (quiet, moved):
        given = pd.DataFrame(
            {
                "k": np.repeat(np.arange(1500), count),
                "i": np.tile(np.arange(count), 1500),
                "x": points.ravel(),
            }
        )
        query = macros()["run_chart"]("given", ["k"], "i", "x", "10")
        with one_thread() as connection:
            connection.register("given", given)
            found = connection.execute(
                f"select count(*) from ({query}) where has_long_run or has_few_crossings"
            ).fetchall()
        shares.append(found[0][0] / 1500)
    assert shares[0] < most
    assert shares[1] > 10 * shares[0]


@pytest.mark.parametrize("points", [[1, 2, 3, 4, 5, 6, 7, 8, 9, 10]])
def test_a_steady_rise_signals_by_its_runs_alone(points: list[float]) -> None:
    (row,) = _charts(points)
    assert (row["has_long_run"], row["has_few_crossings"], row["direction"]) == (False, True, 1)


def test_sides_runs_and_limits_one_by_one() -> None:
    sides = rows_of("points_about_center", "g", ["k"], "i", "x", "2.0", g=series([3, 2, 1, None]))
    assert [(row["series_place"], row["run_side"]) for row in sides] == [(1, 1), (2, 0), (3, -1)]
    numbered = rows_of(
        "numbered_runs", "(select k, i as series_place, x as run_side from g) as p", ["k"],
        g=series([1, 1, 0, 1, -1, -1, 1]),
    )  # fmt: skip
    assert sorted(row["run_number"] for row in numbered) == [1, 1, 1, 2, 2, 3]
    limits = rows_of("run_chart_limits", "g", "i", g=series([0] * 20))
    found = {row["i"]: (row["run_limit"], row["crossing_limit"]) for row in limits}
    assert (found[1], found[10], found[20]) == ((3, 0), (6, 2), (7, 6))
