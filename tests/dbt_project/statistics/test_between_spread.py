"""Spread between units beyond their errors: another library, its identities, edges."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.meta_analysis import combine_effects

from tests.dbt_project.given_rows import answers
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros

NAMES = ("unit_count", "fixed_mean", "q", "q_df", "q_p", "phi", "tau2", "between_share",
         "pooled_mean", "pooled_mean_variance")  # fmt: skip
Units = Sequence[tuple[float | None, float | None]]


def _spreads(*groups: Units) -> dict[int, Any]:
    rows = [(k, y, v) for k, group in enumerate(groups) for y, v in group]
    given = rows_given({"k": "int", "y": "double", "v": "double"}, rows)
    return answers(macros()["between_spread"]("given", ["k"], "y", "v"), NAMES, given=given)


UNIT = st.tuples(
    st.floats(-1, 2).map(lambda y: round(y, 3)), st.sampled_from([0.001, 0.01, 0.04, 0.3])
)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.lists(UNIT, min_size=2, max_size=25), min_size=1, max_size=6))
def test_it_agrees_with_statsmodels(groups: list[list[tuple[float, float]]]) -> None:
    for place, found in _spreads(*groups).items():
        y, v = np.array(groups[place]).T
        other = combine_effects(y, v, method_re="dl")
        assert found["unit_count"] == len(y)
        assert found["q_df"] == len(y) - 1
        assert found["fixed_mean"] == pytest.approx(other.mean_effect_fe, abs=1e-12)
        assert found["q"] == pytest.approx(other.q, rel=1e-9, abs=1e-12)
        assert found["q_p"] == pytest.approx(stats.chi2.sf(other.q, len(y) - 1), abs=1e-11)
        assert found["phi"] == pytest.approx(other.q / (len(y) - 1), rel=1e-9, abs=1e-12)
        assert found["tau2"] == pytest.approx(max(0, other.tau2), rel=1e-9, abs=1e-12)
        assert found["between_share"] == pytest.approx(max(0, other.i2), rel=1e-9, abs=1e-12)
        weights = 1 / (v + found["tau2"])
        assert found["pooled_mean"] == pytest.approx((weights * y).sum() / weights.sum(), abs=1e-12)
        assert found["pooled_mean_variance"] == pytest.approx(1 / weights.sum(), rel=1e-9)


def test_equal_errors_give_the_variance_between_less_the_variance_within() -> None:
    values = [0.5, 0.6, 0.9, 0.7, 0.3]
    found = _spreads([(one, 0.01) for one in values])[0]
    assert found["tau2"] == pytest.approx(np.var(values, ddof=1) - 0.01)
    assert found["pooled_mean"] == pytest.approx(0.6)
    assert found["phi"] == pytest.approx(np.var(values, ddof=1) / 0.01)


def test_units_all_alike_have_no_spread_between_them() -> None:
    found = _spreads([(0.5, 0.01), (0.5, 0.02), (0.5, 0.01)])[0]
    assert (found["q"], found["q_p"], found["tau2"], found["between_share"]) == (0, 1, 0, 0)


def test_one_unit_has_a_mean_and_nothing_to_compare() -> None:
    found = _spreads([(0.5, 0.01)])[0]
    assert found["pooled_mean"] == 0.5
    assert found["pooled_mean_variance"] == pytest.approx(0.01)
    assert (found["q_p"], found["phi"], found["tau2"]) == (None, None, None)


def test_the_unknown_and_those_without_error_are_left_out() -> None:
    found = _spreads(
        [(0.5, 0.01), (None, 0.01), (0.9, None), (0.7, 0.0), (0.6, 0.01)], [(None, 1.0)]
    )
    assert list(found) == [0]
    assert found[0]["unit_count"] == 2
    assert found[0]["fixed_mean"] == pytest.approx(0.55)
