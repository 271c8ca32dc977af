"""Tau-U against its authors' example, printed tables and Kendall's variance of scipy's ranks."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.series import Points, phases, rows_of, series


def _taus(*given: tuple[Points, Points], direction: str = "increase") -> list[dict[str, Any]]:
    return rows_of("tau_u", "g", ["k"], "i", "b", "x", direction, g=phases(*given))


# Parker et al. (2011), as replicated in the scan book: read.
def test_the_four_indices_of_the_authors_example() -> None:
    parker = example("h-tauu-parker2011-original")
    (row,) = _taus((parker.inputs["A"], parker.inputs["B"]))
    for ours, theirs in {
        "between": "AB",
        "minus_before": "AB_A",
        "plus_after": "AB_B",
        "full": "full",
    }.items():
        tau = {"AB_A": "tau_AB_minus_A", "AB_B": "tau_AB_plus_B"}.get(theirs, f"tau_{theirs}")
        assert row[f"tau_{ours}"] == parker.expects(tau)
        assert row[f"z_{ours}"] == parker.expects(f"Z_{theirs}")
        if ours != "between":
            assert row[f"sd_{ours}"] == parker.expects(f"sd_{theirs}")
    # The printed spread of plain A against B is the one without ties.
    assert row["sd_untied"] == parker.expects("sd_AB")


# scan book 9.8, complete table: read.
def test_the_complete_table_of_one_case() -> None:
    scan = example("h-scan-johanna-tauu-complete")
    given = (scan.inputs["A"], scan.inputs["B"])
    (row,) = _taus(given)
    before, after = rows_of("kendall", "g", ["k"], "i", "x", g=series(*given))
    assert [row["s_between"], row["s_before"], row["s_after"]] == [
        scan.published[name] for name in ("S_AB", "S_A", "S_B")
    ]
    assert row["sd_untied"] == scan.expects("SD_AB")
    assert row["sd_untied"] ** 2 == scan.expects("VAR_AB")
    assert row["z_between"] == scan.expects("Z_AB")
    assert before["s_variance"] == scan.expects("VAR_A")
    assert (after["tau_scale"], after["tau_b"]) == (scan.expects("D_B"), scan.expects("tau_B"))
    assert after["z_plain"] == scan.expects("Z_B")


# R package SingleCaseES, printed output: read. Tau-U there is the index less the trend before.
def test_the_printed_tau_u_in_either_direction() -> None:
    up = example("h-overlap-singlecasees-1")
    down = example("h-overlap-singlecasees-1-decrease")
    given = (up.inputs["A"], up.inputs["B"])
    (row,) = _taus(given)
    assert (row["tau_between"], row["tau_minus_before"]) == (up.expects("Tau"), up.expects("TauU"))
    (row,) = _taus(given, direction="decrease")
    assert row["tau_between"] == down.expects("Tau")
    assert row["tau_minus_before"] == down.expects("TauU")


# Tarlow (2017): read.
def test_a_pure_trend_keeps_most_of_its_tau_u() -> None:
    tarlow = example("h-tauu-tarlow2017")
    (row,) = _taus((tarlow.inputs["A"], tarlow.inputs["B"]))
    assert row["tau_between"] == tarlow.expects("Tau")
    assert row["tau_minus_before"] == tarlow.expects("TauU")


def _ranks(before: int, after: int, index: str) -> list[float]:
    """Places of the points: reversed before, on after, or alike where the index does not look."""
    first = [float(before - place) for place in range(before)]
    last = [float(before + 1 + place) for place in range(after)]
    if index in ("between", "plus_after"):
        first = [1.0] * before
    if index in ("between", "minus_before"):
        last = [float(before + 1)] * after
    return first + last


@settings(max_examples=10, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.integers(0, 6), min_size=1, max_size=7),
            st.lists(st.integers(0, 6), min_size=1, max_size=7),
        ),
        min_size=1,
        max_size=8,
    )
)
@case([([1, 1], [1, 1]), ([3], [5]), ([1, 2, 3, 3], [3, 3, 4])])
def test_every_index_is_kendalls_s_of_the_ranked_phases(
    given: list[tuple[list[int], list[int]]],
) -> None:
    for (before, after), row in zip(given, _taus(*given), strict=True):
        values = [*before, *after]
        for index in ("between", "minus_before", "plus_after", "full"):
            ranks = _ranks(len(before), len(after), index)
            if len(values) < 3:
                continue  # scipy divides by zero; the cases by hand stand below
            if len(set(values)) == 1:
                assert row[f"z_{index}"] is row[f"p_{index}"] is None
                continue
            expected = stats.kendalltau(ranks, values, method="asymptotic")
            assert row[f"p_{index}"] == pytest.approx(expected.pvalue, abs=1e-9)
            assert np.sign(row[f"z_{index}"]) == np.sign(np.round(expected.statistic, 12))
            assert row[f"z_{index}"] == pytest.approx(
                np.sign(expected.statistic) * stats.norm.isf(expected.pvalue / 2), abs=1e-6
            )


def test_one_point_a_phase() -> None:
    up, alike = _taus(([3], [5]), ([4], [4]))
    assert [up[f"tau_{index}"] for index in ("between", "plus_after", "full")] == [1.0] * 3
    assert (up["sd_between"], up["z_full"]) == (pytest.approx(1.0), pytest.approx(1.0))
    assert (alike["tau_between"], alike["z_between"]) == (0.0, None)


def test_rows_that_are_not_known_are_left_out() -> None:
    rows = rows_of(
        "tau_u", "g", ["k"], "case when i != 2 then i end", "case when i != 6 then b end", "x",
        "increase", g=phases(([1, 50, None], [2, 3, 0]), ([1], []), ([], [1, 2])),
    )  # fmt: skip
    assert [(row["k"], row["before_count"], row["after_count"]) for row in rows] == [(1, 1, 2)]
    assert rows[0]["s_after"] == 1.0


def test_the_sums_that_the_indices_rest_on() -> None:
    (row,) = rows_of(
        "tau_u_sums", "g", ["k"], "i", "b", "x", "increase", g=phases(([1, 2, 2], [2, 5]))
    )
    assert (row["point_count"], row["before_count"], row["after_count"]) == (5, 3, 2)
    assert (row["s_between"], row["s_before"], row["s_after"]) == (4.0, 2.0, 1.0)
    assert (row["tie_pairs"], row["tie_triples"], row["tie_weight"]) == (6, 6, 66)
