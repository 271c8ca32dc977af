"""Ratios of shares by Katz and MOVER-R: published limits, statsmodels, zeros."""

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


def _limits(name: str, counts: Any, level: str = "0.95", names: Any = NAMES) -> list[float]:
    given = dict(zip(NAMES, counts, strict=True))
    return [scalar(f"{name}_{side}", *names, level, **given) for side in SIDES]


def test_katz_for_seven_of_34_against_one() -> None:
    # Katz et al. (1978), worked in Fagerland, Lydersen & Laake (2015): read.
    table = example("j-katz-fagerland-7-34")
    counts = [table.inputs[name] for name in ("a", "n1", "b", "n2")]
    low, high = _limits("katz", counts)
    ratio = scalar("ratio_of_proportions", *NAMES, **dict(zip(NAMES, counts, strict=True)))
    assert ratio == table.expects("rr")
    assert (low, high) == (table.expects("lower"), table.expects("upper"))
    assert np.log(high / low) == table.expects("log_width")


def test_one_half_more_in_every_count_shortens_the_upper_end() -> None:
    # Fagerland, Lydersen & Laake (2015): read.
    table = example("a-fagerland2015-7-34-1-34")
    counts = [table.inputs[name] for name in NAMES]
    more = tuple(f"({name} + 0.5)" for name in NAMES)
    assert _limits("katz", counts) == table.expects("katz_log_ratio")
    assert _limits("katz", counts, names=more) == table.expects("adjusted_log_ratio")


def test_mover_r_of_three_tables() -> None:
    # Fagerland & Newcombe (2013): read.
    table = example("j-mover-rr-fagerland-newcombe2013")
    for place, counts in enumerate(table.inputs["cases"], 1):
        assert _limits("mover_ratio", counts) == table.expects(f"c{place}")


def test_twelve_of_forty_against_twenty_of_160_is_2_40() -> None:
    low, high = _limits("katz", (12, 40, 20, 160))
    assert (round(low, 2), round(high, 2)) == (1.28, 4.49)


def test_katz_agrees_with_statsmodels() -> None:
    found = [column(macros()[f"katz_{side}"](*NAMES, "0.9"), **GIVEN) for side in SIDES]
    for place, counts in enumerate(CASES):
        expected = confint_proportions_2indep(*counts, alpha=0.1, compare="ratio", method="log")
        assert [found[0][place], found[1][place]] == pytest.approx(expected, rel=1e-12)


def test_single_successes_and_single_looks_count() -> None:
    z = 1.959963984540054
    for x1, n1, x2, n2 in [(1, 9, 3, 4), (3, 9, 1, 4), (1, 1, 3, 4), (3, 4, 1, 1)]:
        ratio = (x1 / n1) / (x2 / n2)
        error = np.sqrt(1 / x1 - 1 / n1 + 1 / x2 - 1 / n2)
        expected = [ratio * np.exp(-z * error), ratio * np.exp(z * error)]
        assert _limits("katz", (x1, n1, x2, n2)) == pytest.approx(expected, rel=1e-12)
        assert scalar("ratio_of_proportions", *map(str, (x1, n1, x2, n2))) == pytest.approx(ratio)


def test_mover_limits_turn_round_when_the_sides_do() -> None:
    low, high = _limits("mover_ratio", (7, 18, 4, 20))
    turned = _limits("mover_ratio", (4, 20, 7, 18))
    assert [1 / high, 1 / low] == pytest.approx(turned, rel=1e-12)


def test_zeros() -> None:
    assert _limits("katz", (0, 9, 3, 9)) == [None, None]
    assert _limits("katz", (3, 9, 0, 9)) == [None, None]
    low, high = _limits("mover_ratio", (0, 9, 3, 9))
    assert low == pytest.approx(0.0, abs=1e-12)
    assert 0.5 < high < 2
    low, high = _limits("mover_ratio", (3, 9, 0, 9))
    assert 0.5 < low < 2
    assert high is None


@pytest.mark.parametrize("name", ["katz", "mover_ratio"])
def test_one_side_without_looks_has_no_ratio(name: str) -> None:
    assert _limits(name, (3, 4, 0, 0)) == [None, None]
    assert _limits(name, (0, 0, 3, 4)) == [None, None]
    assert scalar("ratio_of_proportions", *NAMES, x1=1, n1=2, x2=0, n2=3) is None


def test_clustered_looks_count_for_what_they_are_worth() -> None:
    given = {"x1": 56, "n1": 70, "m1": 5, "x2": 48, "n2": 80, "m2": 4}
    names = ("x1", "n1", "m1", "x2", "n2", "m2")
    first, second = 70 / (1 + 13 * 0.1), 80 / (1 + 19 * 0.1)
    found = [scalar(f"clustered_ratio_{side}", *names, "0.1", "0.95", **given) for side in SIDES]
    worth = (0.8 * first, first, 0.6 * second, second)
    assert found == pytest.approx(_limits("mover_ratio", worth), rel=1e-12)
    given["m1"] = 0
    assert scalar("clustered_ratio_low", *names, "0.1", "0.95", **given) is None
