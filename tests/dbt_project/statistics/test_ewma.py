"""Exponentially weighted averages against the handbook and the recursion they stand for."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.series import rows_of, series


def _recursion(points: list[float], weight: float, start: float) -> list[float]:
    averages = []
    for point in points:
        start = weight * point + (1 - weight) * start
        averages.append(start)
    return averages


# NIST/SEMATECH e-Handbook 6.3.2.4: read (as quoted by others).
def test_the_averages_and_limits_are_the_handbooks() -> None:
    nist = example("b-ewma-nist-6324")
    args = [str(nist.inputs[name]) for name in ("lam", "ewma0", "s", "k")]
    rows = rows_of("ewma", "g", ["k"], "i", "x", *args, g=series(nist.inputs["x"]))
    assert [row["average"] for row in rows] == nist.expects("ewma")
    assert (rows[3]["low"], rows[3]["high"]) == (nist.expects("lcl"), nist.expects("ucl"))
    assert [row["i"] for row in rows if row["is_outside"]] == nist.published["signals"]


@pytest.mark.parametrize("weight", [0.05, 0.2, 0.9, 1.0])
def test_four_hundred_points_are_as_exact_as_the_recursion(weight: float) -> None:
    points = [float(np.sin(place) * 40 + place / 7) for place in range(400)]
    rows = rows_of("ewma", "g", ["k"], "i", "x", str(weight), g=series(points))
    expected = _recursion(points, weight, float(np.mean(points)))
    assert [row["average"] for row in rows] == pytest.approx(expected, rel=1e-12, abs=1e-11)


@settings(max_examples=8, deadline=None)
@given(
    st.lists(st.lists(st.floats(-5, 5), min_size=2, max_size=25), min_size=1, max_size=6),
    st.sampled_from([0.1, 0.3, 0.7]),
)
def test_averages_and_limits_follow_from_mean_and_moving_range(
    given: list[list[float]], weight: float
) -> None:
    rows = rows_of("ewma", "g", ["k"], "i", "x", str(weight), g=series(*given))
    for key, points in enumerate(given, 1):
        mine = [row for row in rows if row["k"] == key]
        sd = np.abs(np.diff(points)).mean() / 1.128
        reach = 3 * sd * np.sqrt(weight / (2 - weight))
        now = reach * np.sqrt(1 - (1 - weight) ** (2 * np.arange(1, len(points) + 1)))
        center = float(np.mean(points))
        expected = _recursion(points, weight, center)
        assert [row["average"] for row in mine] == pytest.approx(expected, abs=1e-9)
        assert [row["high"] - center for row in mine] == pytest.approx(
            [reach] * len(points), abs=1e-9
        )
        assert [center - row["low"] for row in mine] == pytest.approx(
            [reach] * len(points), abs=1e-9
        )
        assert [row["high_now"] - center for row in mine] == pytest.approx(now, abs=1e-9)
        assert [center - row["low_now"] for row in mine] == pytest.approx(now, abs=1e-9)


def test_an_average_on_the_settled_limit_is_inside_and_one_beyond_outside() -> None:
    args = ("g", ["k"], "i", "x", "1.0", "0.0", "1.0", "3.0")
    rows = rows_of("ewma", *args, g=series([3, -3, 3.001, -3.001, 0]))
    assert [row["is_outside"] for row in rows] == [False, False, True, True, False]


def test_points_all_alike_are_inside_whatever_their_last_digit() -> None:
    rows = rows_of("ewma", "g", ["k"], "i", "x", "0.3", g=series([0.1] * 30, [1e9 / 3] * 7))
    assert not any(row["is_outside"] for row in rows)
    rows = rows_of("individuals_chart", "g", ["k"], "i", "x", g=series([0.1] * 30, [1e9 / 3] * 7))
    assert not any(row["is_outside"] for row in rows)


def test_one_point_has_an_average_and_no_limits() -> None:
    (row,) = rows_of("ewma", "g", ["k"], "i", "x", "0.3", g=series([7, None]))
    assert (row["value"], row["average"], row["center"]) == (7.0, pytest.approx(7.0), 7.0)
    assert (row["low"], row["high_now"], row["is_outside"]) == (None, None, False)
