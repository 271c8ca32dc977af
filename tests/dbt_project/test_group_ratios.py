"""Groups of children beside the others: a large invented district, worked out again by hand.

Three schools of 120 children; five of twenty are drawn a day and cards go back, so every child has
a quarter of a chance a day. In `far` children with a plan are drawn less; `few` has few of them.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import duckdb
import numpy as np
import pytest
from scipy.stats import norm

from tests.dbt_project.landing import make_landing
from tests.dbt_project.run_dbt import run_dbt, variables

Feeds = dict[str, list[dict[str, Any]]]

FIRST, LAST, AS_OF = date(2025, 9, 1), date(2025, 12, 19), "2025-10-03"
DAYS = [FIRST + timedelta(days=7 * week + day) for week in range(5) for day in range(5)]
CLASSES, SIZE, DRAWN = 6, 20, 5
CHANCES = len(DAYS) * DRAWN / SIZE
# Children with a plan in every class, and how likely they are to be drawn beside the others.
SCHOOLS = {"near": (6, 1.0), "far": (8, 0.55), "few": (4, 1.0)}


def _class(school: str, class_id: str, planned: int, weight: float, feeds: Feeds) -> None:
    pupils = [f"{class_id}-{place:02d}" for place in range(SIZE)]
    feeds["classes"].append(
        {"class_id": class_id, "school_id": school, "title": class_id, "grades": "01",
         "session_pattern": "full_day"}
    )  # fmt: skip
    feeds["memberships"] += [
        {"class_id": class_id, "person_id": pupil, "role": "student", "begin_on": str(FIRST)}
        for pupil in pupils
    ]
    feeds["support_plans"] += [
        {"support_id": f"{pupil}-s", "pupil_id": pupil, "tier": 2, "support_kind": "check_in",
         "begin_on": str(FIRST), "end_on": str(LAST)}
        for pupil in pupils[:planned]
    ]  # fmt: skip
    weights = np.array([weight] * planned + [1.0] * (SIZE - planned))
    lot = np.random.default_rng([planned, int(class_id.rsplit("-", 1)[1])])
    for day in DAYS:
        names = lot.choice(pupils, DRAWN, replace=False, p=weights / weights.sum())
        feeds["participation_draws"] += [
            {"draw_id": f"{class_id}-{day}-{place}", "class_id": class_id, "drawn_on": str(day),
             "sequence_number": place + 1, "method": "with_replacement", "pupil_id": str(name),
             "outcome": "answered"}
            for place, name in enumerate(names)
        ]  # fmt: skip


def _district() -> Feeds:
    feeds: Feeds = defaultdict(list)
    for school, (planned, weight) in SCHOOLS.items():
        feeds["schools"].append({"school_id": school, "name": school.title()})
        feeds["terms"].append(
            {"term_id": f"{school}-t", "school_id": school, "kind": "term", "title": "Autumn",
             "first_on": str(FIRST), "last_on": str(LAST)}
        )  # fmt: skip
        for number in range(CLASSES):
            _class(school, f"{school}-{number}", planned, weight, feeds)
    return feeds


@pytest.fixture(scope="module")
def feeds() -> Feeds:
    return _district()


@pytest.fixture(scope="module")
def ask(
    tmp_path_factory: pytest.TempPathFactory, feeds: Feeds
) -> Iterator[duckdb.DuckDBPyConnection]:
    """The warehouse of the district, as far as the ratios need it."""
    folder: Path = tmp_path_factory.mktemp("district")
    make_landing(folder / "landing.duckdb", feeds)
    models = ["ratio_supported", "ratio_newcomers", "risk_supported"]
    done = run_dbt(
        ["build", "--exclude-resource-type", "unit_test", "--select",
         *(f"+int_finished_turn_{model}" for model in models)],
        folder / "landing.duckdb", folder, variables(AS_OF),
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]
    with duckdb.connect(str(folder / "warehouse.duckdb"), read_only=True) as connection:
        yield connection


def _row(connection: duckdb.DuckDBPyConnection, measure: str, school: str) -> dict[str, Any]:
    found = connection.execute(
        f"select * from intermediate.int_finished_turn_{measure}"
        " where school_id = ? and level_code = 'school' and window_code = 'term'",
        [school],
    )
    columns = [column[0] for column in found.description]
    (row,) = found.fetchall()
    return dict(zip(columns, row, strict=True))


def _turns(feeds: Feeds, school: str) -> tuple[list[int], list[int]]:
    """Turns of each child with a plan, and of each of the others."""
    counted = Counter(row["pupil_id"] for row in feeds["participation_draws"])
    planned = {row["pupil_id"] for row in feeds["support_plans"]}
    pupils = [row["person_id"] for row in feeds["memberships"]
              if row["class_id"].startswith(f"{school}-")]  # fmt: skip
    group = [counted[pupil] for pupil in pupils if pupil in planned]
    return group, [counted[pupil] for pupil in pupils if pupil not in planned]


@pytest.mark.parametrize("school", ["near", "far"])
def test_turns_over_chances_are_set_beside_the_others(
    ask: duckdb.DuckDBPyConnection, feeds: Feeds, school: str
) -> None:
    group, others = _turns(feeds, school)
    row = _row(ask, "ratio_supported", school)
    assert row["numerator_count"] == sum(group)
    assert row["denominator_count"] == pytest.approx(CHANCES * len(group), abs=1e-6)
    assert row["unit_count"] == len(group) == SCHOOLS[school][0] * CLASSES
    ratio = np.mean(group) / np.mean(others)
    spread = math.sqrt(
        sum(np.var(side, ddof=1) / len(side) / np.mean(side) ** 2 for side in (group, others))
    )
    assert row["value"] == pytest.approx(ratio, rel=1e-9)
    width = norm.ppf(0.975) * spread
    assert row["low"] == pytest.approx(ratio * math.exp(-width), rel=1e-6)
    assert row["high"] == pytest.approx(ratio * math.exp(width), rel=1e-6)
    assert (row["high"] < 1) == (school == "far")


@pytest.mark.parametrize("school", ["near", "far"])
def test_who_is_a_turn_short_is_set_beside_the_others(
    ask: duckdb.DuckDBPyConnection, feeds: Feeds, school: str
) -> None:
    sides = _turns(feeds, school)
    (a, n), (b, m) = ((sum(turns <= CHANCES - 1 for turns in side), len(side)) for side in sides)
    assert min(a, n - a, b, m - b) >= 10
    row = _row(ask, "risk_supported", school)
    ratio, spread = a / n / (b / m), math.sqrt(1 / a - 1 / n + 1 / b - 1 / m)
    assert row["value"] == pytest.approx(ratio, rel=1e-9)
    assert row["low"] == pytest.approx(ratio * math.exp(-norm.ppf(0.975) * spread), rel=1e-6)
    assert (row["low"] > 1) == (school == "far")


def test_a_group_too_small_to_be_compared_has_no_ratio(ask: duckdb.DuckDBPyConnection) -> None:
    for measure, school in (("ratio_supported", "few"), ("risk_supported", "few"),
                            ("ratio_newcomers", "far")):  # fmt: skip
        row = _row(ask, measure, school)
        assert row["unit_count"] < 30
        assert (row["value"], row["low"], row["high"]) == (None, None, None)


def test_no_ratio_is_made_for_a_class(ask: duckdb.DuckDBPyConnection) -> None:
    levels = ask.execute("select distinct level_code from intermediate.int_group_turns").fetchall()
    assert sorted(levels) == [("grade",), ("school",)]
