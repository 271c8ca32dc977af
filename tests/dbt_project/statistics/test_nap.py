"""Nonoverlap of all pairs against printed output, counting and the rank-sum test."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats

from tests.check_values import Example, example
from tests.dbt_project.series import Points, phases, rows_of


def _naps(
    *given: tuple[Points, Points], direction: str = "increase", level: float = 0.95
) -> list[dict[str, Any]]:
    return rows_of("nap", "g", ["k"], "b", "x", direction, level, g=phases(*given))


def _of(printed: Example, direction: str = "increase", level: float = 0.95) -> dict[str, Any]:
    given = (printed.inputs["A"], printed.inputs["B"])
    return _naps(given, direction=direction, level=level)[0]


# R package SingleCaseES, printed output: read.
def test_the_printed_output_of_an_increase() -> None:
    printed = example("h-nap-singlecasees-1")
    row = _of(printed)
    assert row["nap"] == printed.expects("est")
    assert row["better_pairs"] == pytest.approx(38.5)
    for name in ("se_unbiased", "se_hanley", "se_null"):
        assert row[name] == printed.expects(name)
    assert (row["nap_low"], row["nap_high"]) == (printed.expects("lo"), printed.expects("hi"))


def test_the_printed_output_where_a_decrease_is_better() -> None:
    printed = example("h-nap-singlecasees-decrease")
    row = _of(printed, "decrease")
    assert row["nap"] == printed.expects("est")
    assert row["se_unbiased"] == printed.expects("se_unbiased")
    assert (row["nap_low"], row["nap_high"]) == (printed.expects("lo"), printed.expects("hi"))


def test_the_printed_ranges_at_90_and_99() -> None:
    printed = example("h-nap-singlecasees-ci")
    for level, name in ((0.9, "ci90"), (0.99, "ci99")):
        row = _of(printed, level=level)
        assert [row["nap_low"], row["nap_high"]] == printed.expects(name)


# Parker & Vannest (2009): data read, value from memory.
def test_the_worked_example_of_the_authors() -> None:
    printed = example("h-nap-parker-vannest2009")
    row = _of(printed)
    assert row["pair_count"] == printed.expects("pairs")
    assert row["nap"] == printed.expects("NAP")


def test_no_overlap_has_its_end_at_one_and_no_standard_error() -> None:
    clear, reverse = _naps(([1, 2], [3, 4, 5]), ([3, 4, 5], [1, 2]))
    assert (clear["nap"], clear["nap_high"], clear["se_unbiased"]) == (1.0, pytest.approx(1), 0.0)
    assert (reverse["nap"], reverse["nap_low"]) == (0.0, pytest.approx(0, abs=1e-12))
    assert clear["nap_low"] == pytest.approx(1 - reverse["nap_high"])
    assert (clear["tau"], reverse["tau"]) == (1.0, -1.0)


def _bound(nap: float, m: int, n: int, z: float, low: float, high: float) -> float:
    def gap(x: float) -> float:
        spread = x * (1 - x) / (m * n)
        spread *= 1 + ((m + n) / 2 - 1) * ((1 - x) / (2 - x) + x / (1 + x))
        return float((nap - x) ** 2 - z * z * spread)

    return float(optimize.brentq(gap, low, high, xtol=1e-13))


@settings(max_examples=10, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.integers(0, 9), min_size=1, max_size=9),
            st.lists(st.integers(0, 9), min_size=1, max_size=9),
        ),
        min_size=1,
        max_size=10,
    )
)
@case([([4], [4]), ([4], [5]), ([1, 1, 2], [1, 2, 2])])
def test_nap_is_the_rank_sum_over_the_pairs(given: list[tuple[list[int], list[int]]]) -> None:
    z = stats.norm.ppf(0.975)
    for (before, after), row in zip(given, _naps(*given), strict=True):
        m, n = len(before), len(after)
        better = (np.subtract.outer(after, before) > 0) + 0.5 * (
            np.subtract.outer(after, before) == 0
        )
        nap = better.mean()
        assert row["nap"] == pytest.approx(nap)
        assert row["better_pairs"] == pytest.approx(stats.mannwhitneyu(after, before).statistic)
        assert (row["before_count"], row["after_count"], row["pair_count"]) == (m, n, m * n)
        rows, columns = (better.mean(0) ** 2).mean(), (better.mean(1) ** 2).mean()
        hanley = nap * (1 - nap) + (n - 1) * (rows - nap**2) + (m - 1) * (columns - nap**2)
        assert row["se_hanley"] == pytest.approx(np.sqrt(max(hanley, 0) / (m * n)), abs=1e-7)
        assert row["se_null"] == pytest.approx(np.sqrt((m + n + 1) / (12 * m * n)))
        assert (row["se_unbiased"] is None) == (m == 1 or n == 1)
        if 0 < nap < 1:
            assert row["nap_low"] == pytest.approx(_bound(nap, m, n, z, 0, nap), abs=1e-9)
            assert row["nap_high"] == pytest.approx(_bound(nap, m, n, z, nap, 1), abs=1e-9)


def test_values_and_phases_that_are_not_known_are_left_out() -> None:
    known = "case when i != 3 then b end"
    rows = rows_of(
        "nap", "g", ["k"], known, "x", "increase", 0.95,
        g=phases(([1, None, 9], [2, 3]), ([1, 2], []), ([], [4])),
    )  # fmt: skip
    assert [(row["k"], row["before_count"], row["after_count"], row["nap"]) for row in rows] == [
        (1, 1, 2, 1.0)
    ]


def test_every_point_before_meets_every_point_after_once() -> None:
    rows = rows_of("nap_pairs", "g", ["k"], "b", "x", "increase", g=phases(([1, 3], [3, 4, 0])))
    found = {(row["before_number"], row["after_number"]): row for row in rows}
    assert sorted(found) == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]
    assert [found[pair]["is_better"] for pair in sorted(found)] == [0.0, 1.0, 1.0, 0.0, 0.5, 1.0]
    assert found[2, 1]["row_mean"] == pytest.approx(0.5)
    assert found[2, 2]["column_mean"] == pytest.approx(0.75)
    points = rows_of("phase_points", "g", ["k"], "b", "x", g=phases(([2, 1], [None, 5])))
    assert sorted(
        (row["is_later"], row["phase_number"], row["phase_value"], row["phase_count"])
        for row in points
    ) == [(False, 1, 1.0, 2), (False, 2, 2.0, 2), (True, 1, 5.0, 1)]
