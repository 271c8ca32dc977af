"""Linear systems, one a row, against numpy; those without one answer are null."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, table


def _solved(systems: Sequence[tuple[np.ndarray, np.ndarray]], scale: float = 10.0) -> list:  # type: ignore[type-arg]
    size = len(systems[0][1])
    names = [f"vc_a_{i}_{j}" for i in range(1, size + 1) for j in range(1, size + 1)]
    names += [f"vc_b_{i}" for i in range(1, size + 1)]
    kinds = {"k": "int", "vc_n": "double", **dict.fromkeys(names, "double")}
    rows = [
        (k, scale, *left.ravel().tolist(), *right.tolist())
        for k, (left, right) in enumerate(systems)
    ]
    query = macros()["solve_linear"]("systems", ["k"], size)
    return [row[2:] for row in sorted(table(query, systems=given(kinds, rows)))]


@settings(max_examples=8, deadline=None)
@over(st.integers(1, 5), st.integers(0, 2**16))
def test_it_agrees_with_numpy(size: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    systems = [
        (rng.normal(size=(size, size)) + 3 * np.eye(size), rng.normal(size=size)) for _ in range(5)
    ]
    for got, (left, right) in zip(_solved(systems), systems, strict=True):
        assert got == pytest.approx(np.linalg.solve(left, right).tolist(), abs=1e-8)


def test_a_system_without_one_answer_is_null_and_its_neighbour_is_not() -> None:
    twice = (np.array([[1.0, 2.0], [2.0, 4.0]]), np.array([1.0, 2.0]))
    once = (np.array([[2.0, 0.0], [0.0, 4.0]]), np.array([1.0, 2.0]))
    assert _solved([twice, once]) == [(None, None), (0.5, 0.5)]


def test_a_pivot_that_is_nothing_beside_the_rest_counts_as_none() -> None:
    tiny = (np.array([[1.0, 0.0], [0.0, 5e-9]]), np.array([1.0, 1.0]))
    assert _solved([tiny], scale=10.0) == [(None, None)]
    assert _solved([tiny], scale=1.0)[0] == pytest.approx((1.0, 2e8))
