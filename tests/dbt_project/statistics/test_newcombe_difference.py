"""Newcombe's interval of a difference of shares: published limits, statsmodels, clustered looks."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from statsmodels.stats.proportion import confint_proportions_2indep

from tests.check_values import example
from tests.dbt_project.columns import column, furthest
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("x1", "n1", "x2", "n2")
SIDES = ("low", "high")


def _limits(counts: Any, level: str = "0.95", name: str = "newcombe") -> list[float]:
    given = dict(zip(NAMES, counts, strict=True))
    return [scalar(f"{name}_{side}", *NAMES, level, **given) for side in SIDES]


# Newcombe (1998b), Table II, method 10: read as quoted by others.
@pytest.mark.parametrize(
    "identifier",
    ["a-newcombe98b-diff-a", "a-newcombe98b-diff-c", "a-newcombe98b-diff-e",
     "a-newcombe98b-diff-f", "a-newcombe98b-diff-h"],
)  # fmt: skip
def test_the_published_limits(identifier: str) -> None:
    table = example(identifier)
    x1, n1, x2, n2 = (table.inputs[name] for name in NAMES)
    low, high = _limits((x1, n1, x2, n2))
    assert low == table.expects("lower")
    assert high == table.expects("upper")
    assert x1 / n1 - x2 / n2 == table.expects("difference")


def test_seven_of_34_against_one_of_34() -> None:
    # Fagerland, Lydersen & Laake (2015): read.
    table = example("a-fagerland2015-7-34-1-34")
    assert _limits([table.inputs[name] for name in NAMES]) == table.expects("newcombe")


def test_it_agrees_with_statsmodels() -> None:
    chance = np.random.default_rng(2)
    n1, n2 = np.append(chance.integers(1, 80, (2, 60)), [[1, 9, 1], [9, 1, 1]], axis=1)
    x1, x2 = chance.integers(0, n1 + 1), chance.integers(0, n2 + 1)
    found = [
        column(macros()[f"newcombe_{side}"](*NAMES, "0.9"), x1=x1, n1=n1, x2=x2, n2=n2)
        for side in SIDES
    ]
    for place, counts in enumerate(zip(x1, n1, x2, n2, strict=True)):
        low, high = confint_proportions_2indep(*counts, method="newcomb", alpha=0.1)
        assert [found[0][place], found[1][place]] == pytest.approx([low, high], abs=1e-12)


def test_one_side_without_looks_has_no_difference() -> None:
    assert _limits((3, 4, 0, 0)) == [None, None]
    assert _limits((0, 0, 3, 4)) == [None, None]


def _clustered(rho: str, **given: float) -> list[float]:
    names = ("x1", "n1", "m1", "x2", "n2", "m2")
    return [scalar(f"clustered_difference_{side}", *names, rho, "0.95", **given) for side in SIDES]


def test_clustered_looks_count_for_what_they_are_worth() -> None:
    given = {"x1": 56, "n1": 70, "m1": 5, "x2": 48, "n2": 80, "m2": 4}
    assert _clustered("0.0", **given) == pytest.approx(_limits((56, 70, 48, 80)), abs=1e-15)
    first, second = 70 / (1 + 13 * 0.1), 80 / (1 + 19 * 0.1)
    worth = (0.8 * first, first, 0.6 * second, second)
    assert _clustered("0.1", **given) == pytest.approx(_limits(worth), abs=1e-15)
    assert _clustered("0.1", **{**given, "m2": 0}) == [None, None]


def test_looks_shrink_with_their_successes() -> None:
    names = ("x", "n", "m", "0.1")
    assert scalar("effective_successes", *names, x=30, n=40, m=4) == pytest.approx(30 / 1.9)
    assert scalar("effective_successes", *names, x=0, n=0, m=4) is None


def test_a_limit_is_the_other_limit_of_the_difference_turned_round() -> None:
    given: dict[str, list[float]] = {
        "x1": [3, 4.5, 7],
        "n1": [9, 20.5, 7],
        "x2": [1, 9, 0],
        "n2": [3, 11, 9],
    }
    first = column(macros()["newcombe_low"](*NAMES, "0.8"), **given)
    turned = column(macros()["newcombe_high"](*NAMES[2:], *NAMES[:2], "0.8"), **given)
    assert furthest(first, -turned) < 1e-15
