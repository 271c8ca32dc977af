"""Gini, Kaplan-Meier and shrinkage: known facts, published examples, other libraries."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from statsmodels.duration.survfunc import SurvfuncRight

from tests.dbt_project.macro_runner import macros, scalar, table


def _gini(values: list[float | None]) -> float | None:
    rows = ", ".join(f"(1, {'null' if one is None else one}::double)" for one in values)
    got = table(macros()["gini"]("given", ["k"], "x"), given=f"from (values {rows}) t(k, x)")
    return got[0][2] if got else None


# Closed-form facts: one of two has all, one of ten has all, 1 to 10, all alike.
@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ([0, 1], 0.5),
        ([0] * 9 + [1], 0.9),
        (list(range(1, 11)), 0.3),
        ([4, 4, 4], 0.0),
        ([7], 0.0),
    ],
)
def test_gini_of_known_cases(values: list[float | None], expected: float) -> None:
    assert _gini(values) == pytest.approx(expected, abs=1e-12)


def test_gini_of_nothing_but_zeros_or_nulls_is_null() -> None:
    assert _gini([0, 0]) is None
    assert _gini([None, None]) is None


def test_gini_leaves_nulls_out() -> None:
    assert _gini([0, None, 1]) == 0.5


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(0, 1000).map(lambda one: round(one, 3)), min_size=1, max_size=30))
@example([0.0, 0.0, 5.0, 5.0])
def test_gini_is_the_mean_difference_over_twice_the_mean(values: list[float]) -> None:
    array = np.array(values)
    if array.sum() == 0:
        assert _gini(list(values)) is None
        return
    expected = np.abs(array[:, None] - array[None, :]).mean() / (2 * array.mean())
    assert _gini(list(values)) == pytest.approx(expected, abs=1e-9)


def _median(times: list[float], censored: list[bool]) -> tuple[float | None, int, int]:
    rows = ", ".join(f"(1, {t}::double, {c})" for t, c in zip(times, censored, strict=True))
    query = macros()["kaplan_meier_median"]("given", ["k"], "t", "c")
    return table(query, given=f"from (values {rows}) v(k, t, c)")[0][1:]


def test_the_median_of_the_classic_remission_times_is_23_weeks() -> None:
    # Freireich et al. (1963) Blood 21:699, treated group, 21 patients: from memory.
    events = [6, 6, 6, 7, 10, 13, 16, 22, 23]
    ongoing = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    assert _median([*events, *ongoing], [False] * 9 + [True] * 12) == (23.0, 9, 12)


def test_there_is_no_median_while_more_than_half_go_on() -> None:
    assert _median([10, 300, 300], [False, True, True]) == (None, 1, 2)
    assert _median([300], [True]) == (None, 0, 1)


def test_one_time_is_its_own_median() -> None:
    assert _median([42], [False]) == (42.0, 1, 0)


def test_events_come_before_the_censored_at_the_same_time() -> None:
    assert _median([5, 5], [False, True]) == (5.0, 1, 1)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 30), st.booleans()), min_size=1, max_size=25))
@example([(3, False)] * 4)
def test_the_median_agrees_with_statsmodels(rows: list[tuple[int, bool]]) -> None:
    times = np.array([time for time, _ in rows], dtype=float)
    censored = [is_censored for _, is_censored in rows]
    curve = SurvfuncRight(times, 1 - np.array(censored, dtype=int))
    reached = curve.surv_times[curve.surv_prob <= 0.5 + 1e-12]
    expected = float(reached.min()) if len(reached) else None
    assert _median(list(times), censored)[0] == expected


def test_a_class_of_two_visits_is_pulled_a_good_way_to_the_school() -> None:
    given_class = ("0.115 * 0.115 / 2", "0.06 * 0.06")
    assert scalar("shrink_weight", *given_class) == pytest.approx(0.35, abs=0.005)
    estimate = scalar("shrink_estimate", "0.66", given_class[0], "0.80", given_class[1])
    assert estimate == pytest.approx(0.751, abs=5e-4)
    assert scalar("shrink_sd", *given_class) == pytest.approx(0.048, abs=5e-4)


def test_without_any_spread_there_is_nothing_to_weigh() -> None:
    assert scalar("shrink_weight", "v", "s", v=0.0, s=0.0) is None
