"""Individuals charts against the handbook's example and arithmetic."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.series import rows_of, series


# NIST/SEMATECH e-Handbook 6.3.2.2: read (as quoted by others).
def test_the_flow_rates_of_the_handbook_have_its_limits() -> None:
    nist = example("b-imr-nist-6322")
    rows = rows_of("individuals_chart", "g", ["k"], "i", "x", g=series(nist.inputs["x"]))
    assert [row["moving_range"] for row in rows[1:]] == nist.expects("mr")
    for row in rows:
        assert row["center"] == nist.expects("xbar")
        assert row["mean_moving_range"] == nist.expects("mrbar")
        assert (row["low"], row["high"]) == (nist.expects("lcl"), nist.expects("ucl"))
    assert [row["i"] for row in rows if row["is_outside"]] == nist.published["signals"]
    assert rows[0]["moving_range"] is None


def test_a_point_on_a_limit_is_inside_and_one_beyond_it_outside() -> None:
    wave = [0.0, 1.128] * 5
    args = ("g", ["k"], "i", "x", "3.0", "i <= 10")
    rows = rows_of("individuals_chart", *args, g=series([*wave, 3.564, -2.436, 3.565, -2.437]))
    assert rows[0]["center"] == pytest.approx(0.564)
    assert (rows[0]["low"], rows[0]["high"]) == (pytest.approx(-2.436), pytest.approx(3.564))
    assert [row["i"] for row in rows if row["is_outside"]] == [13, 14]


def test_only_the_baseline_sets_the_limits_and_its_ranges_end_with_it() -> None:
    given = series([1, 2, 1, 90, 1, 3])
    rows = rows_of("individuals_chart", "g", ["k"], "i", "x", "2.0", "x < 10", g=given)
    assert rows[0]["center"] == pytest.approx(1.6)
    assert rows[0]["mean_moving_range"] == pytest.approx((1 + 1 + 2) / 3)
    assert rows[0]["high"] == pytest.approx(1.6 + 2 * (4 / 3) / 1.128)
    assert [row["is_outside"] for row in rows] == [False, False, False, True, False, False]


def test_one_point_has_no_limits_and_points_all_alike_have_none_outside() -> None:
    one, *alike = rows_of("individuals_chart", "g", ["k"], "i", "x", g=series([7], [4, 4, None, 4]))
    assert (one["low"], one["high"], one["is_outside"]) == (None, None, False)
    assert [(row["i"], row["low"], row["high"], row["is_outside"]) for row in alike] == [
        (place, 4.0, 4.0, False) for place in (1, 2, 4)
    ]


@settings(max_examples=8, deadline=None)
@given(st.lists(st.lists(st.floats(-9, 9), min_size=2, max_size=20), min_size=1, max_size=6))
def test_the_limits_agree_with_numpy(given: list[list[float]]) -> None:
    rows = rows_of("individuals_chart", "g", ["k"], "i", "x", g=series(*given))
    for key, points in enumerate(given, 1):
        reach = 3 * np.abs(np.diff(points)).mean() / 1.128
        first = next(row for row in rows if row["k"] == key)
        assert first["low"] == pytest.approx(np.mean(points) - reach, abs=1e-9)
        assert first["high"] == pytest.approx(np.mean(points) + reach, abs=1e-9)
