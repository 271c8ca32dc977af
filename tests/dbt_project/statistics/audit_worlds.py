"""Classes whose draws are made in plain Python, apart from the SQL that audits them.

A class is a list of chances: (box, sitting, pupil, turns) for each pupil who could be drawn at a
sitting. `chances_of` turns many classes into one relation; `p_values` asks the macros.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tests.dbt_project.macro_runner import macros, table

Chances = list[tuple[int, int, int, int]]

# Four children. Box 1: two turns, all there. Box 2: two turns, child 2 is away. 0 and 1 had both.
FOUR: Chances = [
    (1, 1, 0, 1), (1, 1, 1, 1), (1, 1, 2, 0), (1, 1, 3, 0),
    (2, 1, 0, 1), (2, 1, 1, 1), (2, 1, 3, 0),
]  # fmt: skip


@dataclass(frozen=True)
class Room:
    """How a class draws: pupils, draw days, turns a day, and how often a child is away."""

    pupils: int = 8
    days: int = 12
    turns: int = 5
    away: float = 0.12

    def present(self, rng: np.random.Generator) -> np.ndarray:
        """Days x pupils: who is there; at least two every day. Some children are away more."""
        rates = np.minimum(0.8, self.away * rng.gamma(1.0, size=self.pupils))
        here = rng.random((self.days, self.pupils)) >= rates
        here[:, :2] |= here.sum(axis=1, keepdims=True) < 2
        return here


def returned(rng: np.random.Generator, room: Room, weights: Sequence[float] = ()) -> Chances:
    """Every card goes back at once; `weights` other than equal ones are a favour."""
    chances: Chances = []
    heavy = np.array(weights or [1.0] * room.pupils)
    for day, here in enumerate(room.present(rng)):
        there = np.flatnonzero(here)
        picks = rng.choice(there, size=room.turns, p=heavy[there] / heavy[there].sum())
        chances += [(day, 1, int(one), int((picks == one).sum())) for one in there]
    return chances


def in_rounds(rng: np.random.Generator, room: Room, round_days: int) -> Chances:
    """One card after another without going back; a new round every `round_days` days."""
    chances: Chances = []
    had = np.zeros(room.pupils, dtype=int)
    for day, here in enumerate(room.present(rng)):
        box, sitting = divmod(day, round_days)
        if sitting == 0:
            had[:] = 0
        before = had.copy()
        for _ in range(room.turns):
            there = np.flatnonzero(here)
            fewest = there[had[there] == had[there].min()]
            had[rng.choice(fewest)] += 1
        chances += [
            (box, sitting + 1, int(one), int(had[one] - before[one]))
            for one in np.flatnonzero(here)
        ]
    return chances


@dataclass
class _Box:
    """Cards of a class in mid-round, for `until_empty`."""

    deck: list[int]
    number: int = 0


def until_empty(
    rng: np.random.Generator, room: Room, *, is_told: bool, lost: Sequence[int] = ()
) -> Chances:
    """A new round when no card is left; the card of a child who is away is put aside for the day.

    `is_told`: the audit knows who is away; otherwise only of those whose card came up. `lost`
    children have no card in the box.
    """
    chances: Chances = []
    box = _Box([])
    for here in room.present(rng):
        drawn, away = _one_day(rng, room, box, here, lost)
        known = [one for one in range(room.pupils) if (here[one] if is_told else one not in away)]
        for number in sorted({number for number, _ in drawn}):
            chances += [(number, 0, one, drawn.count((number, one))) for one in known]
    return _sittings(chances)


def _one_day(
    rng: np.random.Generator, room: Room, box: _Box, here: np.ndarray, lost: Sequence[int]
) -> tuple[list[tuple[int, int]], set[int]]:
    """Turns of a day as (round, pupil), and whose card came up while they were away."""
    drawn: list[tuple[int, int]] = []
    away: set[int] = set()
    aside: list[int] = []
    while len(drawn) < room.turns:
        if not box.deck:
            box.deck = [int(n) for n in rng.permutation(room.pupils) if n not in lost]
            box.number, aside = box.number + 1, []
        card = box.deck.pop()
        if here[card]:
            drawn.append((box.number, card))
        else:
            away.add(card)
            aside.append(card)
    box.deck += aside
    return drawn, away


def _sittings(chances: Chances) -> Chances:
    """Number the days of each round; a day begins where its first pupil comes again."""
    numbered: Chances = []
    seen: dict[int, int] = {}
    last: tuple[int, int] = (-1, -1)
    for box, _, pupil, turns in chances:
        if box != last[0] or pupil <= last[1]:
            seen[box] = seen.get(box, 0) + 1
        last = (box, pupil)
        numbered.append((box, seen[box], pupil, turns))
    return numbered


def chances_of(classes: Sequence[Chances]) -> str:
    """The relation `chances` of these classes, numbered from 0 as audits."""
    rows = [(audit, *chance) for audit, chances in enumerate(classes) for chance in chances]
    columns = np.array(rows).T
    names = ("audit_id", "box_id", "sitting", "pupil_id", "turn_count")
    lists = ", ".join(
        f"unnest({column.tolist()}::bigint[]) as {name}"
        for name, column in zip(names, columns, strict=True)
    )
    return f"select {lists}"


def p_values(
    macro: str, classes: Sequence[Chances], simulations: int, seed: int
) -> tuple[np.ndarray, np.ndarray]:
    """p and p with ties split of each class under the method that `macro` simulates."""
    given = macros()
    observed = given["draw_statistics"]("chances")
    simulated = given[macro]("chances", "runs", str(seed))
    above, same = (
        f"count(*) filter (where {given[name]('simulated.statistic', 'observed.statistic')})"
        for name in ("is_above", "is_same")
    )
    uniform = given["uniform_draw"]([str(seed), "audit_id", "'ties'"])
    p = given["monte_carlo_p"]("above_count + same_count", "simulation_count")
    split = given["split_monte_carlo_p"]("above_count", "same_count", "simulation_count", uniform)
    found = table(
        f"""select {p}, {split} from (
            select audit_id, count(*) as simulation_count,
                {above} as above_count, {same} as same_count
            from observed inner join simulated using (audit_id) group by audit_id
        ) as counted order by audit_id""",
        chances=chances_of(classes),
        runs=(
            "select audit_id, simulation from (select distinct audit_id from chances) as audits"
            f" cross join range(1, {simulations + 1}) as numbers(simulation)"
        ),
        observed=observed,
        simulated=simulated,
    )
    columns = np.array(found, dtype=float).T
    return columns[0], columns[1]
