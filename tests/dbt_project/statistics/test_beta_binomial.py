"""Beta-binomial by moments: the Saxony families, a known spread, no spread."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from tests.check_values import example
from tests.dbt_project.given_rows import answers
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros, scalar

NAMES = ("unit_count", "share", "rho", "alpha", "beta")
QUERY = macros()["beta_binomial"]("given", ["k"], "x", "n")


def _spreads(*groups: Sequence[tuple[float | None, float | None]]) -> dict[int, Any]:
    rows = [(k, x, n) for k, group in enumerate(groups) for x, n in group]
    given = rows_given({"k": "int", "x": "double", "n": "double"}, rows)
    return answers(QUERY, NAMES, given=given)


def test_boys_among_the_first_twelve_children() -> None:
    # Geissler's families, as worked on the encyclopaedia page: data and moments read.
    page = example("d-betabinom-saxony")
    counts = ", ".join(map(str, page.inputs["families"]))
    given = (
        "select 1 as k, family_boys as x, 12 as n from (select unnest(range(13)) as family_boys, "
        f"unnest([{counts}]) as families), range(7000) as copies(c) where c < families"
    )
    found = answers(QUERY, NAMES, given=given)[1]
    boys, families = np.array(page.inputs["k"]), np.array(page.inputs["families"])
    assert found["unit_count"] == page.expects("N")
    assert found["share"] * 12 == page.expects("m1")
    assert (boys**2 * families).sum() / families.sum() == page.expects("m2")
    assert found["share"] == page.expects("phat")
    assert found["alpha"] == page.expects("alpha_mom")
    assert found["beta"] == page.expects("beta_mom")
    binomial = 12 * found["share"] * (1 - found["share"])
    assert binomial == page.expects("binomial_variance")
    assert binomial * (1 + 11 * found["rho"]) == page.expects("sample_variance")


def test_groups_of_unequal_sizes_solve_the_equation_of_moments() -> None:
    units = np.array([(2, 10), (9, 10), (4, 20), (33, 40), (1, 3), (5, 5)])
    found = _spreads([*map(tuple, units.tolist()), (None, 4), (0, 0)], [(1, 2), (2, 4)])
    x, n = units.T
    share = x.sum() / n.sum()
    seen = (n * (x / n - share) ** 2).sum()
    assert found[0]["unit_count"] == 6
    assert found[0]["share"] == pytest.approx(share)
    spread = share * (1 - share) * (6 + found[0]["rho"] * (n - 1).sum())
    assert spread == pytest.approx(seen, rel=1e-12)
    assert found[0]["alpha"] / (found[0]["alpha"] + found[0]["beta"]) == pytest.approx(share)
    assert 1 / (1 + found[0]["alpha"] + found[0]["beta"]) == pytest.approx(found[0]["rho"])
    assert found[1] == {"unit_count": 2, "share": 0.5, "rho": 0.0, "alpha": None, "beta": None}


def test_all_or_nothing_units_are_wholly_alike_within() -> None:
    found = _spreads([(0, 6), (6, 6)], [(0, 6), (0, 2)], [(6, 6), (2, 2)], [(0, 1), (1, 1)])
    assert (found[0]["rho"], found[0]["alpha"]) == (1.0, None)
    assert (found[1]["share"], found[1]["rho"], found[1]["beta"]) == (0.0, None, None)
    assert (found[2]["share"], found[2]["rho"], found[2]["beta"]) == (1.0, None, None)
    assert (found[3]["share"], found[3]["rho"], found[3]["beta"]) == (0.5, None, None)


def test_a_units_share_is_pulled_by_what_all_units_say() -> None:
    names = ("x", "n", "a", "b")
    assert scalar("beta_binomial_share", *names, x=2, n=2, a=6, b=2) == pytest.approx(0.8)
    assert scalar("beta_binomial_share", *names, x=0, n=0, a=6, b=2) == pytest.approx(0.75)
    assert scalar("beta_binomial_share", *names, x=2, n=2, a=None, b=None) is None
    assert scalar("beta_binomial_share", *names, x=0, n=0, a=0, b=0) is None
