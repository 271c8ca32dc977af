"""Randomization tests against published designs and counting."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.series import rows_of


def _design(*given: tuple[list[float], list[int]]) -> str:
    """Sessions with their phase, from (values, sessions in each phase)."""
    rows = []
    for k, (values, sizes) in enumerate(given, 1):
        numbers = [phase for phase, size in enumerate(sizes, 1) for _ in range(size)]
        rows += [
            f"({k}, {i}, {x}::double, {phase})"
            for i, (x, phase) in enumerate(zip(values, numbers, strict=True), 1)
        ]
    return f"from (values {', '.join(rows[::-1])}) t(k, i, x, p)"


def _tests(
    *given: tuple[list[float], list[int]], least: int, direction: str = "increase"
) -> list[dict[str, Any]]:
    phases = len(given[0][1])
    args = ("g", ["k"], "i", "x", "p", phases, least, direction)
    return rows_of("randomization_test", *args, g=_design(*given))


def _counted(values: list[float], ends: tuple[int, ...]) -> float:
    parts = np.split(np.array(values, dtype=float), ends)
    after = np.mean([part.mean() for part in parts[1::2]])
    return float(after - np.mean([part.mean() for part in parts[0::2]]))


# Onghena (1992), ABAB with at least 4 sessions a phase: data read, count from memory.
def test_the_abab_design_has_165_ways() -> None:
    onghena = example("h-randtest-onghena1992-abab")
    given = (onghena.inputs["y"], onghena.inputs["phases"])
    (row,) = _tests(given, least=onghena.inputs["limit"], direction="decrease")
    assert row["assignment_count"] == onghena.expects("n_assignments")
    assert -row["observed"] == onghena.expects("observed")
    assert (row["as_far_count"], row["p_value"]) == (4, pytest.approx(4 / 165))
    assert row["smallest_p"] == pytest.approx(1 / 165)


def test_twenty_sessions_with_five_a_side_can_give_one_in_eleven() -> None:
    step = [1.0] * 9 + [2.0] * 11
    (row,) = _tests((step, [9, 11]), least=5)
    assert (row["session_count"], row["assignment_count"], row["observed"]) == (20, 11, 1.0)
    assert row["p_value"] == row["smallest_p"] == pytest.approx(1 / 11)


def test_a_design_the_lot_did_not_allow_has_no_p() -> None:
    early, short = _tests(([1.0, 2, 3, 4, 5, 6], [1, 5]), ([1.0, 2, 3, 4], [2, 2]), least=2)
    assert (early["assignment_count"], early["p_value"], early["as_far_count"]) == (3, None, None)
    assert (short["assignment_count"], short["p_value"]) == (1, 1.0)


@settings(max_examples=10, deadline=None)
@given(
    st.lists(st.integers(0, 5), min_size=8, max_size=13),
    st.sampled_from(["increase", "decrease", "either"]),
    st.sampled_from([2, 3, 4]),
    st.integers(1, 2),
)
def test_every_way_is_counted(values: list[float], direction: str, phases: int, least: int) -> None:
    n = len(values)
    ways = [
        ends
        for ends in itertools.combinations(range(1, n), phases - 1)
        if min(np.diff([0, *ends, n])) >= least
    ]
    turns: dict[str, Callable[[float], float]] = {
        "increase": float,
        "decrease": lambda one: -one,
        "either": abs,
    }
    turn = turns[direction]
    sizes = [2] * (phases - 1) + [n - 2 * (phases - 1)]
    (row,) = _tests((values, sizes), least=least, direction=direction)
    observed = _counted(values, tuple(np.cumsum(sizes[:-1])))
    as_far = sum(turn(_counted(values, ends)) >= turn(observed) - 1e-9 for ends in ways)
    assert row["assignment_count"] == len(ways)
    assert row["observed"] == pytest.approx(observed, abs=1e-12)
    assert (row["as_far_count"], row["p_value"]) == (as_far, pytest.approx(as_far / len(ways)))


def _of_starts(
    values: Sequence[float | None], starts: list[float], chosen: float, direction: str = "increase"
) -> list[dict[str, Any]]:
    sessions = ", ".join(
        f"(1, {i}, {'null' if x is None else x}::double)" for i, x in enumerate(values, 1)
    )
    options = ", ".join(f"(1, {start}, {start == chosen})" for start in starts)
    return rows_of(
        "randomization_test_of_starts", "g", "o", ["k"], "i", "x", "s", "c", direction,
        g=f"from (values {sessions}) t(k, i, x)", o=f"from (values {options}) t(k, s, c)",
    )  # fmt: skip


def test_starts_drawn_from_a_list_are_compared_with_each_other_only() -> None:
    values = [1.0, 2, 1, 2, 5, 6, 5, 6]
    (row,) = _of_starts(values, [3, 4, 5, 6, 7], 5)
    assert (row["session_count"], row["assignment_count"]) == (8, 5)
    assert (row["observed"], row["as_far_count"]) == (4.0, 1)
    assert row["p_value"] == row["smallest_p"] == 0.2
    (other,) = _of_starts(values, [3, 4, 5, 6, 7], 5, "decrease")
    assert (other["observed"], other["p_value"]) == (4.0, 1.0)
    (either,) = _of_starts([-one for one in values], [3, 4, 5, 6, 7], 5, "either")
    assert (either["observed"], either["p_value"]) == (-4.0, 0.2)


def test_two_starts_that_cut_the_sessions_alike_are_two_ways() -> None:
    (row,) = _of_starts([1.0, 1, 5, 5], [2.5, 2.7, 3.5], 2.7)
    assert (row["assignment_count"], row["as_far_count"]) == (3, 2)


def test_while_an_option_leaves_a_side_empty_nothing_is_said() -> None:
    assert _of_starts([1.0, 1, 5, None], [2, 4], 2) == []
    assert _of_starts([1.0, 1, 5], [1, 2], 2) == []
    (row,) = _of_starts([1.0, None, 1, 5, 4], [3, 4], 4)
    assert row["session_count"] == 4
    assert row["p_value"] == 0.5


def test_a_statistic_is_turned_so_that_larger_is_further() -> None:
    turned = macros()["turned"]
    assert [turned("x", way).strip() for way in ("increase", "decrease", "either")] == [
        "x",
        "-(x)",
        "abs(x)",
    ]


def test_ways_that_rounding_parts_count_alike() -> None:
    scored = (
        "from (values (1, 3, 0.3::double, 0.3::double, true), (1, 3, 0.3 - 1e-12, 0.3, false),"
        " (1, 3, 0.29, 0.29, false), (2, 3, 0.1, 0.1, false))"
        " t(k, session_count, effect, effect_as_is, is_carried_out)"
    )
    query = macros()["lot_verdict"]("scored", ["k"])
    done, not_drawn = sorted(table(f"select * from (with {query}) as verdict", scored=scored))
    assert done[:5] == (1, 3, 3, pytest.approx(0.3), 2)
    assert done[5:] == (pytest.approx(2 / 3), pytest.approx(1 / 3))
    assert not_drawn[3:6] == (None, None, None)
