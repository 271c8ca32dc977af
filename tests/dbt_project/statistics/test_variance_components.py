"""Variance components by moments: published balanced sets, matrices, REML, designs that cannot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from statsmodels.regression.mixed_linear_model import MixedLM

from tests.check_values import example
from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.moments import components

Rows = Sequence[tuple[Any, ...]]


def _components(rows: Rows, factors: str = "ab") -> dict[Any, dict[str, Any]]:
    kinds = {"k": "int", **dict.fromkeys(factors, "string"), "y": "double"}
    query = macros()["variance_components"]("seen", ["k"], list(factors), "y")
    names = ["value_count", "mean_value", *(f"{one}_count" for one in factors)]
    for one in [*factors, "residual"]:
        names += [f"{one}_raw", f"{one}_variance"]
    found = table(query, seen=given(kinds, rows))
    return {row[0]: dict(zip(names, row[1:], strict=True)) for row in found}


def _raw(one: dict[str, Any], factors: str) -> list[Any]:
    return [one[f"{name}_raw"] for name in [*factors, "residual"]]


# Shrout & Fleiss (1979): data read. Balanced, so the mean squares say it all.
def test_subjects_by_raters_are_the_mean_squares_of_the_published_ratings() -> None:
    ratings = example("e-shrout-fleiss-1979").inputs["ratings"]
    rows = [(1, str(s), str(r), y) for s, row in enumerate(ratings) for r, y in enumerate(row)]
    got = _components(rows)[1]
    assert (got["value_count"], got["a_count"], got["b_count"]) == (24, 6, 4)
    assert got["mean_value"] == pytest.approx(127 / 24)
    assert got["a_variance"] == pytest.approx((11.241667 - 1.019444) / 4, abs=1e-6)
    assert got["b_variance"] == pytest.approx((32.486111 - 1.019444) / 6, abs=1e-6)
    assert got["residual_variance"] == pytest.approx(1.019444, abs=1e-6)


def test_one_factor_of_unequal_groups_is_textbook_analysis_of_variance() -> None:
    groups = [[4.0, 6.0, 5.0], [9.0, 7.0], [1.0, 2.0, 3.0, 2.0]]
    rows = [(1, str(g), y) for g, values in enumerate(groups) for y in values]
    every = np.concatenate(groups)
    sizes, means = np.array([len(g) for g in groups]), np.array([np.mean(g) for g in groups])
    within = sum(((np.array(g) - np.mean(g)) ** 2).sum() for g in groups) / (9 - 3)
    between = (sizes * (means - every.mean()) ** 2).sum() / 2
    typical = (9 - (sizes**2).sum() / 9) / 2
    got = _components(rows, "a")[1]
    assert _raw(got, "a") == pytest.approx([(between - within) / typical, within])


def test_groups_more_alike_than_chance_are_zero_and_say_so() -> None:
    rows = [(1, group, value) for group in "uvw" for value in (0.0, 10.0)]
    got = _components(rows, "a")[1]
    assert got["a_raw"] == pytest.approx(-25.0)
    assert (got["a_variance"], got["residual_variance"]) == (0.0, pytest.approx(50.0))


def test_three_crossed_facets_with_interactions_are_analysis_of_variance() -> None:
    """Persons by items by occasions, one score a cell: variances from expected mean squares."""
    p, i, o = 5, 4, 3
    y = np.random.default_rng(5).normal(size=(p, i, o))
    y += np.random.default_rng(6).normal(size=(p, 1, 1)) * 2
    rows = [
        (1, f"{a}", f"{b}", f"{c}", f"{a}.{b}", f"{a}.{c}", f"{b}.{c}", float(y[a, b, c]))
        for a in range(p) for b in range(i) for c in range(o)
    ]  # fmt: skip
    mean = y.mean()
    one = [y.mean((1, 2)), y.mean((0, 2)), y.mean((0, 1))]
    two = [y.mean(2), y.mean(1), y.mean(0)]
    squares = [float((m - mean) @ (m - mean)) * y.size / len(m) for m in one]
    for m, (left, right) in zip(two, [(0, 1), (0, 2), (1, 2)], strict=True):
        off = m - one[left][:, None] - one[right][None, :] + mean
        squares.append(float((off**2).sum()) * y.size / m.size)
    squares.append(float(((y - mean) ** 2).sum()) - sum(squares))
    df = [p - 1, i - 1, o - 1, (p - 1) * (i - 1), (p - 1) * (o - 1), (i - 1) * (o - 1)]
    df.append((p - 1) * (i - 1) * (o - 1))
    mp, mi, mo, mpi, mpo, mio, mr = (s / d for s, d in zip(squares, df, strict=True))
    expected = [
        (mp - mpi - mpo + mr) / (i * o), (mi - mpi - mio + mr) / (p * o),
        (mo - mpo - mio + mr) / (p * i), (mpi - mr) / o, (mpo - mr) / i, (mio - mr) / p, mr,
    ]  # fmt: skip
    got = _components(rows, "abcdef")[1]
    assert _raw(got, "abcdef") == pytest.approx(expected, abs=1e-9)


def test_balanced_groups_have_the_variances_of_reml() -> None:
    rng = np.random.default_rng(3)
    effects = rng.normal(size=8) * 2
    rows = [(1, str(g), effects[g] + rng.normal()) for g in range(8) for _ in range(6)]
    frame = pd.DataFrame(rows, columns=["k", "a", "y"])
    fit = MixedLM.from_formula("y ~ 1", frame, groups="a").fit(reml=True)
    got = _components(rows, "a")[1]
    assert got["a_variance"] == pytest.approx(float(fit.cov_re.iloc[0, 0]), rel=1e-3)
    assert got["residual_variance"] == pytest.approx(fit.scale, rel=1e-3)


def test_rows_without_a_value_or_a_factor_are_left_out() -> None:
    rows = [(1, a, b, y) for a, b, y in [("u", "x", 1.0), ("u", "y", 2.0), ("v", "x", 3.0),
            ("v", "y", 5.0)]]  # fmt: skip
    odd = [(1, None, "x", 9.0), (1, "u", None, 9.0), (1, "w", "x", None)]
    assert _components([*rows, *odd]) == _components(rows)


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ([(1, "u", "x", 1.0)], "one row"),
        ([(1, "u", "x", 1.0), (1, "u", "y", 2.0)], "one level"),
        ([(1, "u", "x", 1.0), (1, "v", "y", 2.0), (1, "w", "z", 4.0)], "two factors in step"),
        ([(1, a, a + b, 1.0) for a in "uv" for b in "xy"], "nested without repetition"),
    ],
)
def test_what_the_rows_cannot_tell_apart_is_null(rows: Rows, why: str) -> None:
    got = _components(rows)[1]
    assert _raw(got, "ab") == [None] * 3, why
    assert [got["a_variance"], got["residual_variance"]] == [None, None]


def test_all_alike_is_zero_everywhere_and_nothing_is_nothing() -> None:
    rows = [(1, a, b, 0.1) for a in "uvw" for b in "xyz"]
    assert _raw(_components(rows)[1], "ab") == pytest.approx([0, 0, 0], abs=1e-15)
    assert _components([]) == {}


CELLS = st.lists(
    st.tuples(st.sampled_from("uvwx"), st.sampled_from("klm"), st.floats(-5, 5)),
    min_size=10, max_size=40,
)  # fmt: skip


@settings(max_examples=12, deadline=None)
@over(st.lists(CELLS, min_size=1, max_size=4))
def test_unequal_crossed_cells_agree_with_the_matrices(groups: list[list[Any]]) -> None:
    rows = [(k, *row) for k, cells in enumerate(groups) for row in cells]
    got = _components(rows)
    for k, cells in enumerate(groups):
        a, b, y = zip(*cells, strict=True)
        if min(len(set(a)), len(set(b))) < 2:
            assert _raw(got[k], "ab") == [None] * 3
            continue
        if None in _raw(got[k], "ab"):
            with pytest.raises(np.linalg.LinAlgError):
                _demand_regular(a, b)
            continue
        assert _raw(got[k], "ab") == pytest.approx(components([a, b], y).tolist(), abs=1e-7)


def _demand_regular(a: Sequence[str], b: Sequence[str]) -> None:
    """Raise when the two factors say the same of every row (the means do not separate them)."""
    answer = components([a, b], list(range(len(a))))
    if np.abs(answer).max() > 1e7 * len(a) ** 2:
        raise np.linalg.LinAlgError("close to singular")


@settings(max_examples=6, deadline=None)
@over(st.integers(0, 2**16))
def test_visits_within_classes_with_crossed_observers_agree_with_the_matrices(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rows = []
    for visit in range(24):
        pair = rng.permutation(4)[: 1 + visit % 2]
        rows += [(1, f"c{visit % 5}", f"v{visit}", f"o{one}", rng.normal()) for one in pair]
    _, a, b, c, y = zip(*rows, strict=True)
    expected = components([a, b, c], y)
    assert _raw(_components(rows, "abc")[1], "abc") == pytest.approx(expected.tolist(), abs=1e-8)


def test_the_system_behind_it_counts_levels_and_shared_rows() -> None:
    """Two groups of 2 and 1 rows: k = 3, m = (4 + 1) / 3, one degree of freedom of three less."""
    rows = [(1, "u", 1.0), (1, "u", 2.0), (1, "v", 6.0)]
    system = macros()["components_system"]("seen", ["k"], ["a"], "y")
    query = f"select vc_a_1_1, vc_a_1_2, vc_a_2_1, vc_a_2_2, vc_b_1, vc_b_2 from {system}"
    got = table(query, seen=given({"k": "int", "a": "string", "y": "double"}, rows))[0]
    assert got == pytest.approx((3 - 5 / 3, 1, 3 - 5 / 3, 2, 4.5 + 9, 14))
