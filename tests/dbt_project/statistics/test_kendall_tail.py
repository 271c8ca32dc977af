"""Exact tail of Kendall's S against printed tables, counting of permutations and scipy."""

from __future__ import annotations

import itertools
import re

import pytest
from scipy import stats

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, one_thread

Pair = tuple[int, int | None]


def _tails(pairs: list[Pair]) -> list[float | None]:
    """Tails of (n, s), in one query."""
    rows = ", ".join(f"({i}, {n}, {'null' if s is None else s})" for i, (n, s) in enumerate(pairs))
    tail = macros()["kendall_upper_tail"]("s", "n")
    with one_thread() as connection:
        found = connection.execute(
            f"select {tail} from (values {rows}) t(i, n, s) order by i"
        ).fetchall()
    return [row[0] for row in found]


# Gilbert (1987) table A18, Kendall (1970), Hollander & Wolfe table A.21: from memory.
def test_the_tails_are_those_of_the_printed_tables() -> None:
    table = example("g-kendall-null-table")
    pairs: list[Pair] = [
        tuple(int(one) for one in re.findall(r"\d+", key))  # type: ignore[misc]
        for key in table.inputs["keys"]
    ]
    for key, tail in zip(table.inputs["keys"], _tails(pairs), strict=True):
        assert tail == table.expects(key)


def test_the_tails_are_the_shares_of_all_orders() -> None:
    pairs: list[Pair] = []
    expected = []
    for n in range(1, 7):
        scores = [
            sum((order[j] > order[i]) * 2 - 1 for i, j in itertools.combinations(range(n), 2))
            for order in itertools.permutations(range(n))
        ]
        for s in range(-n * n, n * n + 1):
            pairs.append((n, s))
            expected.append(sum(score >= s for score in scores) / len(scores))
    assert _tails(pairs) == pytest.approx(expected, abs=1e-13)


def _order(n: int, discordant: int) -> list[int]:
    """An order of n points with so many discordant pairs: the last ones turned first."""
    left, order = list(range(n)), []
    for place in range(n):
        jump = min(discordant, n - 1 - place)
        discordant -= jump
        order.append(left.pop(jump))
    return order


def test_longer_series_agree_with_scipy() -> None:
    pairs: list[Pair] = [(20, 60), (35, 91), (49, 600), (50, 1), (50, 1225), (33, -44)]
    expected = [
        stats.kendalltau(
            range(n), _order(n, (n * (n - 1) // 2 - (s or 0)) // 2), method="exact",
            alternative="greater",
        ).pvalue
        for n, s in pairs
    ]  # fmt: skip
    assert _tails(pairs) == pytest.approx(expected, abs=1e-12)


def test_nothing_known_gives_null() -> None:
    assert _tails([(4, None), (4, 2)]) == [None, pytest.approx(0.375)]
