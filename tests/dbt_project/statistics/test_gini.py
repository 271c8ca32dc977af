"""The Gini coefficient: closed-form facts, the mean difference, groups apart, ties and nulls."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, table


def _ginis(groups: Sequence[Sequence[float | None]]) -> dict[int, tuple[int, float | None]]:
    rows = ", ".join(
        f"({group}, {'null' if one is None else one}::double)"
        for group, values in enumerate(groups)
        for one in values
    )
    query = macros()["gini"]("given", ["k"], "x")
    found = table(query, given=f"from (values {rows}) t(k, x)")
    return {group: (count, gini) for group, count, gini in found}


def test_the_closed_form_facts_hold() -> None:
    # Identities, from memory.
    facts = example("i-gini-simple")
    found = _ginis([[0, 1], [0] * 9 + [1], [*range(1, 11)], [4, 4, 4]])
    assert found[0] == (2, facts.expects("two"))
    assert found[1] == (10, facts.expects("ten"))
    assert found[2] == (10, facts.expects("one_to_n_10"))
    assert found[3] == (3, facts.expects("equal"))


def test_nothing_but_zeros_has_none_and_nulls_are_left_out() -> None:
    assert _ginis([[0, 0], [None, None], [0, None, 1], [7]]) == {
        0: (2, None), 2: (2, 0.5), 3: (1, 0.0),
    }  # fmt: skip


@settings(max_examples=20, deadline=None)
@given(st.lists(st.lists(st.integers(0, 30), min_size=1, max_size=20).filter(any), min_size=1))
def test_each_group_has_half_its_relative_mean_difference(groups: list[list[float | None]]) -> None:
    for group, (count, gini) in _ginis(groups).items():
        array = np.array(groups[group], dtype=float)
        assert count == len(array)
        expected = np.abs(array[:, None] - array).mean() / (2 * array.mean())
        assert gini == pytest.approx(expected, abs=1e-9)
