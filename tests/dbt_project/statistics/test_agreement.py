"""Two observers of the same looks: the four cells, the design's two cases, and brute force."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros

COLUMNS = {"k": "int", "x": "boolean", "y": "boolean", "n": "int"}
NAMES = (
    "compared_count", "agreed_count", "agreement", "occurrence_agreement",
    "nonoccurrence_agreement", "prevalence",
)  # fmt: skip


def _agreement(rows: list[tuple[Any, ...]], weight: str = "n") -> dict[Any, dict[str, Any]]:
    query = macros()["agreement"]("seen", ["k"], "x", "y", weight)
    return answers(query, NAMES, seen=given(COLUMNS, rows))


def test_the_four_cells_give_the_four_shares() -> None:
    """20 both, 5 first only, 10 second only, 15 neither."""
    got = _agreement([(1, True, True, 20), (1, True, False, 5), (1, False, True, 10),
                      (1, False, False, 15)])[1]  # fmt: skip
    assert (got["compared_count"], got["agreed_count"]) == (50, 35)
    assert got["agreement"] == pytest.approx(0.7)
    assert got["occurrence_agreement"] == pytest.approx(20 / 35)
    assert got["nonoccurrence_agreement"] == pytest.approx(15 / 30)
    assert got["prevalence"] == pytest.approx((25 + 30) / 100)


def test_a_look_that_one_of_them_missed_is_no_comparison() -> None:
    got = _agreement([(1, True, None, 1), (1, None, False, 1), (1, False, None, 1),
                      (1, None, True, 1), (1, None, None, 1), (1, True, True, 1)])[1]  # fmt: skip
    assert (got["compared_count"], got["agreed_count"]) == (1, 1)


def test_shares_with_nothing_in_them_are_null() -> None:
    got = _agreement([(1, True, True, 2), (2, False, False, 2), (3, None, True, 2)])
    assert (got[1]["occurrence_agreement"], got[1]["nonoccurrence_agreement"]) == (1.0, None)
    assert (got[2]["occurrence_agreement"], got[2]["nonoccurrence_agreement"]) == (None, 1.0)
    assert (got[3]["compared_count"], got[3]["agreement"], got[3]["prevalence"]) == (0, None, None)


def test_nothing_in_nothing_out() -> None:
    assert _agreement([]) == {}


LOOK = st.sampled_from([True, False, None])


@settings(max_examples=15, deadline=None)
@over(st.lists(st.tuples(st.integers(1, 8), LOOK, LOOK), max_size=120))
def test_it_counts_what_counting_by_hand_gives(rows: list[tuple[int, Any, Any]]) -> None:
    got = _agreement([(*row, 1) for row in rows], weight="1")
    for key in {row[0] for row in rows}:
        pairs = [(x, y) for k, x, y in rows if k == key and x is not None and y is not None]
        alike = sum(x == y for x, y in pairs)
        some = [pair for pair in pairs if any(pair)]
        lacks = [pair for pair in pairs if not all(pair)]
        one = got[key]
        assert (one["compared_count"], one["agreed_count"]) == (len(pairs), alike)
        assert one["agreement"] == _share(alike, len(pairs))
        assert one["occurrence_agreement"] == _share(sum(map(all, some)), len(some))
        assert one["nonoccurrence_agreement"] == _share(sum(not any(p) for p in lacks), len(lacks))
        assert one["prevalence"] == _share(sum(x + y for x, y in pairs), 2 * len(pairs))


def _share(part: float, whole: float) -> Any:
    return pytest.approx(part / whole, abs=1e-12) if whole else None
