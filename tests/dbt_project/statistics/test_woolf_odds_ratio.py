"""Woolf's interval of an odds ratio: a published table, statsmodels, zeros."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
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
    return [scalar(f"woolf_{side}", *NAMES, level, **given) for side in SIDES]


def test_seven_of_34_against_one_of_34() -> None:
    # Fagerland, Lydersen & Laake (2015): read.
    table = example("a-fagerland2015-7-34-1-34")
    counts = [table.inputs[name] for name in NAMES]
    assert _limits(counts) == table.expects("woolf_logit_or")


def test_it_agrees_with_statsmodels() -> None:
    found = [column(macros()[f"woolf_{side}"](*NAMES, "0.9"), **GIVEN) for side in SIDES]
    for place, counts in enumerate(CASES):
        expected = confint_proportions_2indep(
            *counts, alpha=0.1, compare="odds-ratio", method="logit"
        )
        assert [found[0][place], found[1][place]] == pytest.approx(expected, rel=1e-12)


def test_a_count_or_a_rest_of_zero_has_no_limits() -> None:
    for counts in ((0, 9, 3, 9), (9, 9, 3, 9), (3, 9, 0, 9), (3, 9, 9, 9), (3, 9, None, 9)):
        assert _limits(counts) == [None, None]
