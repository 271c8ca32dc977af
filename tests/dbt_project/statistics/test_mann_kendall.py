"""Mann & Kendall's trend against printed results and pymannkendall."""

from __future__ import annotations

from typing import Any

import pymannkendall
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.series import Points, pairs, rows_of, series


def _trends(*given: Points) -> list[dict[str, Any]]:
    return rows_of("mann_kendall", "g", ["k"], "i", "x", g=series(*given))


# Gilbert (1987), section 16.4: the first from memory, the second our own series with ties.
def test_four_wells_rise_with_the_one_sided_p_of_the_table() -> None:
    four, tied = example("g-gilbert-16-mk-4"), example("g-gilbert-16-ties")
    one, two = _trends(four.inputs["y"], tied.inputs["y"])
    assert one["s_score"] == four.expects("S")
    assert one["p_exact"] / 2 == four.expects("p_one_sided")
    assert two["s_score"] == tied.expects("S")


# The flow of the Nile: data read, result our own, the same in pymannkendall.
def test_the_nile_fell() -> None:
    nile = example("g-mk-nile")
    (row,) = _trends(nile.inputs["y"])
    expected = pymannkendall.original_test(nile.inputs["y"])
    assert row["point_count"] == nile.published["n"]
    assert (row["s_score"], row["s_variance"]) == (expected.s, pytest.approx(expected.var_s))
    assert (row["z_score"], row["p_value"]) == (
        pytest.approx(expected.z),
        pytest.approx(expected.p),
    )
    assert row["z_score"] < -4


@settings(max_examples=12, deadline=None)
@given(st.lists(st.lists(st.integers(0, 9), min_size=3, max_size=30), min_size=1, max_size=12))
@case([[5, 5, 5], [1, 2, 3], [3, 2, 1, 0], list(range(20)), [1, 1, 2]])
def test_trends_agree_with_pymannkendall(given: list[list[int]]) -> None:
    for points, row in zip(given, _trends(*given), strict=True):
        expected = pymannkendall.original_test(points)
        assert row["s_score"] == expected.s
        assert row["tau_a"] == pytest.approx(expected.Tau)
        assert row["s_variance"] == pytest.approx(expected.var_s, abs=1e-9)
        if expected.var_s > 1e-9:
            assert row["z_score"] == pytest.approx(expected.z)
            assert row["p_continuity"] == pytest.approx(min(1.0, expected.p))


def test_two_points_of_one_day_are_tied_in_their_order() -> None:
    given = pairs([(1.0, 3.0), (2.0, 5.0), (2.0, 9.0), (3.0, 10.0), (None, 1.0), (4.0, None)])
    (row,) = rows_of("mann_kendall", "g", ["k"], "x", "y", g=given)
    assert (row["point_count"], row["s_score"], row["untied_x_pairs"]) == (4, 5.0, 5.0)
    assert row["p_exact"] is None


def test_more_than_fifty_points_are_judged_by_the_normal() -> None:
    fifty, more = _trends(list(range(50)), list(range(51)))
    assert (fifty["p_exact"] is None, more["p_exact"] is None) == (False, True)
    assert more["p_value"] == more["p_continuity"]
