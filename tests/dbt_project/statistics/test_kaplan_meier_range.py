"""The range of a Kaplan-Meier median: another library, exact cases, edges."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example as one
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.duration.survfunc import SurvfuncRight

from tests.dbt_project.macro_runner import macros, table

Rows = list[tuple[int, bool]]
Ends = tuple[float | None, float | None]

# Freireich et al. (1963) Blood 21:699, weeks of remission: from memory.
TREATED: Rows = [(t, False) for t in (6, 6, 6, 7, 10, 13, 16, 22, 23)] + [
    (t, True) for t in (6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35)
]
PLACEBO: Rows = [
    (t, False)
    for t in (1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23)
]  # fmt: skip


def _ends(groups: list[Rows], level: float = 0.95, effect: float = 1.0) -> dict[int, Ends]:
    rows = ", ".join(
        f"({key}, {time}::double, {censored}, {effect}::double)"
        for key, group in enumerate(groups)
        for time, censored in group
    )
    query = macros()["kaplan_meier_range"]("given", ["k"], "t", "c", level, "e")
    got = table(query, given=f"select * from (values {rows}) v(k, t, c, e)")
    return {key: (low, high) for key, low, high in got}


def _of(group: Rows, level: float = 0.95, effect: float = 1.0) -> Ends | None:
    return _ends([group], level, effect).get(0)


def _library(group: Rows, level: float) -> tuple[float, float]:
    curve = SurvfuncRight(
        np.array([time for time, _ in group], dtype=float),
        np.array([0 if censored else 1 for _, censored in group]),
    )
    with np.errstate(all="ignore"):
        low, high = curve.quantile_ci(0.5, alpha=1 - level)
    return float(low), float(high)


@pytest.mark.parametrize("group", [TREATED, PLACEBO])
@pytest.mark.parametrize("level", [0.8, 0.95, 0.99])
def test_the_remission_times_have_the_range_of_another_library(group: Rows, level: float) -> None:
    low, high = _library(group, level)
    assert _of(group, level) == (low, None if np.isinf(high) else high)


def test_the_placebo_group_s_median_of_8_weeks_lies_between_4_and_11() -> None:
    assert _of(PLACEBO) == (4.0, 11.0)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(st.integers(1, 40), st.booleans()), min_size=8, max_size=40),
        min_size=8,
        max_size=8,
    ),
    st.sampled_from([0.8, 0.9, 0.95, 0.99]),
)
def test_the_range_agrees_with_statsmodels_where_both_have_one(
    groups: list[Rows], level: float
) -> None:
    ends = _ends(groups, level)
    for key, group in enumerate(groups):
        if all(censored for _, censored in group):
            assert key not in ends
            continue
        low, high = _library(group, level)
        if np.isnan(low):
            continue
        # Where nobody is left, the library has no score and we have an exact one.
        events = [time for time, censored in group if not censored]
        if max(events) == max(time for time, _ in group) and high in (np.inf, max(events)):
            assert ends[key][0] == low
            continue
        assert ends[key] == (low, None if np.isinf(high) else high)


def test_half_being_left_is_ruled_out_from_six_events_when_all_happen_at_once() -> None:
    assert _of([(3, False)] * 6) == (3.0, 3.0)
    assert _of([(3, False)] * 5) == (3.0, None)
    assert _of([(3, False)]) == (3.0, None)


def test_five_events_rule_it_out_at_exactly_the_level_that_five_coins_have() -> None:
    assert _of([(3, False)] * 5, level=0.9375) == (3.0, 3.0)
    assert _of([(3, False)] * 4, level=0.9375) == (3.0, None)


def test_times_that_are_alike_count_for_fewer() -> None:
    assert _of([(3, False)] * 12, effect=2.0) == (3.0, 3.0)
    assert _of([(3, False)] * 12, effect=2.5) == (3.0, None)


def test_a_design_effect_widens_the_range_as_so_many_fewer_rows_would() -> None:
    # Every time twice with an effect of 2 has the curve and the spread of every time once.
    once = [(time, time % 4 == 0) for time in range(1, 31)]
    assert _of(once * 2, effect=2.0) == _of(once)
    assert _of(once * 2) != _of(once)


def test_the_upper_end_is_open_while_the_watching_stopped_too_early() -> None:
    assert _of([(5, False)] * 5 + [(300, True)] * 5) == (5.0, None)


def test_nothing_but_censored_rows_has_no_range_and_nulls_are_left_out() -> None:
    assert _of([(300, True)] * 4) is None
    query = macros()["kaplan_meier_range"]("given", ["k"], "t", "c", 0.95)
    rows = "select 1 as k, cast(null as double) as t, false as c"
    assert table(query, given=rows) == []


def test_the_range_holds_the_median() -> None:
    ends = _of(TREATED)
    assert ends is not None
    assert ends[0] is not None
    assert ends[0] <= 23


@one([(1, False), (2, False)])
@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 9), st.just(False)), min_size=1, max_size=30))
def test_without_censoring_the_range_lies_inside_what_was_seen(group: Rows) -> None:
    ends = _of(group)
    assert ends is not None
    times = [time for time, _ in group]
    assert min(times) <= (ends[0] or 0) <= np.median(times) + 1
    assert ends[1] is None or ends[1] <= max(times)


@pytest.mark.parametrize("group", [TREATED, PLACEBO])
def test_the_curve_and_its_spread_are_those_of_another_library(group: Rows) -> None:
    rows = ", ".join(f"(1, {time}::double, {censored})" for time, censored in group)
    query = macros()["kaplan_meier_curve"]("given", ["k"], "t", "c")
    got = table(
        f"select km_time, km_left, km_left * sqrt(km_spread), km_at_risk, km_events, km_censored"
        f" from ({query}) where km_events > 0 order by 1",
        given=f"select * from (values {rows}) v(k, t, c)",
    )
    times = np.array([time for time, _ in group], dtype=float)
    events = np.array([not censored for _, censored in group])
    curve = SurvfuncRight(times, events.astype(int))
    assert [row[0] for row in got] == list(curve.surv_times)
    assert [row[1] for row in got] == pytest.approx(curve.surv_prob, abs=1e-12)
    assert [row[2] for row in got if row[2] is not None] == pytest.approx(
        curve.surv_prob_se[curve.surv_prob > 1e-12], abs=1e-12
    )
    for time, _, _, at_risk, event_count, censored_count in got:
        assert at_risk == sum(times >= time)
        assert event_count == sum(events[times == time])
        assert censored_count == sum(~events[times == time])


def test_the_median_waits_until_at_most_half_are_left() -> None:
    query = macros()["kaplan_meier_median"]("given", ["k"], "t", "false")
    assert table(query, given="select 1 as k, t from range(1, 42) as r(t)") == [(1, 21, 41, 0)]


@pytest.mark.slow
@pytest.mark.parametrize("visits", [5, 10])
def test_of_four_hundred_ranges_about_95_in_100_hold_the_true_median(visits: int) -> None:
    # Two transitions a visit, correlated .3, median 45 s, watched for 150 s at most.
    rng = np.random.default_rng(visits)
    of_visits = rng.normal(0, math.sqrt(0.3) / 2, (400, visits, 1))
    times = np.round(45 * np.exp(of_visits + rng.normal(0, math.sqrt(0.7) / 2, (400, visits, 2))))
    groups = [[(min(int(t), 150), t > 150) for t in row.ravel()] for row in times]
    ends = _ends(groups, effect=1.074).values()
    held = [(low or 0) <= 45 and (high is None or high >= 45) for low, high in ends]
    assert 0.92 <= np.mean(held) <= 0.99
