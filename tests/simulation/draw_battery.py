"""Does the order of names look like chance? Four tests of rounds, for simulated ones and for a log.

`python -m tests.simulation.draw_battery WORKSPACE` runs it on what a school has written down: for
each class, the rounds in which everyone was there. A round is a list of children in the order of
their turns; without chance behind it one of the four p is small. Of many classes some p are small
by luck alone: below .01 in one of a hundred. Who got how many turns is another question, which the
draw audit answers in every build (docs/decisions/0085).
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import pairwise
from pathlib import Path

import duckdb
import numpy as np
from scipy import stats

Rounds = Sequence[Sequence[str]]
_FEWEST = 5
_ROUNDS = """
    with draws as (
        select class_id, cycle_number, pupil_id, outcome, drawn_on, sequence_number, draw_id,
            bool_or(outcome not in ('answered', 'helped', 'passed', 'other_way'))
                over (partition by class_id, cycle_number) as was_broken
        from latest.participation_draws
        where method = 'cycle' and cycle_number is not null
    )
    select class_id, cycle_number,
        list(pupil_id order by drawn_on, sequence_number, draw_id) as names
    from draws
    where not was_broken
    group by class_id, cycle_number
    having count(*) = count(distinct pupil_id)
    order by class_id, min(drawn_on), cycle_number
"""


def battery(rounds: Rounds) -> dict[str, float]:
    """The p of each test; nan where the rounds are too few or too unlike for it."""
    return {
        "places": places(rounds),
        "against the roster": against_roster(rounds),
        "runs": runs(rounds),
        "round after round": round_after_round(rounds),
    }


def places(rounds: Rounds) -> float:
    """Chi-square of children over places, for rounds of the same children.

    With every order equally likely, (n - 1) / n times the usual sum over the n x n table follows
    chi-square with (n - 1)^2 degrees of freedom (rows and columns are fixed).
    """
    children = sorted(set(rounds[0])) if rounds else []
    same = [one for one in rounds if sorted(one) == children]
    size = len(children)
    if len(same) < _FEWEST or size < 3:
        return float("nan")
    table = np.zeros((size, size))
    for one in same:
        for place, child in enumerate(one):
            table[children.index(child), place] += 1
    expected = len(same) / size
    statistic = (size - 1) / size * float(((table - expected) ** 2 / expected).sum())
    return float(stats.chi2.sf(statistic, (size - 1) ** 2))


def against_roster(rounds: Rounds) -> float:
    """Rank correlation of turns with the list of names; its variance by chance is 1 / (n - 1)."""
    return _two_sided(
        (_rank_correlation(np.argsort(np.argsort(list(one))), np.arange(len(one))), len(one) - 1)
        for one in rounds
        if len(one) > 2
    )


def round_after_round(rounds: Rounds) -> float:
    """Rank correlation of the places of those who were in two rounds that follow each other."""
    pairs = []
    for before, after in pairwise(rounds):
        both = [child for child in before if child in set(after)]
        if len(both) > 2:
            later = sorted(both, key=list(after).index)
            ranks = np.array([later.index(child) for child in both])
            pairs.append((_rank_correlation(ranks, np.arange(len(both))), len(both) - 1))
    return _two_sided(pairs)


def runs(rounds: Rounds) -> float:
    """How often a name is followed by one later in the list: (n - 1) / 2, variance (n + 1) / 12."""
    sums = [(sum(a < b for a, b in pairwise(one)), len(one)) for one in rounds if len(one) > 2]
    if len(sums) < _FEWEST:
        return float("nan")
    off = sum(count - (size - 1) / 2 for count, size in sums)
    spread = sum((size + 1) / 12 for _, size in sums) ** 0.5
    return float(2 * stats.norm.sf(abs(off) / spread))


def halves(chosen: Sequence[frozenset[str]], children: Sequence[str]) -> float:
    """Chi-square of how often each child is in the half (n // 2), n - 1 degrees of freedom."""
    size, share = len(children), (len(children) // 2) / len(children)
    counts = np.array([sum(child in half for half in chosen) for child in children])
    expected = len(chosen) * share
    statistic = float(((counts - expected) ** 2).sum() / (expected * (1 - share)))
    return float(stats.chi2.sf((size - 1) / size * statistic, size - 1))


def _rank_correlation(one: np.ndarray, other: np.ndarray) -> float:
    return float(np.corrcoef(one, other)[0, 1])


def _two_sided(correlations: object) -> float:
    found = list(correlations)  # type: ignore[call-overload]
    if len(found) < _FEWEST:
        return float("nan")
    off = sum(value * degrees**0.5 for value, degrees in found) / len(found) ** 0.5
    return float(2 * stats.norm.sf(abs(off)))


def logged(workspace: Path) -> Mapping[str, Rounds]:
    """The whole rounds of each class in a workspace, in the order in which they began."""
    found: dict[str, list[list[str]]] = defaultdict(list)
    with duckdb.connect(str(workspace / "landing.duckdb"), read_only=True) as store:
        for class_id, _, names in store.execute(_ROUNDS).fetchall():
            found[class_id].append(names)
    return found


def main() -> int:
    """Print a line for each class; 2 when no workspace is named."""
    if len(sys.argv) != 2:
        print(__doc__)
        return 2
    print(f"{'class':24}{'rounds':>8}" + "".join(f"{name:>20}" for name in battery([])))
    for class_id, rounds in logged(Path(sys.argv[1])).items():
        values = "".join(f"{p:20.3f}" for p in battery(rounds).values())
        print(f"{class_id:24}{len(rounds):8}{values}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
