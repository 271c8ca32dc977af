"""The quick mixer: the promised numbers, evenness of every bit, fair orders, no two keys alike."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.macro_runner import macros, scalar, table

PRIME = 2**31 - 1
KEYS = st.integers(0, PRIME - 1)


def _promised(one: int, other: int) -> int:
    first = pow(one * 48271 + other, 5, PRIME)
    return pow(first * 69621 + other, 5, PRIME)


def _mixed(one: str, other: str, count: int) -> np.ndarray:
    query = f"select {macros()['mixed_draw'](one, other)} from numbers order by i"
    return np.array(table(query, numbers=f"from range({count}) numbers(i)"))[:, 0]


def _grid(rows: int, columns: int, seed: int) -> np.ndarray:
    """Numbers for `rows` keys of things against `columns` keys of simulations."""
    thing, simulation = (
        macros()["draw_key"]([str(seed), f"'{name}'", name]) for name in ("r", "c")
    )
    mixed = macros()["mixed_draw"]("k", "h")
    things = f"select r, {thing} as k from range({rows}) t(r)"
    simulations = f"select c, {simulation} as h from range({columns}) t(c)"
    query = f"select {mixed} from things cross join simulations order by r, c"
    found = table(query, things=things, simulations=simulations)
    return np.array(found)[:, 0].reshape(rows, columns)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(KEYS, KEYS), min_size=1, max_size=40))
def test_the_number_is_the_promised_one_and_never_overflows(pairs: list[tuple[int, int]]) -> None:
    pairs = [*pairs, (0, 0), (PRIME - 1, PRIME - 1), (0, PRIME - 1), (PRIME - 1, 0)]
    rows = ", ".join(f"({n}, {k}::bigint, {h}::bigint)" for n, (k, h) in enumerate(pairs))
    query = f"select {macros()['mixed_draw']('k', 'h')} from given order by n"
    got = [one for (one,) in table(query, given=f"from (values {rows}) t(n, k, h)")]
    assert got == [_promised(k, h) for k, h in pairs]
    assert all(0 <= one < PRIME for one in got)


def test_a_missing_key_gives_no_number() -> None:
    assert scalar("mixed_draw", "cast(null as bigint)", "1") is None


def test_a_key_is_the_number_of_the_text_spread_over_the_range() -> None:
    uniform = scalar("uniform_draw", ["1", "'a'"])
    assert scalar("draw_key", ["1", "'a'"]) == int(uniform * PRIME)
    assert scalar("mixing_prime") == PRIME


@pytest.mark.parametrize(
    ("one", "other"), [("i", "7"), ("7", "i"), ("i", "i"), ("i * 65536", "3"), ("5", "i * 4096")]
)
def test_even_keys_in_a_row_give_even_numbers(one: str, other: str) -> None:
    draws = _mixed(one, other, 100_000)
    assert stats.kstest((draws + 0.5) / PRIME, "uniform").pvalue > 0.0005
    for bit in range(31):
        share = ((draws >> bit) & 1).mean()
        assert abs(share - 0.5) < 4.5 * 0.5 / np.sqrt(len(draws)), bit
    pairs = np.histogram2d(draws[:-1], draws[1:], bins=20, range=[[0, PRIME], [0, PRIME]])[0]
    assert stats.chisquare(pairs.ravel()).pvalue > 0.0005


def test_every_order_of_five_children_comes_up_as_often() -> None:
    """For each of 8 boxes, 12,000 simulations: the 120 orders, and who comes first after whom."""
    places = {order: n for n, order in enumerate(itertools.permutations(range(5)))}
    for seed in range(8):
        orders = np.argsort(_grid(5, 12_000, seed), axis=0)
        codes = [places[tuple(order)] for order in orders.T.tolist()]
        assert stats.chisquare(np.bincount(codes, minlength=120)).pvalue > 0.0005
        following = np.histogram2d(orders[0, :-1], orders[0, 1:], bins=5)[0]
        assert stats.chisquare(following.ravel()).pvalue > 0.0005


def test_neither_children_nor_simulations_know_of_each_other() -> None:
    """Correlations of 60 children over 2,000 simulations, and of 60 simulations over 2,000."""
    for grid in (_grid(60, 2000, 1), _grid(2000, 60, 2).T):
        found = np.atleast_2d(np.corrcoef(grid / PRIME))[np.triu_indices(60, 1)] * np.sqrt(2000)
        assert stats.kstest(found, "norm").pvalue > 0.0005
        assert np.abs(found).max() < 5


def test_the_next_number_of_a_card_forgets_the_one_before() -> None:
    """Three sittings of 4,000 simulations with five children: orders do not follow orders."""
    start = _grid(5, 4000, 3)
    orders = [start]
    for step in (1, 2, 3):
        rows = f"select unnest({orders[-1].ravel().tolist()}::bigint[]) as u, {step} as step"
        found = table(f"select {macros()['next_draw']('u', 'step')} from given", given=rows)
        orders.append(np.array(found)[:, 0].reshape(5, 4000))
        assert found[7][0] == pow(int(orders[-2].ravel()[7]) * 69621 + step, 5, PRIME)
    firsts = [np.argmin(order, axis=0) for order in orders]
    for one, other in itertools.combinations(range(4), 2):
        pairs = np.histogram2d(firsts[one], firsts[other], bins=5)[0]
        assert stats.chisquare(pairs.ravel()).pvalue > 0.0005
        both = np.histogram2d(orders[one].ravel(), orders[other].ravel(), bins=10)[0]
        assert stats.chisquare(both.ravel()).pvalue > 0.0005
