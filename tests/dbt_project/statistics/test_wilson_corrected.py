"""Wilson's interval with continuity correction: published limits and the equation it solves."""

from __future__ import annotations

import math

import pytest

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar


def _limits(successes: float, trials: float, level: str = "0.95") -> list[float]:
    counts = {"x": successes, "n": trials}
    return [
        scalar(f"wilson_corrected_{side}", "x", "n", level, **counts) for side in ("low", "high")
    ]


# Newcombe (1998a), Table I, method 4: read as quoted by others.
@pytest.mark.parametrize(
    "identifier",
    ["a-wilson-newcombe98a-a", "a-wilson-newcombe98a-b", "a-wilson-newcombe98a-d"],
)
def test_the_published_limits(identifier: str) -> None:
    table = example(identifier)
    assert _limits(table.inputs["x"], table.inputs["n"]) == table.expects("wilson_cc")


def test_none_of_twenty_reaches_to_a_fifth() -> None:
    # Newcombe (1998a), Table I, 0 of 20: from memory.
    assert _limits(0, 20) == pytest.approx([0.0, 0.2005], abs=6e-5)


@pytest.mark.parametrize(("successes", "trials"), [(3, 9), (1, 2), (40, 41), (250, 1000)])
def test_each_limit_is_half_a_success_away_at_the_level(successes: int, trials: int) -> None:
    z = 1.6448536269514722
    low, high = _limits(successes, trials, "0.9")
    for limit, moved in ((low, -0.5), (high, 0.5)):
        distance = abs(successes + moved - trials * limit)
        assert distance == pytest.approx(z * math.sqrt(trials * limit * (1 - limit)), rel=1e-9)


def test_ends_and_nothing() -> None:
    assert _limits(0, 7)[0] == 0.0
    assert _limits(7, 7)[1] == 1.0
    assert _limits(0, 0) == [None, None]
    assert _limits(1, 1)[0] == pytest.approx(0.05462, abs=1e-5)
