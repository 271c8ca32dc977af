"""p, np, u and c charts against handbook and textbook examples."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar
from tests.dbt_project.series import rows_of, series


def _counts(*given: Sequence[tuple[float | None, float | None]]) -> str:
    rows = [
        f"({k}, {i}, {'null' if x is None else x}::double, {'null' if n is None else n}::double)"
        for k, points in enumerate(given, 1)
        for i, (x, n) in enumerate(points, 1)
    ]
    return f"from (values {', '.join(rows[::-1])}) t(k, i, x, n)"


def _outside(rows: list[dict[str, Any]], column: str = "is_outside") -> list[int]:
    return [row["i"] for row in rows if row[column]]


# NIST/SEMATECH e-Handbook 6.3.3.2: read (as quoted by others).
def test_the_chips_of_the_handbook_have_its_p_limits() -> None:
    nist = example("b-p-nist-6332")
    size = str(nist.inputs["n"])
    rows = rows_of("p_chart", "g", ["k"], "i", "x", size, g=series(nist.inputs["defective"]))
    for row in rows:
        assert row["center"] == nist.expects("pbar")
        assert (row["low"], row["high"]) == (nist.expects("lcl"), nist.expects("ucl"))
    assert _outside(rows) == [15, 23]


# A course report with R's qcc: read.
def test_an_np_chart_is_the_p_chart_times_the_lot_and_cut_at_zero() -> None:
    lots = example("b-np-rpubs-wafer50")
    size = lots.inputs["n"]
    given = series(lots.inputs["defective"])
    (row, *_) = rows_of("p_chart", "g", ["k"], "i", "x", str(size), g=given)
    assert row["center"] == lots.expects("pbar")
    assert row["center"] * size == lots.expects("center")
    assert row["high"] * size == lots.expects("ucl")
    assert row["low"] * size == lots.expects("lcl")


# NIST/SEMATECH e-Handbook 6.3.3.1: read (as quoted by others).
def test_the_wafers_of_the_handbook_have_its_c_limits_and_one_signal() -> None:
    nist = example("b-c-nist-6331")
    rows = rows_of("u_chart", "g", ["k"], "i", "x", g=series(nist.inputs["counts"]))
    assert rows[0]["center"] == nist.expects("cbar")
    assert (rows[0]["low"], rows[0]["high"]) == (nist.expects("lcl"), nist.expects("ucl"))
    assert _outside(rows) == nist.published["signals"]


# Western Electric (1956), rule 1 on the same data: data read, result our own.
def test_rule_one_is_a_point_beyond_three_sigma() -> None:
    rules = example("b-rules-nist-6331-c")
    rows = rows_of("u_chart", "g", ["k"], "i", "x", g=series(rules.inputs["counts"]))
    assert (rows[0]["center"], rows[0]["point_sd"]) == (
        rules.inputs["center"],
        rules.inputs["sigma"],
    )
    assert _outside(rows) == rules.published["rule1"]


# Montgomery (1991) pp. 183-184: data read, centre from memory.
def test_a_u_chart_has_limits_of_its_own_for_each_area() -> None:
    cloth = example("b-u-montgomery-dyedcloth")
    given = _counts(list(zip(cloth.inputs["x"], cloth.inputs["n"], strict=True)))
    rows = rows_of("u_chart", "g", ["k"], "i", "x", "n", g=given)
    assert cloth.published["total_x"] / cloth.published["total_n"] == pytest.approx(
        rows[0]["center"]
    )
    assert rows[0]["center"] == cloth.expects("ubar")
    assert rows[1]["high"] == pytest.approx(rows[1]["center"] + 3 * np.sqrt(rows[1]["center"] / 8))
    assert _outside(rows) == cloth.published["signals"]


# Mohammed et al. (2013): data and formula read; their text has most weeks outside the plain limits
# and none outside the widened ones.
def test_very_large_counts_are_judged_by_the_widened_limits() -> None:
    weeks = example("b-laney-nhs-accidents")
    given = _counts(list(zip(weeks.inputs["r"], weeks.inputs["n"], strict=True)))
    rows = rows_of("p_chart", "g", ["k"], "i", "x", "n", g=given)
    assert len(rows) == weeks.published["k"]
    assert len(_outside(rows)) > len(rows) / 2
    assert _outside(rows, "is_outside_wide") == []


# Montgomery, orange juice cans after an adjustment: from memory.
def test_a_shift_between_two_shares_has_the_pooled_z() -> None:
    juice = example("b-p-montgomery-oj-phase2")
    after = sum(juice.inputs["after"])
    totals = (juice.inputs["before_total"], juice.inputs["before_n"], juice.inputs["after_n"])
    before, before_n, after_n = totals
    assert after / after_n == juice.expects("p_after")
    assert (before + after) / (before_n + after_n) == juice.expects("pooled")
    assert scalar("share_shift_z", before, before_n, after, after_n) == juice.expects("z")
    assert scalar("share_shift_z", 0, 5, 0, 7) is None


# NIST/SEMATECH e-Handbook 6.3.2 (ARL 370.37): from memory.
def test_one_point_in_370_lies_outside_by_chance() -> None:
    shewhart = example("b-arl-shewhart")
    beyond = 2 * scalar("normal_cdf", "-3.0")
    assert beyond == shewhart.expects("one_beyond_3s")
    assert 1 / beyond == shewhart.expects("ARL")


def test_a_point_on_the_limit_is_inside_for_both_kinds_of_limits() -> None:
    given = _counts([(16.0, 1.0)] * 8 + [(28.0, 1.0), (4.0, 1.0)])
    rows = rows_of("u_chart", "g", ["k"], "i", "x", "n", g=given)
    assert rows[0]["center"] == 16.0
    assert _outside(rows) == []
    spread = rows[0]["spread_ratio"]
    assert spread == pytest.approx((3 + 6) / 9 / 1.128)
    assert rows[0]["high_wide"] == pytest.approx(16 + 12 * spread)
    assert rows[0]["low_wide"] == pytest.approx(16 - 12 * spread)
    assert _outside(rows, "is_outside_wide") == [9, 10]


def test_a_shares_limits_stay_within_zero_and_one() -> None:
    given = _counts([(9.0, 10.0), (10.0, 10.0), (4.0, 10.0), (1.0, 2.0)], [(0.0, 4.0), (1.0, 4.0)])
    rows = rows_of("p_chart", "g", ["k"], "i", "x", "n", g=given)
    assert [row["high"] for row in rows[:4]] == [1.0] * 4
    assert [row["low"] for row in rows[4:]] == [0.0, 0.0]
    assert rows[3]["low"] == pytest.approx(max(0, 0.75 - 3 * np.sqrt(0.75 * 0.25 / 2)))


def test_without_variation_or_with_one_point_the_widened_limits_are_null() -> None:
    given = _counts([(0.0, 5.0), (0.0, 6.0)], [(3.0, 5.0), (None, 5.0), (1.0, 0.0), (1.0, None)])
    rows = rows_of("p_chart", "g", ["k"], "i", "x", "n", g=given)
    assert [(row["k"], row["spread_ratio"], row["high_wide"]) for row in rows] == [
        (1, None, None),
        (1, None, None),
        (2, None, None),
    ]
    assert [row["is_outside"] or row["is_outside_wide"] for row in rows] == [False] * 3


@settings(max_examples=8, deadline=None)
@given(
    st.lists(
        st.integers(1, 60).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))),
        min_size=3,
        max_size=25,
    )
)
def test_the_widening_is_the_moving_range_of_the_scores(points: list[tuple[int, int]]) -> None:
    rows = rows_of("p_chart", "g", ["k"], "i", "x", "n", "2.0", g=_counts(list(points)))
    counted, total = np.array(points, dtype=float).T
    center = counted.sum() / total.sum()
    sd = np.sqrt(center * (1 - center) / total)
    if center in (0, 1):
        return
    spread = np.abs(np.diff((counted / total - center) / sd)).mean() / 1.128
    assert [row["spread_ratio"] for row in rows] == pytest.approx([spread] * len(points))
    assert [row["low"] for row in rows] == pytest.approx(np.maximum(0, center - 2 * sd), abs=1e-12)
    assert [row["high_wide"] for row in rows] == pytest.approx(
        np.minimum(1, center + 2 * sd * spread)
    )
    assert [row["low_wide"] for row in rows] == pytest.approx(
        np.maximum(0, center - 2 * sd * spread)
    )
