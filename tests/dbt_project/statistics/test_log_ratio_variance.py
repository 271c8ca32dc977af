"""Variance of the logarithm of a ratio of sums: a hand example, statsmodels, edges."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.api import WLS

from tests.dbt_project.macro_runner import macros, table


def variances(groups: list[list[tuple[float, float]]]) -> list[Any]:
    """The variance of each group of (turns, chances)."""
    lines = ", ".join(
        f"({key}, {turns}::double, {chances}::double)"
        for key, group in enumerate(groups)
        for turns, chances in group
    )
    macro = macros()["log_ratio_variance"](
        "count(*)", "sum(t)", "sum(e)", "sum(t * t)", "sum(t * e)", "sum(e * e)"
    )
    rows = table(
        f"select {macro} from given group by k order by k",
        given=f"select * from (values {lines}) v(k, t, e)",
    )
    return [variance for (variance,) in rows]


def test_three_people_by_hand() -> None:
    (variance,) = variances([[(2, 2), (1, 2), (3, 2)]])
    assert variance == pytest.approx(3 / 2 * 2 / 36, abs=1e-12)


def test_edges_are_null_or_zero() -> None:
    alone, nothing, no_chance, alike = variances(
        [[(2, 2)], [(0, 2), (0, 3)], [(1, 0), (2, 0)], [(1, 2), (2, 4), (3, 6)]]
    )
    assert (alone, nothing, no_chance) == (None, None, None)
    assert alike == pytest.approx(0, abs=1e-15)


PERSON = st.tuples(st.integers(0, 12), st.floats(0.5, 12).map(lambda e: round(e, 3)))


@settings(deadline=None, max_examples=15)
@given(st.lists(st.lists(PERSON, min_size=2, max_size=12), min_size=3, max_size=8))
def test_a_weighted_regression_through_nothing_agrees(
    groups: list[list[tuple[int, float]]],
) -> None:
    """R is the slope of t on e weighted by 1 / e; its robust (HC1) variance over R squared."""
    groups = [group for group in groups if any(turns for turns, _ in group)]
    if not groups:
        return
    for group, got in zip(groups, variances(groups), strict=True):  # type: ignore[arg-type]
        turns, chances = np.array(group, dtype=float).T
        fit = WLS(turns, chances, weights=1 / chances).fit(cov_type="HC1")
        ratio = turns.sum() / chances.sum()
        assert fit.params[0] == pytest.approx(ratio)
        assert got == pytest.approx(float(fit.cov_params()[0, 0]) / ratio**2, rel=1e-6, abs=1e-12)
