"""Draws in rounds: an exact p by enumeration, evenness under luck, planted faults found."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from scipy import stats

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.statistics.audit_worlds import (
    FOUR,
    Chances,
    Room,
    chances_of,
    in_rounds,
    p_values,
    returned,
    until_empty,
)


def _statistics(chances: Chances, count: int, seed: int = 7) -> list[float]:
    query = macros()["simulated_rounds"]("chances", "runs", str(seed))
    rows = table(
        f"select * from ({query}) as simulated order by simulation",
        chances=chances_of([chances]),
        runs=f"select 0 as audit_id, simulation from range(1, {count + 1}) as n(simulation)",
    )
    assert [row[:2] for row in rows] == [(0, number) for number in range(1, count + 1)]
    return [row[2] for row in rows]


def test_a_round_that_reaches_everyone_is_certain() -> None:
    whole = [(1, day, child, 0) for day in (1, 2) for child in range(3)]
    whole[0] = (1, 1, 0, 2)
    whole[4] = (1, 2, 1, 1)
    assert _statistics(whole, 5) == [pytest.approx(0.0)] * 5


def test_more_turns_than_children_fall_on_all_before_any_has_one_more() -> None:
    """Seven turns among three, once: 3 2 2. E 7/3: 17 / (7/3) - 7."""
    chances = [(1, 1, 0, 7), (1, 1, 1, 0), (1, 1, 2, 0)]
    assert _statistics(chances, 5) == [pytest.approx(17 / (7 / 3) - 7)] * 5


def test_four_children_come_out_as_all_eighteen_ways_say() -> None:
    """Box 1: two of 0 1 2 3 (6 pairs). Box 2, child 2 away: two of 0 1 3 (3 pairs).

    E: 7/6, 7/6, 1/2, 7/6. Statistic = sum T^2 / E - 4, so
    the same pair twice, 3 of 18:                        8 / (7/6) - 4 = 2.857;
    two pairs of 0 1 3 with one in common, 6 of 18:      6 / (7/6) - 4 = 1.143;
    2 with one who comes again, 6 of 18:                 5 / (7/6) + 2 - 4 = 2.286;
    2 with one who does not, 3 of 18:                    3 / (7/6) + 2 - 4 = 0.571.
    The p of the same pair twice is 3 / 18.
    """
    counts = Counter(round(one, 3) for one in _statistics(FOUR, 6000))
    chances = {2.857: 3 / 18, 1.143: 6 / 18, 2.286: 6 / 18, 0.571: 3 / 18}
    assert set(counts) == set(chances)
    fit = stats.chisquare([counts[k] for k in chances], [6000 * p for p in chances.values()])
    assert fit.pvalue > 0.001
    whole, _ = p_values("simulated_rounds", [FOUR], 1999, 7)
    assert whole[0] == pytest.approx(3 / 18, abs=4 * np.sqrt(3 / 18 * 15 / 18 / 1999))


def test_a_child_who_comes_back_has_the_chance_of_the_others_still_in_the_box() -> None:
    """One box. Day 1: one turn among 0 1 (2 is away). Day 2: one turn among the two still in.

    E: 1/2 + 1/3, 1/2 + 1/3, 1/3. Day 2 falls on 2 in half of the ways: T = (1, 0, 1), statistic
    1 / (5/6) + 3 - 2 = 2.2; otherwise T = (1, 1, 0): 2 / (5/6) - 2 = 0.4.
    """
    chances = [(1, 1, 0, 1), (1, 1, 1, 0), (1, 2, 0, 0), (1, 2, 1, 0), (1, 2, 2, 1)]
    counts = Counter(round(one, 6) for one in _statistics(chances, 4000))
    assert set(counts) == {2.2, 0.4}
    assert stats.binomtest(counts[2.2], 4000, 0.5).pvalue > 0.001


def test_sixty_calls_of_25_children_leave_nobody_two_turns_ahead() -> None:
    # Identity, own construction: 10 children have 3 turns and 15 have 2.
    rounds = example("i-nrepl-balance")
    pupils, draws = rounds.inputs["n"], rounds.inputs["t"]
    boxes = [pupils] * (draws // pupils) + [draws % pupils]
    chances = [
        (box, 1, child, turns if child == 0 else 0)
        for box, turns in enumerate(boxes)
        for child in range(pupils)
    ]
    few, many = rounds.published["min"], rounds.published["max"]
    squares = many**2 * (draws % pupils) + few**2 * (pupils - draws % pupils)
    assert _statistics(chances, 20) == [pytest.approx(squares / (draws / pupils) - draws)] * 20


@pytest.mark.parametrize("days", [1, 3])
def test_rounds_by_luck_give_an_even_p_whoever_is_away(days: int) -> None:
    rng = np.random.default_rng(days)
    classes = [in_rounds(rng, Room(12, 9, 3), days) for _ in range(250)]
    whole, split = p_values("simulated_rounds", classes, 59, days)
    assert stats.kstest(split, "uniform").pvalue > 0.001
    for level in (0.05, 0.1, 0.2, 0.5):
        assert np.mean(whole <= level) <= level + 3 * np.sqrt(level * (1 - level) / 250)


@pytest.mark.parametrize("is_told", [True, False])
def test_a_box_drawn_until_empty_is_seldom_called_unusual(is_told: bool) -> None:
    """Absent children's cards wait on top, and the audit may know only of those that came up."""
    rng = np.random.default_rng(5)
    classes = [until_empty(rng, Room(), is_told=is_told) for _ in range(150)]
    whole, _ = p_values("simulated_rounds", classes, 59, 5)
    for level in (0.05, 0.1, 0.2, 0.5):
        assert np.mean(whole <= level) <= level


def test_a_lost_card_and_a_box_whose_cards_go_back_are_found() -> None:
    room, rng = Room(22, 16, 11, 0.05), np.random.default_rng(6)
    lost = until_empty(rng, room, is_told=False, lost=[21])
    back = [(day // 2, day % 2 + 1, child, n) for day, _, child, n in returned(rng, room)]
    right = until_empty(rng, room, is_told=False)
    whole, _ = p_values("simulated_rounds", [lost, back, right], 199, 6)
    assert whole[0] == whole[1] == 1 / 200
    assert whole[2] > 0.05
