"""One small warehouse for all golden cases: one dbt build in a session."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import duckdb
import pytest

from tests.dbt_project import golden, golden_cases, golden_measures, golden_visits
from tests.dbt_project.answers import Ask, Figure
from tests.dbt_project.landing import make_landing
from tests.dbt_project.run_dbt import run_dbt, variables

CASES = (
    golden.definitions,
    golden.dose,
    golden.closure,
    golden.calendars,
    golden.turns,
    golden.supports,
    golden_visits.visits,
    golden_cases.simpson,
    golden_cases.mixed_grades,
    golden_cases.mover,
    golden_cases.half_days,
    golden_cases.closures,
    golden_cases.back_filled,
    golden_cases.substitute,
    golden_cases.new_version,
    golden_measures.after_a_break,
    golden_measures.statements,
    golden_measures.sides,
)


def _all_feeds() -> golden.Feeds:
    feeds: golden.Feeds = defaultdict(list)
    for case in CASES:
        for feed, rows in case().items():
            feeds[feed].extend(rows)
    return feeds


@pytest.fixture(scope="session")
def golden_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a finished build of every golden case, core tables only."""
    folder = tmp_path_factory.mktemp("golden")
    make_landing(folder / "landing.duckdb", _all_feeds())
    done = run_dbt(
        ["build", "--exclude", "path:models/marts/published", "path:models/marts/rooms"],
        folder / "landing.duckdb",
        folder,
        variables(golden.AS_OF),
    )
    assert done.returncode == 0, done.stdout[-4000:]
    return folder


@pytest.fixture(scope="session")
def ask(golden_folder: Path) -> Iterator[Ask]:
    """Rows of a query on the warehouse of the golden cases."""
    with duckdb.connect(str(golden_folder / "warehouse.duckdb"), read_only=True) as connection:
        yield lambda query, *values: connection.execute(query, list(values)).fetchall()


@pytest.fixture(scope="session")
def figure(ask: Ask) -> Figure:
    """One row of the long table of measures, as a dictionary."""

    def find(measure: str, school_id: str, level: str = "class", **keys: str) -> dict[str, Any]:
        given = {"routine_id": "*", "window_code": "term", "level_code": level, **keys}
        where = " and ".join(f"{name} = ?" for name in given)
        names = ("value", "numerator_count", "denominator_count", "low", "high", "session_count",
                 "unit_count", "thin_count", "sufficiency", "status", "detail")  # fmt: skip
        rows = ask(
            f"select {', '.join(names)} from core.fct_measures"
            f" where measure_name = ? and school_id = ? and {where}",
            measure, school_id, *given.values(),
        )  # fmt: skip
        assert len(rows) == 1, rows
        return dict(zip(names, rows[0], strict=True))

    return find
