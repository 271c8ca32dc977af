"""One visit by two people, worked out by hand: what they agree on, beyond chance, and what is held.

20 looks, one of which the first could not see: 19 compared. Both saw 15 as agreed (an accepted
alternative is as agreed), neither 2, each alone 1.

    agreement       17 / 19
    occurrence      15 / 17, non-occurrence 2 / 4, prevalence (16 + 16) / 38 = 16 / 19
    chance          (16/19)^2 + (3/19)^2 = 265 / 361
    kappa           (323 - 265) / (361 - 265) = 58 / 96 = .604
    AC1             chance 2 x 16/19 x 3/19 = 96 / 361, so (323 - 96) / (361 - 96) = 227 / 265
    two codes       2 x 17/19 - 1 = 15 / 19

Four voices, expected level 2: 2 2 3 1 beside 2 1 2 1, two alike. Squared distances 0 1 1 0, on
average .5; of any two 1.0 (variances .5 and .25, means .5 apart): kappa 1 - .5 / 1 = .5.
At the level: the first at two of them, the second at two, both at one: occurrence 1 / 3.

Three visits, the pair being one: 1 / 3 watched by two.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import duckdb
import pytest

from ingest.thresholds import defaults
from tests.dbt_project import golden, golden_pairs
from tests.dbt_project.landing import make_landing
from tests.dbt_project.run_dbt import run_dbt, variables

# One pair is enough here, so that something is judged.
FEW = {"agreement_min_looks": 4, "agreement_min_pairs": 1}
FIGURES = (
    "pair_session_count", "compared_count", "agreement_rate", "occurrence_rate",
    "nonoccurrence_rate", "prevalence_rate", "kappa", "gwet_ac1", "brennan_prediger", "status",
    "double_watched_count", "visit_count",
)  # fmt: skip


@pytest.fixture(scope="module")
def warehouse(tmp_path_factory: pytest.TempPathFactory) -> Iterator[duckdb.DuckDBPyConnection]:
    folder: Path = tmp_path_factory.mktemp("pair")
    make_landing(folder / "landing.duckdb", golden_pairs.pairs())
    done = run_dbt(
        ["build", "--select", "+fct_held_measures", "+int_finished_observer_kappa",
         "--resource-type", "seed", "--resource-type", "model"],
        folder / "landing.duckdb", folder,
        variables(golden.AS_OF, thresholds={**defaults(), **FEW}),
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]
    with duckdb.connect(str(folder / "warehouse.duckdb"), read_only=True) as connection:
        yield connection


def _row(warehouse: duckdb.DuckDBPyConnection, kind: str) -> dict[str, Any]:
    rows = warehouse.execute(
        f"select {', '.join(FIGURES)} from core.fct_agreement where measure_kind = ?", [kind]
    ).fetchall()
    assert len(rows) == 1
    return dict(zip(FIGURES, rows[0], strict=True))


def test_the_looks_of_one_pair(warehouse: duckdb.DuckDBPyConnection) -> None:
    got = _row(warehouse, "moment")
    assert (got["pair_session_count"], got["compared_count"]) == (1, 19)
    assert got["agreement_rate"] == pytest.approx(17 / 19)
    assert got["occurrence_rate"] == pytest.approx(15 / 17)
    assert got["nonoccurrence_rate"] == pytest.approx(2 / 4)
    assert got["prevalence_rate"] == pytest.approx(16 / 19)
    assert got["kappa"] == pytest.approx(58 / 96)
    assert got["gwet_ac1"] == pytest.approx(227 / 265)
    assert got["brennan_prediger"] == pytest.approx(15 / 19)
    assert got["status"] == "agreed"


def test_the_voices_of_one_pair(warehouse: duckdb.DuckDBPyConnection) -> None:
    got = _row(warehouse, "voice")
    assert (got["compared_count"], got["agreement_rate"]) == (4, 0.5)
    assert got["occurrence_rate"] == pytest.approx(1 / 3)
    assert got["kappa"] == pytest.approx(0.5)
    assert got["status"] == "look_together"


def test_the_pair_is_one_of_three_visits(warehouse: duckdb.DuckDBPyConnection) -> None:
    got = _row(warehouse, "rating")
    assert (got["double_watched_count"], got["visit_count"], got["compared_count"]) == (1, 3, 0)
    assert (got["status"], got["kappa"]) == ("too_few", None)


def test_what_rests_on_the_voices_is_held_and_nothing_else(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    rows = warehouse.execute(
        "select measure_name, reason_code, round(kappa, 3) from core.fct_held_measures order by 1"
    ).fetchall()
    names = ["voice_bias", "voice_match", "voice_match_tolerant"]
    assert rows == [(name, "observers_differ", 0.5) for name in names]


def test_the_measure_is_the_same_figure(warehouse: duckdb.DuckDBPyConnection) -> None:
    rows = warehouse.execute(
        "select window_code, round(value, 6), denominator_count, session_count"
        " from intermediate.int_finished_observer_kappa order by 1"
    ).fetchall()
    assert rows == [("last_20", 0.604167, 19.0, 1), ("term", 0.604167, 19.0, 1)]
