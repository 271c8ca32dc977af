"""Tarlow's baseline corrected tau."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.series import Points, phases, rows_of


def _taus(*given: tuple[Points, Points]) -> list[dict[str, Any]]:
    return rows_of("baseline_corrected_tau", "g", ["k"], "i", "b", "x", g=phases(*given))


# Tarlow (2017): read.
def test_a_pure_trend_leaves_nothing() -> None:
    tarlow = example("h-tauu-tarlow2017")
    (row,) = _taus((tarlow.inputs["A"], tarlow.inputs["B"]))
    assert row["tau_plain"] == tarlow.expects("Tau")
    assert row["tau_corrected"] == tarlow.expects("TauBC")
    assert (row["tau_b_corrected"], row["baseline_slope"]) == (0.0, 1.0)
    assert row["baseline_p"] == pytest.approx(2 / 120)


def test_a_trend_that_is_no_round_number_is_taken_out_whole() -> None:
    (row,) = _taus(([0.1, 0.4, 0.7], [1.0, 1.3, 1.6, 1.9]))
    assert (row["tau_plain"], row["tau_corrected"]) == (1.0, 0.0)


def test_a_phase_too_short_to_correct_has_no_row() -> None:
    assert _taus(([1], [2, 3]), ([1, 2], []), ([], [1])) == []


@settings(max_examples=8, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.integers(0, 9), min_size=2, max_size=7),
            st.lists(st.integers(0, 9), min_size=1, max_size=7),
        ),
        min_size=1,
        max_size=8,
    )
)
def test_the_correction_takes_the_slope_before_from_every_point(
    given: list[tuple[list[int], list[int]]],
) -> None:
    for (before, after), row in zip(given, _taus(*given), strict=True):
        slope = stats.theilslopes(before, np.arange(1, len(before) + 1)).slope
        values = np.array([*before, *after], dtype=float)
        corrected = np.round(values - slope * np.arange(1, len(values) + 1), 9)
        phase = [0] * len(before) + [1] * len(after)
        signs = np.sign(np.subtract.outer(corrected[len(before) :], corrected[: len(before)]))
        assert row["baseline_slope"] == pytest.approx(slope)
        assert row["tau_corrected"] == pytest.approx(signs.mean(), abs=1e-9)
        assert row["tau_plain"] == pytest.approx(np.sign(np.subtract.outer(after, before)).mean())
        if len(set(corrected)) > 1:
            expected = stats.kendalltau(phase, corrected).statistic
            assert row["tau_b_corrected"] == pytest.approx(expected)
        else:
            assert row["tau_b_corrected"] == 0.0
