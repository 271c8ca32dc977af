"""Wald's and Agresti-Coull's intervals: published limits, statsmodels, ends."""

from __future__ import annotations

import numpy as np
import pytest
from statsmodels.stats.proportion import proportion_confint

from tests.check_values import example
from tests.dbt_project.columns import column, furthest
from tests.dbt_project.macro_runner import macros, scalar

SIDES = ("low", "high")


# Newcombe (1998a), Table I, method 1: read as quoted by others.
@pytest.mark.parametrize("identifier", ["a-wilson-newcombe98a-a", "a-wilson-newcombe98a-b"])
def test_the_published_limits(identifier: str) -> None:
    table = example(identifier)
    counts = {"x": table.inputs["x"], "n": table.inputs["n"]}
    limits = [scalar(f"wald_{side}", "x", "n", "0.95", **counts) for side in SIDES]
    assert limits == table.expects("wald")


def test_the_centre_of_none_in_twenty_is_moved_towards_one_half() -> None:
    # Agresti & Coull (1998), formula: from memory.
    formula = example("a-agresti-coull-0-20")
    counts = {"x": formula.inputs["x"], "n": formula.inputs["n"]}
    assert scalar("agresti_coull_centre", "x", "n", "0.95", **counts) == formula.expects("centre")


@pytest.mark.parametrize(
    ("name", "method"), [("wald", "normal"), ("agresti_coull", "agresti_coull")]
)
def test_they_agree_with_statsmodels(name: str, method: str) -> None:
    x, n = np.array([3, 12, 50, 999, 4, 29]), np.array([9, 30, 100, 2000, 7, 30])
    expected = proportion_confint(x, n, 0.1, method=method)
    for side, limits in zip(SIDES, expected, strict=True):
        found = column(macros()[f"{name}_{side}"]("x", "n", "0.9"), x=x, n=n)
        assert furthest(found.clip(0, 1), limits) < 1e-13


def test_wald_sees_no_doubt_in_none_of_twenty() -> None:
    assert [scalar(f"wald_{side}", "x", "n", "0.95", x=0, n=20) for side in SIDES] == [0.0, 0.0]
    assert scalar("wald_low", "x", "n", "0.95", x=1, n=29) == 0.0
    assert scalar("wald_high", "x", "n", "0.95", x=28, n=29) == 1.0


def test_agresti_coull_is_not_cut_off() -> None:
    low, high = (scalar(f"agresti_coull_{side}", "x", "n", "0.95", x=0, n=20) for side in SIDES)
    assert (round(low, 4), round(high, 4)) == (-0.0287, 0.1898)


@pytest.mark.parametrize("name", ["wald", "agresti_coull"])
def test_nothing_looked_at_has_no_limits(name: str) -> None:
    assert [scalar(f"{name}_{side}", "x", "n", "0.95", x=0, n=0) for side in SIDES] == [None, None]


def test_the_error_of_independent_moments() -> None:
    # Momentary time sampling, sqrt(p (1 - p) / K): an identity.
    moments = example("k-mts-binomial-se")
    found = [
        scalar("share_error", "p", "k", p=moments.inputs["p"], k=k) for k in moments.inputs["K"]
    ]
    assert found == moments.expects("se")
    assert scalar("share_error", "p", "k", p=0.5, k=0) is None
