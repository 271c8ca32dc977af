"""Fleiss' kappa and its kin for many observers: published data, statsmodels, gaps."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from statsmodels.stats import inter_rater

from tests.check_values import example
from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros

COLUMNS = {"k": "int", "u": "int", "c": "int"}
NAMES = (
    "unit_count", "rating_count", "agreement", "fleiss_kappa", "gwet_ac1", "brennan_prediger",
    "fleiss_null_se",
)  # fmt: skip
Units = list[list[int | None]]


def _fleiss(groups: list[Units], *more: Any) -> dict[Any, dict[str, Any]]:
    rows = [
        (k, u, code)
        for k, units in enumerate(groups)
        for u, codes in enumerate(units)
        for code in codes
    ]
    query = macros()["fleiss_kappa"]("seen", ["k"], "u", "c", *more)
    return answers(query, NAMES, seen=given(COLUMNS, rows))


# Fleiss (1971): kappa .43 and z 17.7 read, agreement and chance from memory.
def test_the_thirty_patients_have_the_published_kappa() -> None:
    fleiss = example("f-fleiss-1971")
    got = _fleiss([fleiss.inputs["ratings"]])[0]
    assert (got["unit_count"], got["rating_count"]) == (30, 180)
    assert got["fleiss_kappa"] == fleiss.expects("kappa")
    assert got["agreement"] == fleiss.expects("pa")
    chance = (got["agreement"] - got["fleiss_kappa"]) / (1 - got["fleiss_kappa"])
    assert chance == fleiss.expects("pe")
    assert got["fleiss_kappa"] / got["fleiss_null_se"] == pytest.approx(17.7, abs=0.05)


# irrCAC vignette (cac.raw4raters): read. A unit rated once counts for the codes only.
def test_four_raters_with_gaps_have_the_published_coefficients() -> None:
    gaps = example("f-gwet-krippendorff-4raters-missing")
    got = _fleiss([gaps.inputs["ratings"]])[0]
    assert (got["unit_count"], got["rating_count"]) == (12, 41)
    assert got["agreement"] == gaps.expects("pa")
    assert got["fleiss_kappa"] == gaps.expects("fleiss")
    assert got["gwet_ac1"] == gaps.expects("ac1")
    assert got["brennan_prediger"] == gaps.expects("brennan_prediger")
    assert got["fleiss_null_se"] is None


def test_one_code_or_one_rating_a_unit_says_nothing() -> None:
    got = _fleiss([[[1, 1], [1, 1]], [[1], [2]]])
    assert (got[0]["agreement"], got[0]["fleiss_kappa"], got[0]["gwet_ac1"]) == (1.0, None, None)
    assert (got[0]["fleiss_null_se"], got[1]["fleiss_null_se"]) == (None, None)
    assert (got[1]["unit_count"], got[1]["agreement"], got[1]["fleiss_kappa"]) == (2, None, None)
    assert _fleiss([]) == {}


def test_more_codes_to_choose_from_make_chance_smaller() -> None:
    got = _fleiss([[[1, 1], [1, 1]]], "4")[0]
    assert (got["gwet_ac1"], got["brennan_prediger"]) == (1.0, 1.0)
    half = _fleiss([[[1, 2], [1, 1]]], "4")[0]
    assert half["brennan_prediger"] == pytest.approx((0.5 - 0.25) / 0.75)
    assert half["gwet_ac1"] == pytest.approx((0.5 - 0.125) / 0.875)


@settings(max_examples=12, deadline=None)
@over(st.lists(st.integers(2, 5).flatmap(
    lambda size: st.lists(
        st.lists(st.integers(0, 3), min_size=size, max_size=size), min_size=1, max_size=12
    )
), min_size=1, max_size=5))  # fmt: skip
def test_it_agrees_with_statsmodels(groups: list[Units]) -> None:
    got = _fleiss(groups)
    for k, units in enumerate(groups):
        counts, codes = inter_rater.aggregate_raters(np.array(units))
        if len(codes) == 1:
            assert got[k]["fleiss_kappa"] is None
            continue
        expected = float(inter_rater.fleiss_kappa(counts, method="fleiss"))
        assert got[k]["fleiss_kappa"] == pytest.approx(expected, abs=1e-12)
        seen = (counts * (counts - 1)).sum(1) / (len(units[0]) * (len(units[0]) - 1))
        assert got[k]["agreement"] == pytest.approx(seen.mean())
