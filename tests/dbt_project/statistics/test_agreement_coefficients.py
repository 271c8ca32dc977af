"""AC1, Brennan-Prediger and pi: a published table, the paradox, and brute force."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros, scalar

COLUMNS = {"k": "int", "x": "int", "y": "int", "n": "double"}
NAMES = ("pair_count", "agreement", "gwet_ac1", "brennan_prediger", "scott_pi")
Tables = list[list[list[float]]]


def _coefficients(tables: Tables, *more: Any) -> dict[Any, dict[str, Any]]:
    rows = [
        (k, x, y, count)
        for k, counts in enumerate(tables)
        for x, row in enumerate(counts)
        for y, count in enumerate(row)
    ]
    query = macros()["agreement_coefficients"]("seen", ["k"], "x", "y", "n", *more)
    return answers(query, NAMES, seen=given(COLUMNS, rows))


# Gwet (2014), irrCAC vignette: read.
def test_gwets_abstractors_have_the_published_coefficients() -> None:
    gwet = example("f-gwet-abstractors-3x3")
    got = _coefficients([gwet.inputs["counts"]])[0]
    assert got["agreement"] == gwet.expects("percent_agreement")
    assert got["scott_pi"] == gwet.expects("scott_pi")
    assert got["gwet_ac1"] == gwet.expects("gwet_ac1")
    assert got["brennan_prediger"] == gwet.expects("brennan_prediger")


# Feinstein & Cicchetti (1990): from memory. With two codes Brennan-Prediger is 2 x agreement - 1.
def test_what_kappa_halves_stays_high_here() -> None:
    paradox = example("f-kappa-paradox-feinstein")
    got = _coefficients([paradox.inputs["t2"]])[0]
    assert got["agreement"] == paradox.expects("po2")
    assert got["brennan_prediger"] == pytest.approx(0.70)
    assert got["gwet_ac1"] == pytest.approx((0.85 - 0.21875) / (1 - 0.21875))


def test_one_code_is_something_only_when_there_were_more_to_choose_from() -> None:
    got = _coefficients([[[5.0]]])[0]
    assert (got["pair_count"], got["agreement"]) == (5, 1.0)
    assert (got["gwet_ac1"], got["brennan_prediger"], got["scott_pi"]) == (None, None, None)
    told = _coefficients([[[5.0]]], "3")[0]
    assert (told["gwet_ac1"], told["brennan_prediger"], told["scott_pi"]) == (1.0, 1.0, None)


def test_missing_codes_and_rows_without_weight_are_left_out() -> None:
    query = macros()["agreement_coefficients"]("seen", ["k"], "x", "y")
    rows = [(0, 0, 0, 1.0), (0, None, 1, 1.0), (0, 1, None, 1.0), (0, 1, 0, 1.0)]
    got = answers(query, NAMES, seen=given(COLUMNS, rows))[0]
    assert (got["pair_count"], got["agreement"]) == (2, 0.5)
    assert _coefficients([[[0.0, 0.0], [0.0, 0.0]]]) == {}


def test_beyond_chance_is_null_where_chance_is_all() -> None:
    assert scalar("beyond_chance", "a", "c", a=0.9, c=0.8) == pytest.approx(0.5)
    assert scalar("beyond_chance", "a", "c", a=1.0, c=1.0) is None


@settings(max_examples=12, deadline=None)
@over(
    st.lists(
        st.lists(st.lists(st.integers(0, 9), min_size=3, max_size=3), min_size=3, max_size=3),
        min_size=1, max_size=6,
    )
)  # fmt: skip
@case([[[0, 4, 0], [0, 0, 0], [0, 0, 0]]])
def test_it_agrees_with_the_formulas_in_numpy(tables: Tables) -> None:
    got = _coefficients(tables)
    for k, counts in enumerate(tables):
        share = np.array(counts) / max(np.sum(counts), 1)
        if share.sum() == 0:
            assert k not in got
            continue
        code = (share.sum(0) + share.sum(1)) / 2
        used = int((code > 0).sum())
        seen, square = float(np.trace(share)), float((code**2).sum())
        chances = {
            "gwet_ac1": (1 - square) / (used - 1) if used > 1 else None,
            "brennan_prediger": 1 / used if used > 1 else None,
            "scott_pi": square if used > 1 else None,
        }
        for name, chance in chances.items():
            expected = None if chance is None else pytest.approx((seen - chance) / (1 - chance))
            assert got[k][name] == expected
