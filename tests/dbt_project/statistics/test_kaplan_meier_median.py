"""Median times by Kaplan & Meier: a classic table, another library, edges."""

from __future__ import annotations

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st
from statsmodels.duration.survfunc import SurvfuncRight

from tests.dbt_project.macro_runner import macros, table


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
