"""Kendall's correlation against printed results and scipy."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.series import Points, pairs, rows_of


def _correlated(*given: tuple[Points, Points]) -> list[dict[str, Any]]:
    both = [list(zip(x, y, strict=True)) for x, y in given]
    return rows_of("kendall", "g", ["k"], "x", "y", g=pairs(*both))


# Hollander & Wolfe (1973), tuna lightness: data read, results from memory.
def test_nine_tins_of_tuna_have_the_exact_p_of_the_book() -> None:
    tuna = example("g-hollander-wolfe-8.1-tuna")
    (row,) = _correlated((tuna.inputs["x"], tuna.inputs["y"]))
    assert row["s_score"] == tuna.expects("K")
    assert row["tau_a"] == row["tau_b"] == tuna.expects("tau")
    assert (row["pair_count"] + row["s_score"]) / 2 == tuna.expects("T")
    assert row["p_exact"] == row["p_value"] == tuna.expects("p_exact")


# Kendall (1976), example 3.4: read.
def test_ties_in_both_rankings_are_corrected_as_in_the_book() -> None:
    ranks = example("g-kendall1976-ex3.4")
    (row,) = _correlated((ranks.inputs["a"], ranks.inputs["b"]))
    assert row["s_score"] == ranks.expects("S")
    assert row["tau_scale"] == ranks.expects("D")
    assert row["tau_b"] == ranks.expects("tau_b")
    assert row["p_exact"] is None
    # Groups of three and more in both rankings: every term of the variance counts.
    plain = stats.kendalltau(ranks.inputs["a"], ranks.inputs["b"], method="asymptotic")
    assert row["p_plain"] == pytest.approx(plain.pvalue, abs=1e-12)
    assert row["p_continuity"] == pytest.approx(
        2 * stats.norm.sf(33 / np.sqrt(row["s_variance"])), abs=1e-12
    )


# SciPy's documentation of kendalltau: the first read, the second from memory.
def test_two_documented_cases_with_ties() -> None:
    liver, short = example("g-kendalltau-scipydoc-liver"), example("g-kendalltau-scipydoc")
    one, two = _correlated(
        (liver.inputs["x"], liver.inputs["y"]), (short.inputs["x"], short.inputs["y"])
    )
    assert one["tau_b"] == liver.expects("tau")
    assert one["p_plain"] == liver.expects("p_asymptotic")
    assert two["tau_b"] == short.expects("tau")
    assert two["p_plain"] == short.expects("p")


@settings(max_examples=12, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(st.integers(0, 4), st.integers(0, 30)), min_size=1, max_size=12),
        min_size=1,
        max_size=12,
    )
)
@case([[(1, 1), (2, 2)], [(1, 1)], [(1, 5), (1, 6), (1, 7)], [(1, 4), (2, 4), (3, 4)]])
@case([[(i, (i * 7) % 11) for i in range(11)], [(1, 2), (2, 2), (3, 1), (3, 3)]])
def test_kendall_agrees_with_scipy(given: list[list[tuple[int, int]]]) -> None:
    found = _correlated(*[([x for x, _ in one], [y for _, y in one]) for one in given])
    for points, row in zip(given, found, strict=True):
        x, y = np.array(points, dtype=float).T
        if len(points) < 3:
            continue  # scipy divides by zero; the cases by hand stand below
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            plain = stats.kendalltau(x, y, method="asymptotic")
        assert row["tau_b"] == (
            None if np.isnan(plain.statistic) else pytest.approx(plain.statistic)
        )
        if row["tau_b"] is None:
            assert row["z_score"] is row["p_value"] is None or len(points) == 1
            continue
        assert row["p_plain"] == pytest.approx(plain.pvalue, abs=1e-9)
        moved = np.sign(row["s_score"]) * max(abs(row["s_score"]) - 1, 0)
        assert row["z_score"] == pytest.approx(moved / np.sqrt(row["s_variance"]))
        is_untied = len(set(x)) == len(set(y)) == len(x)
        assert (row["p_exact"] is not None) == is_untied
        if is_untied:
            exact = stats.kendalltau(x, y, method="exact").pvalue
            assert row["p_value"] == row["p_exact"] == pytest.approx(exact, abs=1e-12)


def test_one_and_two_points() -> None:
    rising, tied, one = _correlated(([1, 2], [3, 4]), ([1, 1], [3, 4]), ([1], [1]))
    assert (rising["tau_b"], rising["z_score"], rising["p_value"]) == (1.0, 0.0, 1.0)
    assert rising["p_plain"] == pytest.approx(2 * stats.norm.sf(1))
    assert (tied["tau_b"], tied["z_plain"], tied["p_value"]) == (None, None, None)
    assert (one["pair_count"], one["s_score"], one["tau_a"], one["p_value"]) == (0, 0, None, None)


def test_the_sums_that_both_tests_rest_on() -> None:
    given = pairs([(1.0, 3.0), (2.0, 1.0), (2.0, 3.0), (4.0, 5.0), (None, 1.0)], [(1.0, 2.0)])
    two, one = rows_of("kendall_sums", "g", ["k"], "x", "y", g=given)
    assert (two["point_count"], two["pair_count"], two["s_score"]) == (4, 6.0, 2.0)
    assert (two["untied_x_pairs"], two["untied_y_pairs"]) == (5.0, 5.0)
    # (4 x 3 x 13 - 18 - 18) / 18 + 2 x 2 / (2 x 4 x 3)
    assert two["s_variance"] == pytest.approx(120 / 18 + 4 / 24)
    assert (one["point_count"], one["pair_count"], one["s_variance"]) == (1, 0.0, 0.0)


def test_ties_are_counted_by_their_size() -> None:
    given = pairs([(1.0, 0.0)] * 3 + [(2.0, 0.0)] * 2 + [(3.0, 0.0)])
    (row,) = rows_of("tie_sums", "g", ["k"], "x", g=given)
    assert (row["point_count"], row["tie_pairs"]) == (6, 8)
    assert (row["tie_triples"], row["tie_weight"]) == (6, 6 * 11 + 2 * 9)
