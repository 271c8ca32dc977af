"""A district of invented schools whose truth is known, as a landing store.

Every class is visited a known number of times for every routine; on each visit the share of
children doing what is expected is a draw from a beta distribution around the class's true share,
and every look is a coin with that share. So looks of one visit are alike, as they are in a room.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import duckdb
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from tests.dbt_project.landing import make_landing
from tests.dbt_project.run_dbt import run_dbt, variables

FIRST_ON = date(2025, 9, 1)
LAST_ON = date(2025, 12, 19)
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Truth:
    """What is true of each class x routine: its share and how often it was visited.

    `share` and `visits` have the shape (schools, classes, routines); `occasion_sd` is how much a
    class differs from visit to visit, `looks` the looks of one visit.
    """

    share: Floats
    visits: NDArray[np.int64]
    occasion_sd: float = 0.10
    looks: int = 40

    def cells(self) -> pd.DataFrame:
        """One row a class x routine: school_id, class_id, routine_id, share, visits."""
        school, room, routine = (index.ravel() for index in np.indices(self.share.shape))
        return pd.DataFrame(
            {
                "school_id": [f"s{one:03d}" for one in school],
                "class_id": [
                    f"s{one:03d}-c{two:03d}" for one, two in zip(school, room, strict=True)
                ],
                "routine_id": [f"r{one}" for one in routine],
                "share": self.share.ravel(),
                "visits": self.visits.ravel(),
            }
        )


def beta_draws(rng: np.random.Generator, mean: Floats, sd: float) -> Floats:
    """One draw of a beta distribution with each mean and this standard deviation.

    Where the deviation is too large for a mean, the largest that leaves one hump is taken.
    """
    size = np.maximum(mean * (1 - mean) / sd**2 - 1, 1 / np.minimum(mean, 1 - mean))
    return rng.beta(mean * size, (1 - mean) * size)


def sessions(truth: Truth, rng: np.random.Generator) -> pd.DataFrame:
    """One row a visit: keys, day, looks and how many of them were as expected."""
    cells = truth.cells()
    rows = cells.loc[cells.index.repeat(cells["visits"])].reset_index(drop=True)
    number = rows.groupby(["class_id", "routine_id"]).cumcount().to_numpy()
    days = _weekdays()
    chosen = (number * 7 + rng.integers(0, 5, len(rows))) % len(days)
    chance = beta_draws(rng, rows["share"].to_numpy(), truth.occasion_sd)
    rows["observed_on"] = [days[one] for one in chosen]
    rows["looks"] = truth.looks
    rows["expected"] = rng.binomial(truth.looks, chance)
    rows["observation_id"] = [f"v{one:06d}" for one in range(len(rows))]
    return rows


def build(
    folder: Path, truth: Truth, visits: pd.DataFrame, select: Sequence[str], seed_text: str = ""
) -> Path:
    """Land the district and build the selected models; the path of the warehouse."""
    landing = folder / "landing.duckdb"
    make_landing(landing, {})
    with duckdb.connect(str(landing)) as connection:
        for feed, frame in _feeds(truth, visits).items():
            connection.register("given", frame)
            connection.execute(f"insert into feed.{feed} by name select * from given")
    done = run_dbt(
        ["build", "--resource-type", "model", "--resource-type", "seed", "--select", *select],
        landing, folder,
        variables(LAST_ON.isoformat(), school_name=f"District {seed_text} (invented)"),
    )  # fmt: skip
    if done.returncode != 0:
        raise RuntimeError(done.stdout[-3000:])
    return folder / "warehouse.duckdb"


def _weekdays() -> list[date]:
    span = (LAST_ON - FIRST_ON).days + 1
    days = [FIRST_ON + timedelta(days=one) for one in range(span)]
    return [one for one in days if one.weekday() < 5]


def _feeds(truth: Truth, visits: pd.DataFrame) -> Mapping[str, pd.DataFrame]:
    cells = truth.cells()
    rooms = cells[["school_id", "class_id"]].drop_duplicates()
    schools = rooms[["school_id"]].drop_duplicates()
    return {
        "schools": schools.assign(name=schools["school_id"]),
        "terms": schools.assign(
            term_id=schools["school_id"] + "-t1", kind="term", title="Autumn",
            first_on=FIRST_ON, last_on=LAST_ON,
        ),
        "classes": rooms.assign(
            title=rooms["class_id"], grades="01", session_pattern="full_day"
        ),
        "routines": _routines(truth),
        "teaching_plan": _plan(cells),
        "observation_sessions": _observation_sessions(visits),
        "observation_rows": _observation_rows(visits),
    }  # fmt: skip


def _routines(truth: Truth) -> pd.DataFrame:
    names = [f"r{one}" for one in range(truth.share.shape[2])]
    return pd.DataFrame({"routine_id": names, "name": names}).assign(
        version=1, setting="carpet", kind="posture", tier=1, valid_from_on=date(2025, 8, 1)
    )


def _plan(cells: pd.DataFrame) -> pd.DataFrame:
    keys = cells[["school_id", "class_id", "routine_id"]]
    return keys.assign(
        plan_id=cells["class_id"] + "-" + cells["routine_id"], plan_version=1,
        lesson_kind="full", window_first_on=FIRST_ON, window_last_on=LAST_ON,
        planned_lessons=1, planned_minutes_each=5.0,
    )  # fmt: skip


def _observation_sessions(visits: pd.DataFrame) -> pd.DataFrame:
    keys = visits[["observation_id", "class_id", "routine_id", "observed_on"]]
    return keys.assign(
        observer_id="o1", minutes_observed=15, minutes_instruction=10, setting="carpet",
        taught_by_role="teacher", purpose="routine", interval_seconds=15, pupils_present=20,
        routine_version=1,
    )  # fmt: skip


def _observation_rows(visits: pd.DataFrame) -> pd.DataFrame:
    rows = visits.loc[visits.index.repeat(visits["looks"])]
    number = rows.groupby("observation_id").cumcount().to_numpy()
    is_expected = number < rows["expected"].to_numpy()
    return pd.DataFrame(
        {
            "observation_id": rows["observation_id"].to_numpy(),
            "row_number": number + 1,
            "row_type": "moment",
            "code": np.where(is_expected, "expected", "not_expected"),
        }
    )
