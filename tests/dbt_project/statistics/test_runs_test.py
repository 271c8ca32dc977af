"""The runs test against its handbook example and statsmodels."""

from __future__ import annotations

import pytest
from hypothesis import example as case
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.sandbox.stats.runs import runstest_1samp

from tests.check_values import example
from tests.dbt_project.series import rows_of, series


# NIST/SEMATECH e-Handbook 1.3.5.13: data read, Z from memory.
def test_the_beam_deflections_of_the_handbook_alternate_too_often() -> None:
    nist = example("i-runs-nist-lew")
    (row,) = rows_of("runs_test", "g", ["k"], "i", "x", g=series(nist.inputs["x"]))
    assert row["above_count"] + row["below_count"] == nist.published["n"]
    assert row["z_score"] == nist.expects("Z")
    assert row["p_value"] == pytest.approx(0.00706, abs=1e-5)


@settings(max_examples=12, deadline=None)
@given(st.lists(st.lists(st.sampled_from([-2, -1, 1, 2]), min_size=1, max_size=30), min_size=1))
@case([[1], [1, 1, 1], [1, -1], [1, -1] * 9])
def test_the_runs_test_agrees_with_statsmodels(given: list[list[int]]) -> None:
    rows = rows_of("runs_test", "g", ["k"], "i", "x", "0.0", g=series(*given))
    for points, row in zip(given, rows, strict=True):
        if len(set(one > 0 for one in points)) == 1 or len(points) == 2:
            assert row["z_score"] is None or len(points) > 1
            continue
        z, p = runstest_1samp(points, cutoff=0, correction=False)
        assert row["z_score"] == pytest.approx(z, abs=1e-9)
        assert row["p_value"] == pytest.approx(p, abs=1e-9)


def test_points_on_the_center_are_left_out_and_one_side_has_no_score() -> None:
    rows = rows_of(
        "runs_test", "g", ["k"], "i", "x", "3.0", g=series([3, 4, 3, 5, 2, 3, 6], [4, 5])
    )
    assert [(row["above_count"], row["below_count"], row["run_count"]) for row in rows] == [
        (3, 1, 3),
        (2, 0, 1),
    ]
    assert rows[0]["expected_runs"] == pytest.approx(2.5)
    assert rows[0]["runs_sd"] == pytest.approx(0.5)
    assert (rows[1]["z_score"], rows[1]["p_value"]) == (None, None)
