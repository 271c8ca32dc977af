"""The Hoover index: the largest gap of the Lorenz curve, and simple cases."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, table


def _hoover(values: list[float | None]) -> list[tuple[object, ...]]:
    rows = ", ".join(f"(1, {'null' if one is None else one}::double)" for one in values)
    return table(macros()["hoover"]("given", ["k"], "x"), given=f"from (values {rows}) t(k, x)")


def _largest_gap(values: list[float]) -> float:
    ordered = np.sort(np.array(values, dtype=float))
    shares = np.concatenate([[0], np.cumsum(ordered) / ordered.sum()])
    return float((np.linspace(0, 1, len(ordered) + 1) - shares).max())


def test_it_is_the_largest_distance_between_the_lorenz_curve_and_the_diagonal() -> None:
    # Identity, own construction.
    identity = example("i-hoover-identity")
    values = identity.inputs["x"]
    got = _hoover(values)[0]
    assert got[:2] == (1, len(values))
    is_equal = got[2] == pytest.approx(_largest_gap(values), abs=1e-12)
    assert is_equal == identity.expects("equal")


@pytest.mark.parametrize(
    ("values", "expected"), [([0, 1], 0.5), ([0] * 9 + [1], 0.9), ([4, 4], 0.0), ([7], 0.0)]
)
def test_simple_cases(values: list[float | None], expected: float) -> None:
    assert _hoover(values)[0][2] == pytest.approx(expected, abs=1e-12)


def test_zeros_alone_have_none_and_nulls_are_left_out() -> None:
    assert _hoover([0, 0]) == [(1, 2, None)]
    assert _hoover([None]) == []
    assert _hoover([0, None, 1]) == [(1, 2, 0.5)]


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(0, 50), min_size=1, max_size=25).filter(any))
def test_the_gap_of_any_counts(values: list[float | None]) -> None:
    expected = _largest_gap([float(one) for one in values if one is not None])
    assert _hoover(values)[0][2] == pytest.approx(expected, abs=1e-12)
