"""Hypergeometric probabilities and tails: a known example, scipy, impossible counts."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.check_values import example
from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("k", "t", "m", "d")
CHANCE = np.random.default_rng(2)
TOTAL = CHANCE.integers(1, 120, 2500)
MARKED, DRAWN = CHANCE.integers(0, TOTAL + 1), CHANCE.integers(0, TOTAL + 1)
COUNT = CHANCE.integers(-1, np.minimum(MARKED, DRAWN) + 2)
GIVEN = {"k": COUNT, "t": TOTAL, "m": MARKED, "d": DRAWN}


def test_four_and_five_green_of_ten_drawn() -> None:
    # The worked example of the encyclopaedia page: from memory.
    page = example("i-hypergeom-wikipedia")
    given = {"t": page.inputs["N"], "m": page.inputs["K"], "d": page.inputs["n"]}
    found = [scalar("hypergeometric_probability", *NAMES, k=k, **given) for k in (4, 5)]
    assert found == [page.expects("p4"), page.expects("p5")]
    both = scalar("hypergeometric_at_least", *NAMES, k=4, **given)
    assert both == pytest.approx(sum(found), rel=1e-12)


def test_probabilities_agree_with_scipy() -> None:
    found = column(macros()["hypergeometric_probability"](*NAMES), **GIVEN)
    expected = stats.hypergeom.pmf(COUNT, TOTAL, MARKED, DRAWN)
    assert furthest(found, expected) < 3e-13
    assert worst(found[expected > 0], expected[expected > 0]) < 1e-12


def test_tails_agree_with_scipy() -> None:
    found = column(macros()["hypergeometric_at_least"](*NAMES), **GIVEN)
    expected = stats.hypergeom.sf(COUNT - 1, TOTAL, MARKED, DRAWN)
    assert furthest(found, expected) < 1e-12
    assert worst(found[expected > 0], expected[expected > 0]) < 1e-11


@pytest.mark.parametrize("missing", NAMES)
def test_anything_unknown_gives_null(missing: str) -> None:
    for name in ("hypergeometric_probability", "hypergeometric_at_least"):
        given = {"k": 2, "t": 9, "m": 4, "d": 3, missing: None}
        assert scalar(name, *NAMES, **given) is None
