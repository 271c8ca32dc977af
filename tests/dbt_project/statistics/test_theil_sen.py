"""Theil & Sen's slope against Sen's own example and scipy."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.series import pairs, rows_of

Pairs = list[tuple[float, float]]


def _slopes(level: float, *given: Pairs) -> list[dict[str, Any]]:
    return rows_of("theil_sen", "g", ["k"], "x", "y", level, g=pairs(*given))


# Sen (1968), worked example: read.
def test_sens_own_example() -> None:
    sen = example("g-sen-1968")
    points = list(zip(sen.inputs["t"], sen.inputs["y"], strict=True))
    (row,) = _slopes(sen.inputs["conf"], points)
    assert row["slope"] == sen.expects("slope")
    assert row["intercept_joint"] == sen.expects("intercept_joint")
    assert row["intercept_separate"] == sen.expects("intercept_separate")
    assert (row["slope_low"], row["slope_high"]) == (sen.expects("lower"), sen.expects("upper"))
    assert (row["point_count"], row["slope_count"]) == (7, 21)


@settings(max_examples=12, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(st.integers(0, 12), st.integers(-9, 9)), min_size=2, max_size=18),
        min_size=1,
        max_size=10,
    ),
    st.sampled_from([0.5, 0.9, 0.95]),
)
@case([[(i, i % 3) for i in range(12)], [(0, 1), (1, 1), (2, 1)], [(0, 0), (1, 5)]], 0.95)
def test_slopes_and_ranges_agree_with_scipy(given: list[Pairs], level: float) -> None:
    for points, row in zip(given, _slopes(level, *given), strict=True):
        x, y = np.array(points, dtype=float).T
        if len(set(x)) == 1:
            assert row["slope"] is row["slope_low"] is row["intercept_joint"] is None
            assert row["slope_count"] == 0
            continue
        expected = stats.theilslopes(y, x, level)
        joint = stats.theilslopes(y, x, level, method="joint").intercept
        assert row["slope"] == pytest.approx(expected.slope)
        assert row["intercept_separate"] == pytest.approx(expected.intercept, abs=1e-9)
        assert row["intercept_joint"] == pytest.approx(joint, abs=1e-9)
        if len(set(x)) < len(x) and len(set(y)) < len(y):
            continue  # scipy leaves out what ties in both add to the variance
        assert row["slope_low"] in (None, pytest.approx(expected.low_slope))
        assert row["slope_high"] in (None, pytest.approx(expected.high_slope))
        assert row["slope_low"] is not None or row["slope_count"] < 12 or len(set(x)) < 5


def test_an_end_beyond_the_outermost_slope_is_not_given() -> None:
    four, ten = _slopes(
        0.95, [(1, 1), (2, 3), (3, 2), (4, 9)], [(i, (i * 7) % 11) for i in range(1, 11)]
    )
    assert (four["slope_low"], four["slope_high"]) == (None, None)
    assert four["slope"] == pytest.approx(7 / 3)
    assert None not in (ten["slope_low"], ten["slope_high"])


def test_one_point_and_points_without_a_value() -> None:
    (row,) = rows_of(
        "theil_sen", "g", ["k"], "x", "y", 0.9, g=pairs([(1.0, 2.0), (None, 3.0), (4.0, None)])
    )
    assert (row["point_count"], row["slope_count"], row["slope"]) == (1, 0, None)
