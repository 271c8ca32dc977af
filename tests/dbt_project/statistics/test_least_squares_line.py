"""The least-squares line of each group against scipy, and the points that make none."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import example as case
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros

COLUMNS = {"k": "int", "x": "double", "y": "double"}
NAMES = (
    "point_count", "mean_x", "mean_y", "slope", "intercept", "residual_df", "residual_variance",
    "slope_se",
)  # fmt: skip


def _lines(rows: list[tuple[Any, ...]]) -> dict[Any, dict[str, Any]]:
    query = macros()["least_squares_line"]("points", ["k"], "x", "y")
    return answers(query, NAMES, points=given(COLUMNS, rows))


def test_three_points_by_hand() -> None:
    """(0, 1), (1, 3), (2, 4): slope 1.5, intercept 7/6, left over 1/6, slope's error sqrt(1/12)."""
    got = _lines([(1, 0.0, 1.0), (1, 1.0, 3.0), (1, 2.0, 4.0), (1, None, 9.0), (1, 9.0, None)])[1]
    assert (got["point_count"], got["residual_df"], got["mean_x"]) == (3, 1, 1.0)
    assert (got["slope"], got["intercept"]) == pytest.approx((1.5, 7 / 6))
    assert got["mean_y"] == pytest.approx(8 / 3)
    assert got["residual_variance"] == pytest.approx(1 / 6)
    assert got["slope_se"] == pytest.approx((1 / 12) ** 0.5)


def test_two_points_have_a_line_without_error_and_one_place_has_none() -> None:
    got = _lines([(1, 0.0, 1.0), (1, 2.0, 2.0), (2, 3.0, 1.0), (2, 3.0, 2.0), (2, 3.0, 4.0),
                  (3, 1.0, 1.0)])  # fmt: skip
    assert (got[1]["slope"], got[1]["residual_variance"], got[1]["slope_se"]) == (0.5, None, None)
    for k in (2, 3):
        one = got[k]
        assert [one["slope"], one["intercept"], one["residual_variance"]] == [None] * 3
        assert one["slope_se"] is None
    assert _lines([]) == {}


@settings(max_examples=12, deadline=None)
@over(
    st.lists(
        st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=3, max_size=20),
        min_size=1, max_size=5,
    )
)  # fmt: skip
@case([[(0, 0), (1, 1), (2, 2)], [(0, 5), (1, 5), (2, 5)]])
def test_it_agrees_with_scipy(groups: list[list[tuple[int, int]]]) -> None:
    got = _lines([(k, x, y) for k, points in enumerate(groups) for x, y in points])
    for k, points in enumerate(groups):
        x, y = zip(*points, strict=True)
        if len(set(x)) == 1:
            assert got[k]["slope"] is None
            continue
        expected = stats.linregress(x, y)
        assert got[k]["slope"] == pytest.approx(expected.slope, abs=1e-9)
        assert got[k]["intercept"] == pytest.approx(expected.intercept, abs=1e-8)
        error = 0.0 if len(set(y)) == 1 else expected.stderr  # scipy says nan there
        assert got[k]["slope_se"] == pytest.approx(error, abs=1e-6)
