"""p among simulations: never 0, ties count against, and even once ties are split."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.macro_runner import macros, scalar, table


def test_the_draws_themselves_count_as_one() -> None:
    assert scalar("monte_carlo_p", "0", "999") == pytest.approx(0.001)
    assert scalar("monte_carlo_p", "4 + 5", "49") == pytest.approx(0.2)
    assert scalar("monte_carlo_p", "49", "49") == 1.0
    assert scalar("monte_carlo_p", "0", "0") is None
    assert scalar("monte_carlo_p", "0", "cast(null as bigint)") is None


def test_ties_are_split_by_the_number_drawn() -> None:
    assert scalar("split_monte_carlo_p", "4", "5", "49", "0.5") == pytest.approx(7 / 50)
    assert scalar("split_monte_carlo_p", "4", "0", "49", "1.0") == pytest.approx(5 / 50)
    assert scalar("split_monte_carlo_p", "0", "0", "0", "0.5") is None


def test_a_die_with_three_sides_gives_an_even_p_once_ties_are_split() -> None:
    """3,000 times 20 throws, the first against the other 19."""
    rng = np.random.default_rng(4)
    throws = rng.integers(0, 3, size=(3000, 20))
    above = (throws[:, 1:] > throws[:, :1]).sum(axis=1).tolist()
    ties = (throws[:, 1:] == throws[:, :1]).sum(axis=1).tolist()
    query = (
        f"select {macros()['monte_carlo_p']('above + ties', '19')},"
        f" {macros()['split_monte_carlo_p']('above', 'ties', '19', 'uniform')} from thrown"
    )
    thrown = (
        f"select unnest({above}) as above, unnest({ties}) as ties,"
        f" unnest({rng.random(3000).tolist()}) as uniform"
    )
    whole, split = np.array(table(query, thrown=thrown)).T
    assert stats.kstest(split, "uniform").pvalue > 0.001
    assert all(np.mean(whole <= level) <= level + 0.02 for level in (0.05, 0.2, 0.5))


@pytest.mark.parametrize(
    ("simulated", "is_above", "is_same"),
    [(2.0, False, True), (2.0 + 1e-10, False, True), (2.0 - 1e-10, False, True),
     (2.00001, True, False), (1.99999, False, False)],
)  # fmt: skip
def test_the_last_digits_do_not_count(simulated: float, is_above: bool, is_same: bool) -> None:
    assert scalar("is_above", "s", "o", s=simulated, o=2.0) is is_above
    assert scalar("is_same", "s", "o", s=simulated, o=2.0) is is_same
