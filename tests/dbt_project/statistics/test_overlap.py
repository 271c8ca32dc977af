"""PND, PEM, PAND and IRD against printed output and counting."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar
from tests.dbt_project.series import Points, phases, rows_of

NAMES = {"pnd": "PND", "pem": "PEM", "pand": "PAND", "ird": "IRD"}


def _overlaps(*given: tuple[Points, Points], direction: str = "increase") -> list[dict[str, Any]]:
    return rows_of("overlap", "g", ["k"], "b", "x", direction, g=phases(*given))


# R package SingleCaseES, printed output: read.
def test_the_printed_indices_in_either_direction() -> None:
    for direction, name in (
        ("increase", "h-overlap-singlecasees-1"),
        ("decrease", "h-overlap-singlecasees-1-decrease"),
    ):
        printed = example(name)
        (row,) = _overlaps((printed.inputs["A"], printed.inputs["B"]), direction=direction)
        for ours, theirs in NAMES.items():
            assert row[ours] == printed.expects(theirs)
        (nap,) = rows_of(
            "nap", "g", ["k"], "b", "x", direction, 0.95,
            g=phases((printed.inputs["A"], printed.inputs["B"])),
        )  # fmt: skip
        assert nap["tau"] == printed.expects("Tau")
        if "Tau_se" in printed.published:
            assert 2 * nap["se_unbiased"] == printed.expects("Tau_se")


# scan book 9.1-9.6: read.
def test_a_case_without_overlap_has_all_indices_at_one() -> None:
    scan = example("h-scan-exampleAB-johanna")
    given = (scan.inputs["A"], scan.inputs["B"])
    (row,) = _overlaps(given)
    (nap,) = rows_of("nap", "g", ["k"], "b", "x", "increase", 0.95, g=phases(given))
    for ours, theirs in NAMES.items():
        assert row[ours] == scan.expects(theirs)
    assert nap["nap"] == scan.expects("NAP")


# Parker, Hagan-Burke & Vannest (2007), as in the scan book 9.5: read.
def test_three_cases_are_pooled_by_their_counts() -> None:
    parker = example("h-pand-parker2007")
    rows = _overlaps(*[(case["A"], case["B"]) for case in parker.inputs.values()])
    kept, before, after = (
        sum(row[name] for row in rows) for name in ("kept_count", "before_count", "after_count")
    )
    assert before + after == parker.expects("n")
    assert before + after - kept == parker.expects("overlapping")
    assert 100 * kept / (before + after) == parker.expects("pand")
    assert scalar("robust_ird", kept, before, after) == parker.expects("phi")


@settings(max_examples=10, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.integers(0, 6), min_size=1, max_size=5),
            st.lists(st.integers(0, 6), min_size=1, max_size=5),
        ),
        min_size=1,
        max_size=8,
    )
)
@case([([5, 6], [1, 2, 3]), ([1], [1])])
def test_the_most_points_that_can_stay_are_those_found_by_trying(
    given: list[tuple[list[int], list[int]]],
) -> None:
    for (before, after), row in zip(given, _overlaps(*given), strict=True):
        a, b = sorted(before), sorted(after, reverse=True)
        kept = max(
            i + j
            for i, j in itertools.product(range(len(a) + 1), range(len(b) + 1))
            if i == 0 or j == 0 or a[i - 1] < b[j - 1]
        )
        assert row["kept_count"] == kept
        assert row["pand"] == pytest.approx(kept / (len(a) + len(b)))
        assert row["pnd"] == pytest.approx(np.mean([one > max(before) for one in after]))
        middle = float(np.median(before))
        assert row["pem"] == pytest.approx(
            np.mean([(np.sign(one - middle) + 1) / 2 for one in after])
        )


def test_one_phase_alone_has_no_row() -> None:
    assert _overlaps(([1, 2], [None]), ([], [3])) == []
