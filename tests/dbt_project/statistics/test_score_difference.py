"""Score intervals of a difference of shares: published limits and a direct search."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import optimize, stats
from statsmodels.stats.proportion import confint_proportions_2indep

from tests.check_values import example
from tests.dbt_project.columns import column
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("x1", "n1", "x2", "n2")
SIDES = ("low", "high")
METHODS = ["mee", "miettinen_nurminen", "agresti_caffo"]
CASES = np.array([(56, 70, 48, 80), (9, 10, 3, 10), (10, 10, 0, 20), (0, 10, 0, 10), (5, 56, 0, 29),
                  (0, 9, 7, 9), (3, 3, 2, 2), (1, 34, 7, 34), (20, 41, 20, 41)])  # fmt: skip


def _limits(name: str, counts: Any, level: str = "0.95") -> list[float]:
    given = dict(zip(NAMES, counts, strict=True))
    return [scalar(f"{name}_{side}", *NAMES, level, **given) for side in SIDES]


@pytest.mark.parametrize("name", METHODS)
def test_the_published_limits(name: str) -> None:
    # Newcombe (1998b), Table II, row a, with Agresti-Caffo: read as quoted by others.
    table = example("a-diff-other-methods-56-70-48-80")
    assert _limits(name, [table.inputs[one] for one in NAMES]) == table.expects(name)


def test_agresti_and_caffo_for_seven_of_34_against_one() -> None:
    # Fagerland, Lydersen & Laake (2015): read.
    table = example("a-fagerland2015-7-34-1-34")
    counts = [table.inputs[one] for one in NAMES]
    assert _limits("agresti_caffo", counts) == table.expects("agresti_caffo")


def _variance(counts: Any, difference: float) -> float:
    """Variance at the second share that the likelihood prefers, found by searching for it."""
    x1, n1, x2, n2 = counts

    def unlikely(second: float) -> float:
        first = second + difference
        return float(-stats.binom.logpmf(x1, n1, first) - stats.binom.logpmf(x2, n2, second))

    ends = (max(0.0, -difference), min(1.0, 1 - difference))
    second = optimize.minimize_scalar(unlikely, bounds=ends, options={"xatol": 1e-12}).x
    second = min((*ends, second), key=unlikely)
    first = min(max(second + difference, 0.0), 1.0)
    return float(first * (1 - first) / n1 + second * (1 - second) / n2)


@pytest.mark.parametrize(("name", "wider"), [("mee", False), ("miettinen_nurminen", True)])
def test_at_each_limit_the_score_is_at_the_level(name: str, wider: bool) -> None:
    given = dict(zip(NAMES, CASES.T, strict=True))
    for side, sign in (("low", 1), ("high", -1)):
        limits = column(macros()[f"{name}_{side}"](*NAMES, "0.9"), **given)
        for counts, limit in zip(CASES, limits, strict=True):
            x1, n1, x2, n2 = counts
            factor = (n1 + n2) / (n1 + n2 - 1) if wider else 1.0
            distance = sign * (x1 / n1 - x2 / n2 - limit)
            if abs(limit) < 1 - 1e-9:
                expected = 1.6448536 * np.sqrt(factor * _variance(counts, limit))
                assert distance == pytest.approx(expected, abs=2e-6)
            else:
                assert distance == pytest.approx(0, abs=1e-9)


def test_agresti_caffo_agrees_with_statsmodels() -> None:
    given = dict(zip(NAMES, CASES.T, strict=True))
    found = [column(macros()[f"agresti_caffo_{side}"](*NAMES, "0.8"), **given) for side in SIDES]
    for place, counts in enumerate(CASES):
        expected = confint_proportions_2indep(*counts, method="agresti-caffo", alpha=0.2)
        assert [found[0][place], found[1][place]] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("name", METHODS)
def test_one_side_without_looks_has_no_difference(name: str) -> None:
    assert _limits(name, (3, 4, 0, 0)) == [None, None]
    assert _limits(name, (0, 0, 3, 4)) == [None, None]


def test_one_look_a_side_says_nothing() -> None:
    low, high = _limits("miettinen_nurminen", (1, 1, 0, 1))
    assert low < 0
    assert high == pytest.approx(1.0)
