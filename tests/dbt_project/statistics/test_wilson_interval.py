"""Wilson's interval against published values and statsmodels; what clustered looks are worth."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from tests.check_values import example
from tests.dbt_project.columns import column, furthest
from tests.dbt_project.macro_runner import macros, scalar


def _limits(successes: float, trials: float, level: object = "0.95") -> list[float]:
    counts = {"x": successes, "n": trials}
    return [scalar(f"wilson_{side}", "x", "n", level, **counts) for side in ("low", "high")]


# Newcombe (1998a), Table I: read as quoted by others.
@pytest.mark.parametrize(
    "identifier",
    ["a-wilson-newcombe98a-a", "a-wilson-newcombe98a-b", "a-wilson-newcombe98a-d"],
)
def test_the_published_limits(identifier: str) -> None:
    table = example(identifier)
    assert _limits(table.inputs["x"], table.inputs["n"]) == table.expects("wilson")


def test_the_small_table() -> None:
    # Quoted in several public test suites (Wilson 1927): read as quoted by others.
    table = example("a-wilson-small-table")
    for successes, trials in table.inputs["cases"]:
        assert _limits(successes, trials) == table.expects(f"c{successes}")


def test_the_share_of_23_of_60_lies_inside_its_limits() -> None:
    # VassarStats (read): the share is printed, the limits are not; .2708 to .5098 are our own.
    page = example("a-wilson-vassarstats-23-60")
    low, high = _limits(page.inputs["x"], page.inputs["n"])
    assert page.inputs["x"] / page.inputs["n"] == page.expects("proportion")
    assert (round(low, 4), round(high, 4)) == (0.2709, 0.5098)


@pytest.mark.parametrize("level", ["0.5", "0.8", "0.95", "0.999"])
def test_it_agrees_with_statsmodels(level: str) -> None:
    trials = np.repeat([1, 2, 3, 7, 40, 333, 5000], 9)
    successes = np.round(trials * np.tile(np.linspace(0, 1, 9), 7))
    expected = proportion_confint(successes, trials, 1 - float(level), method="wilson")
    for side, limits in zip(("low", "high"), expected, strict=True):
        found = column(macros()[f"wilson_{side}"]("x", "n", level), x=successes, n=trials)
        assert furthest(found, limits) < 1e-12


def test_fractions_of_looks_solve_the_same_equation() -> None:
    z = stats.norm.ppf(0.95)
    for limit in _limits(3.7, 10.4, "0.9"):
        assert (3.7 / 10.4 - limit) ** 2 == pytest.approx(z * z * limit * (1 - limit) / 10.4)


def test_all_or_none_reach_the_very_end() -> None:
    assert _limits(0, 7)[0] == 0.0
    assert _limits(7, 7)[1] == 1.0
    # Sums may exceed the trials by a rounding; nothing breaks.
    assert _limits(7.0000001, 7)[1] == 1.0
    assert 0.64 < _limits(7.0000001, 7)[0] < 0.65
    assert _limits(-0.0000001, 7)[0] == 0.0


def test_a_hundredth_of_a_look_says_next_to_nothing() -> None:
    assert _limits(0.0, 0.01) == [0.0, pytest.approx(0.9974, abs=1e-4)]
    assert _limits(0.01, 0.01) == [pytest.approx(0.0026, abs=1e-4), 1.0]
    assert _limits(0.005, 0.01) == pytest.approx([0.00065, 0.99935], abs=1e-4)


def test_nothing_looked_at_has_no_limits() -> None:
    assert _limits(0, 0) == [None, None]
    assert scalar("wilson_high", "x", "n", "0.95", x=None, n=None) is None
    assert scalar("wilson_bound", "x", "n", "1.96", "-", x=0, n=0) is None


def test_praise_to_correction_of_24_to_6_ranges_from_1_7_to_9_5() -> None:
    low, high = _limits(24, 30)
    assert round(low / (1 - low), 1) == 1.7
    assert round(high / (1 - high), 1) == 9.5


def test_looks_of_one_visit_are_worth_fewer() -> None:
    for given, worth in [
        ({"n": 40, "m": 1}, 40 / (1 + 39 * 0.074)),
        ({"n": 40, "m": 4}, 40 / (1 + 9 * 0.074)),
        ({"n": 40, "m": 40}, 40),
        ({"n": 3, "m": 4}, 3),
    ]:
        assert scalar("effective_count", "n", "m", "0.074", **given) == pytest.approx(worth)
    assert scalar("effective_count", "n", "m", "0.074", n=40, m=0) is None
