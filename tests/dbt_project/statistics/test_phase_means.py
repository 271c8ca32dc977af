"""Log response ratio and standardized difference of two phases."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.series import Points, phases, rows_of


def _means(*given: tuple[Points, Points], level: float = 0.95) -> list[dict[str, Any]]:
    return rows_of("phase_means", "g", ["k"], "b", "x", level, g=phases(*given))


# R package SingleCaseES, printed output: read.
def test_the_printed_log_ratio_and_standardized_difference() -> None:
    printed = example("h-lrr-smd-singlecasees")
    (row,) = _means((printed.inputs["A"], printed.inputs["B"]))
    assert (row["log_ratio"], row["log_ratio_se"]) == (
        printed.expects("LRR"),
        printed.expects("LRR_se"),
    )
    assert row["before_sd"] == printed.expects("baseline_SD")
    assert (row["smd"], row["smd_se"]) == (printed.expects("SMD"), printed.expects("SMD_se"))


# scan book 9.1-9.6: read.
def test_the_mean_difference_and_glass_of_one_case() -> None:
    scan = example("h-scan-exampleAB-johanna")
    (row,) = _means((scan.inputs["A"], scan.inputs["B"]))
    assert row["after_mean"] - row["before_mean"] == scan.expects("MeanDiff")
    assert row["smd_plain"] == scan.expects("SMD")


def test_five_visits_before_and_six_after() -> None:
    (row,) = _means(([0.62, 0.70, 0.66, 0.58, 0.69], [0.71, 0.78, 0.74, 0.82, 0.80, 0.76]))
    assert row["log_ratio_plain"] == pytest.approx(0.1673, abs=5e-5)
    assert row["log_ratio"] == pytest.approx(0.1669, abs=5e-5)
    assert row["log_ratio_se"] == pytest.approx(0.0405, abs=5e-5)


@settings(max_examples=8, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.floats(0.1, 9), min_size=2, max_size=8, unique=True),
            st.lists(st.floats(0.1, 9), min_size=2, max_size=8),
        ),
        min_size=1,
        max_size=8,
    ),
    st.sampled_from([0.8, 0.95]),
)
def test_everything_follows_from_means_and_spreads(
    given: list[tuple[list[float], list[float]]], level: float
) -> None:
    z = stats.norm.ppf(0.5 + level / 2)
    for (a, b), row in zip(given, _means(*given, level=level), strict=True):
        m, n = len(a), len(b)
        va, vb = np.var(a, ddof=1), np.var(b, ddof=1)
        ra, rb = va / (m * np.mean(a) ** 2), vb / (n * np.mean(b) ** 2)
        ratio = np.log(np.mean(b) / np.mean(a)) + rb / 2 - ra / 2
        assert (row["before_count"], row["after_count"]) == (m, n)
        assert row["log_ratio"] == pytest.approx(ratio, abs=1e-9)
        assert row["log_ratio_low"] == pytest.approx(ratio - z * np.sqrt(ra + rb), abs=1e-8)
        assert row["log_ratio_high"] == pytest.approx(ratio + z * np.sqrt(ra + rb), abs=1e-8)
        factor = 1 - 3 / (4 * (m - 1) - 1)
        difference = factor * (np.mean(b) - np.mean(a)) / np.sqrt(va)
        spread = 1 / m + vb / (n * va) + difference**2 / (2 * (m - 1))
        assert row["smd"] == pytest.approx(difference, rel=1e-6)
        assert row["smd_se"] == pytest.approx(abs(factor) * np.sqrt(spread), rel=1e-6)


def test_what_cannot_be_worked_out_is_null() -> None:
    one, zero, alike, alone, gone = _means(
        ([3], [4, 5]), ([0, 0], [1, 2]), ([2, 2], [3, 5]), ([1, 2], []), ([1, 2], [0, None, 0])
    )
    assert (one["log_ratio"], one["smd"], one["smd_se"]) == (None, None, None)
    assert one["log_ratio_plain"] == pytest.approx(np.log(4.5 / 3))
    assert (zero["log_ratio_plain"], zero["log_ratio"], zero["log_ratio_se"]) == (None, None, None)
    assert (alike["smd"], alike["smd_plain"], alike["smd_se"]) == (None, None, None)
    assert alike["log_ratio"] is not None
    assert (alone["after_count"], alone["after_mean"], alone["smd"]) == (0, None, None)
    assert (gone["after_count"], gone["log_ratio"], gone["log_ratio_se"]) == (2, None, None)
