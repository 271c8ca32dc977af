"""Effects of observers from pair differences against least squares in numpy."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, table

COLUMNS = {"k": "int", "a": "int", "b": "int", "d": "double"}
NAMES = ("comparison_count", "raw_effect", "effect", "square_sum")


def _effects(rows: list[tuple[Any, ...]], *rounds: int) -> dict[tuple[int, int], dict[str, Any]]:
    query = macros()["mutual_effects"]("pairs", ["k"], "a", "b", "d", *rounds)
    found = table(query, pairs=given(COLUMNS, rows))
    return {(row[0], row[1]): dict(zip(NAMES, row[2:], strict=True)) for row in found}


def test_two_observers_lie_half_their_difference_from_the_middle() -> None:
    got = _effects([(1, 1, 2, 0.10), (1, 2, 1, -0.20)])
    assert [got[1, one]["comparison_count"] for one in (1, 2)] == [2, 2]
    assert [got[1, one]["raw_effect"] for one in (1, 2)] == pytest.approx([0.15, -0.15])
    assert [got[1, one]["effect"] for one in (1, 2)] == pytest.approx([0.075, -0.075])
    assert got[1, 1]["square_sum"] == pytest.approx(2 * 0.05**2)


def test_whoever_met_only_the_harsh_one_is_not_taken_for_lenient() -> None:
    """3 sees 12 points less than 1 and 2, who are alike; 2 met only 3."""
    got = _effects([(1, 1, 3, 0.12), (1, 2, 3, 0.12)], 60)
    assert got[1, 1]["effect"] == pytest.approx(got[1, 2]["effect"], abs=1e-9)
    assert got[1, 1]["effect"] - got[1, 3]["effect"] == pytest.approx(0.12, abs=1e-9)
    assert got[1, 3]["square_sum"] == pytest.approx(0.0, abs=1e-12)


def test_each_round_halves_what_is_still_missed() -> None:
    """Four who all met once: the raw mean is 4/3 of the effect, the first round 2/3."""
    true = [0.3, 0.1, -0.1, -0.3]
    rows = [(1, a, b, true[a] - true[b]) for a in range(4) for b in range(a)]
    for rounds, share in ((0, 0.0), (1, 2 / 3), (2, 2 / 3 + 2 / 9)):
        got = _effects(rows, rounds)
        assert got[1, 0]["effect"] == pytest.approx(share * 0.3)
    assert got[1, 0]["raw_effect"] == pytest.approx(0.4)


def test_a_chain_of_five_is_all_but_solved_after_the_usual_rounds() -> None:
    """Each a tenth below the one before: -.2 to .2; the slowest error falls to .854 a round."""
    got = _effects([(1, one + 1, one, -0.1) for one in range(4)])
    weights = {0: 1, 1: 2, 2: 2, 3: 2, 4: 1}
    middle = sum(weights[one] * got[1, one]["effect"] for one in range(5)) / 8
    assert middle == pytest.approx(0.0, abs=1e-12)
    assert got[1, 0]["effect"] == pytest.approx(0.2, abs=0.2 * 0.03)
    assert got[1, 0]["effect"] != pytest.approx(0.2, abs=0.2 * 0.002)


def test_no_comparison_is_left_out_but_that_with_oneself_or_without_a_difference() -> None:
    assert _effects([(1, 5, 5, 0.3), (1, 1, 2, None), (1, None, 2, 0.1)]) == {}
    assert _effects([]) == {}


@settings(max_examples=10, deadline=None)
@over(st.integers(3, 5), st.integers(0, 2**16))
def test_it_agrees_with_least_squares(members: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    rows = [
        (1, a, b, float(rng.normal()))
        for a in range(members) for b in range(a) for _ in range(int(rng.integers(1, 4)))
    ]  # fmt: skip
    design = np.zeros((len(rows), members))
    for place, (_, a, b, _) in enumerate(rows):
        design[place, a], design[place, b] = 1, -1
    gaps = np.array([row[3] for row in rows])
    effects = np.linalg.lstsq(design, gaps, rcond=None)[0]
    counts = np.abs(design).sum(0)
    effects -= (counts @ effects) / counts.sum()
    left = (gaps - design @ effects) ** 2
    got = _effects(rows, 40)
    for one in range(members):
        assert got[1, one]["comparison_count"] == counts[one]
        assert got[1, one]["effect"] == pytest.approx(effects[one], abs=1e-6)
        assert got[1, one]["square_sum"] == pytest.approx(np.abs(design[:, one]) @ left, abs=1e-5)
