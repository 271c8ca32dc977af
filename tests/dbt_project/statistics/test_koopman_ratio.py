"""Koopman's interval of a ratio: a published table, statsmodels, the score at its limits."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep

from tests.check_values import example
from tests.dbt_project.columns import column
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("x1", "n1", "x2", "n2")
SIDES = ("low", "high")
CASES = np.array(
    [(12, 40, 20, 160), (7, 34, 1, 34), (5, 9, 5, 9), (90, 100, 3, 50), (2, 70, 30, 31)]
)
GIVEN = dict(zip(NAMES, CASES.T, strict=True))


def _limits(counts: Any, level: str = "0.95") -> list[float]:
    given = dict(zip(NAMES, counts, strict=True))
    return [scalar(f"koopman_{side}", *NAMES, level, **given) for side in SIDES]


def test_seven_of_34_against_one_of_34() -> None:
    # Fagerland, Lydersen & Laake (2015): read.
    table = example("a-fagerland2015-7-34-1-34")
    counts = [table.inputs[name] for name in NAMES]
    assert _limits(counts) == table.expects("koopman_score_ratio")


def test_it_agrees_with_statsmodels() -> None:
    found = [column(macros()[f"koopman_{side}"](*NAMES, "0.9"), **GIVEN) for side in SIDES]
    for place, counts in enumerate(CASES):
        expected = confint_proportions_2indep(
            *counts, alpha=0.1, compare="ratio", method="score", correction=False
        )
        assert [found[0][place], found[1][place]] == pytest.approx(expected, rel=2e-5)


def test_at_the_limits_the_score_is_at_the_level() -> None:
    x1, n1, x2, n2 = 7.0, 18.0, 1.0, 18.0
    for ratio in _limits((x1, n1, x2, n2)):
        middle = ratio * (n1 + x2) + x1 + n2
        root = np.sqrt(middle**2 - 4 * ratio * (n1 + n2) * (x1 + x2))
        second = (middle - root) / (2 * ratio * (n1 + n2))
        first = ratio * second
        variance = first * (1 - first) / n1 + ratio**2 * second * (1 - second) / n2
        score = abs(x1 / n1 - ratio * x2 / n2) / np.sqrt(variance)
        assert score == pytest.approx(stats.norm.ppf(0.975), rel=1e-9)


def test_zeros() -> None:
    low, high = _limits((0, 9, 3, 9))
    assert low == 0.0
    assert 0.5 < high < 2
    assert _limits((0, 1, 3, 9))[0] == 0.0
    assert _limits((0, 9, 1, 1))[0] == 0.0
    low, high = _limits((3, 9, 0, 9))
    assert 0.5 < low < 2
    assert high is None


def test_one_side_without_looks_has_no_ratio() -> None:
    assert _limits((3, 4, 0, 0)) == [None, None]
    assert _limits((0, 0, 3, 4)) == [None, None]
    assert _limits((0, 0, 0, 0)) == [None, None]
