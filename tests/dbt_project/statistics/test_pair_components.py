"""Components of units scored by two of several raters: ICC(2,1) where they are two, and truth."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros, table

COLUMNS = {"k": "int", "a": "int", "b": "int", "x": "double", "y": "double"}
NAMES = (
    "pair_count", "rater_count", "unit_raw", "unit_variance", "rater_raw", "rater_variance",
    "residual_raw", "residual_variance",
)  # fmt: skip


def _components(rows: list[tuple[Any, ...]]) -> dict[Any, dict[str, Any]]:
    query = macros()["pair_components"]("seen", ["k"], "a", "b", "x", "y")
    return answers(query, NAMES, seen=given(COLUMNS, rows))


def _squares(scores: np.ndarray) -> tuple[float, float, float]:
    """Components of units by two raters from the mean squares of analysis of variance."""
    units, raters, mean = scores.mean(1), scores.mean(0), scores.mean()
    count = len(scores)
    left = scores - units[:, None] - raters[None, :] + mean
    of_unit = 2 * ((units - mean) ** 2).sum() / (count - 1)
    of_rater, of_rest = count * ((raters - mean) ** 2).sum(), (left**2).sum() / (count - 1)
    return (of_unit - of_rest) / 2, (of_rater - of_rest) / count, of_rest


# Shrout & Fleiss (1979), judges 1 and 3: data read.
def test_two_raters_are_analysis_of_variance() -> None:
    ratings = np.array(example("e-shrout-fleiss-1979").inputs["ratings"], dtype=float)[:, [0, 2]]
    got = _components([(1, 7, 9, x, y) for x, y in ratings.tolist()])[1]
    assert (got["pair_count"], got["rater_count"]) == (6, 2)
    raw = (got["unit_raw"], got["rater_raw"], got["residual_raw"])
    assert raw == pytest.approx(_squares(ratings))


def test_who_sits_first_does_not_matter() -> None:
    rows = [(1, 1, 2, 0.5, 0.4), (1, 2, 3, 0.7, 0.9), (1, 3, 1, 0.2, 0.1), (1, 1, 3, 0.6, 0.9)]
    turned = [(k, b, a, y, x) if b == 3 else (k, a, b, x, y) for k, a, b, x, y in rows]
    one, other = _components(rows)[1], _components(turned)[1]
    assert {name: pytest.approx(value, abs=1e-12) for name, value in one.items()} == other


def test_full_agreement_leaves_the_units_only() -> None:
    got = _components([(1, 1, 2, 0.2, 0.2), (1, 2, 3, 0.4, 0.4), (1, 1, 3, 0.9, 0.9)])[1]
    assert (got["rater_variance"], got["residual_variance"]) == (0.0, 0.0)
    assert got["unit_variance"] == pytest.approx(np.var([0.2, 0.4, 0.9], ddof=1))


def test_too_few_units_or_gaps_have_no_components() -> None:
    one = _components([(1, 1, 2, 0.2, 0.3), (1, 1, 1, 0.5, 0.9), (1, 1, 2, None, 0.3)])[1]
    assert one["pair_count"] == 1
    assert (one["unit_raw"], one["unit_variance"], one["rater_raw"]) == (None, None, None)
    two = _components([(1, 1, 2, 0.2, 0.3), (1, 3, 4, 0.2, 0.3)])[1]
    assert two["residual_raw"] is None
    assert _components([]) == {}


def test_more_alike_than_chance_is_zero_and_says_so() -> None:
    got = _components([(1, 1, 2, 0.0, 1.0), (1, 1, 2, 1.0, 0.0), (1, 1, 2, 0.0, 1.0)])[1]
    assert got["unit_raw"] < 0
    assert got["rater_raw"] < 0
    assert (got["unit_variance"], got["rater_variance"]) == (0.0, 0.0)


@settings(max_examples=8, deadline=None)
@over(st.lists(st.tuples(st.integers(2, 12), st.integers(0, 2**16)), min_size=1, max_size=5))
def test_two_raters_agree_with_numpy(shapes: list[tuple[int, int]]) -> None:
    every = [np.random.default_rng(seed).normal(size=(count, 2)) for count, seed in shapes]
    got = _components([(k, 1, 2, x, y) for k, s in enumerate(every) for x, y in s.tolist()])
    for k, scores in enumerate(every):
        raw = (got[k]["unit_raw"], got[k]["rater_raw"], got[k]["residual_raw"])
        assert raw == pytest.approx(_squares(scores), abs=1e-9)


@settings(max_examples=5, deadline=None)
@over(st.lists(st.integers(0, 2**16), min_size=1, max_size=4))
def test_several_raters_agree_with_the_matrices(seeds: list[int]) -> None:
    """Three quadratic forms set to their means: means of units, within units, and what is left."""
    rows, expected = [], []
    for school, seed in enumerate(seeds):
        rng = np.random.default_rng(seed)
        every = [[one, other] for one in range(4) for other in range(one)]
        who = every + [rng.permutation(4)[:2].tolist() for _ in range(4)]
        scores = rng.normal(size=(len(who), 2))
        rows += [(school, *w, *s) for w, s in zip(who, scores.tolist(), strict=True)]
        expected.append(_by_matrices(who, scores))
    got = _components(rows)
    for school, components in enumerate(expected):
        raw = [got[school][f"{name}_raw"] for name in ("unit", "rater", "residual")]
        assert raw == pytest.approx(components, abs=1e-7)


def _by_matrices(who: list[list[int]], scores: np.ndarray) -> list[float]:
    y, total = scores.ravel(), scores.size
    units = np.repeat(np.eye(len(who)), 2, axis=0)
    raters = np.array([[float(r == one) for r in range(4)] for one in np.ravel(who)])
    both = np.hstack([units, raters])
    grand, means = np.full((total, total), 1 / total), units @ units.T / 2
    left = np.eye(total) - both @ np.linalg.pinv(both)
    forms = [means - grand, np.eye(total) - means, left]
    spreads = [units @ units.T, raters @ raters.T, np.eye(total)]
    system = np.array([[np.trace(form @ spread) for spread in spreads] for form in forms])
    return list(np.linalg.solve(system, np.array([y @ form @ y for form in forms])))


def test_over_many_schools_the_mean_is_the_truth() -> None:
    """Units .10, raters .05, rest .07 as standard deviations; five raters, 20 visits, 600 times."""
    rng = np.random.default_rng(7)
    rows = []
    for school in range(600):
        rater, unit = rng.normal(0, 0.05, 5), rng.normal(0, 0.10, 20)
        for visit in range(20):
            a, b = rng.permutation(5)[:2].tolist()
            x, y = unit[visit] + rater[[a, b]] + rng.normal(0, 0.07, 2)
            rows.append((school, a, b, float(x), float(y)))
    got = list(_components(rows).values())
    for name, true in (("unit_raw", 0.01), ("rater_raw", 0.0025), ("residual_raw", 0.0049)):
        found = np.array([one[name] for one in got])
        assert abs(found.mean() - true) < 3.5 * found.std() / len(found) ** 0.5


def test_the_sums_behind_it_by_hand() -> None:
    """Gaps .2 and .4, middles .1 and .5: within .1, between .16; a rater of each pair differs."""
    sums = macros()["pair_sums"]("seen", "k", ["k"], "a", "b", "x", "y")
    query = (
        f"select pair_n, pair_within, pair_between, pair_m, pair_square, pair_left from ({sums})"
    )
    rows = [(1, 1, 2, 0.2, 0.0), (1, 1, 2, 0.7, 0.3)]
    got = table(query, seen=given(COLUMNS, rows))[0]
    assert got == pytest.approx((2, 0.05, 0.16, 2, 8, 0.02))
