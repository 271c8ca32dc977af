"""The real roster built and published: what is shown agrees with its source, class by class.

Project STAR (Achilles et al.), mlmRev::star: see `star_roster`. The warehouse holds all four school
years; what is shown is the year of the as-of date, the last one (grade 3). A room is one file a
class, and 1,387 files take minutes: they are written for three of the 80 schools.
"""

from __future__ import annotations

from datetime import date

import duckdb
import pandas as pd
import pytest

from ingest import build, dbt_run
from ingest.load import FileReport
from ingest.room_keys import to_file_stem
from ingest.settings import Settings
from ingest.steps import Progress
from ingest.workspace import Workspace
from tests.real_input.conftest import NOW

pytestmark = pytest.mark.slow

AS_OF = date(2026, 5, 15)
SHOWN_YEAR = 2026
# s07 has a class of one pupil.
ROOM_SCHOOLS = ["s07", "s27", "s41"]


def compute_few_rooms(plan: dbt_run.Plan, progress: Progress) -> None:
    """Compute the whole warehouse, then leave only the rooms of a few schools to be written."""
    dbt_run.run(plan, progress)
    with duckdb.connect(str(plan.warehouse)) as connection:
        rooms = connection.execute(
            "select table_name from information_schema.tables where table_schema = 'rooms'"
        ).fetchall()
        assert rooms
        for (table,) in rooms:
            connection.execute(
                f'delete from rooms."{table}" where class_id not in '
                "(select class_id from core.dim_classes where list_contains(?, school_id))",
                [ROOM_SCHOOLS],
            )


@pytest.fixture(scope="module")
def built(landed: tuple[Workspace, list[FileReport]], settings: Settings) -> build.Built:
    return build.run(landed[0], settings, AS_OF, NOW, maker=build.Maker(compute=compute_few_rooms))


@pytest.fixture(scope="module")
def shown_year(pupil_years: pd.DataFrame) -> pd.DataFrame:
    return pupil_years[pupil_years["year"] == SHOWN_YEAR]


def test_the_warehouse_counts_every_pupil_year_by_school_grade_class_and_year(
    built: build.Built, landed: tuple[Workspace, list[FileReport]], pupil_years: pd.DataFrame
) -> None:
    warehouse = next((landed[0].builds / built.build_id).glob("*.duckdb"))
    with duckdb.connect(str(warehouse), read_only=True) as connection:
        found = connection.execute(
            """
            select
                classes.school_id,
                classes.grade_codes,
                classes.class_id,
                classes.school_year::integer,
                count(*)
            from core.dim_memberships as memberships
            inner join core.dim_classes as classes on memberships.class_id = classes.class_id
            where memberships.role = 'student'
            group by all
            """
        ).fetchall()
    columns = ["school", "grade", "class", "year"]
    expected = pupil_years.groupby(columns, as_index=False).size()
    assert set(found) == set(expected.itertuples(index=False, name=None))
    assert sum(row[-1] for row in found) == len(pupil_years)


def test_every_school_shows_its_pupils_of_the_year(
    built: build.Built, shown_year: pd.DataFrame
) -> None:
    with duckdb.connect(str(built.snapshot / "school.duckdb"), read_only=True) as connection:
        rows = connection.execute(
            "select school_id, coalesce(pupil_count, 0) from mart_school"
        ).fetchall()
    shown = dict(rows)
    expected = {str(key): int(count) for key, count in shown_year.groupby("school").size().items()}
    # The five schools without a class in this year are there, with no pupils to show.
    assert len(shown) == 80
    assert {key: count for key, count in shown.items() if count} == expected


def test_every_class_shows_its_pupils_unless_they_are_too_few_to_show(
    built: build.Built, shown_year: pd.DataFrame, settings: Settings
) -> None:
    with duckdb.connect(str(built.snapshot / "support.duckdb"), read_only=True) as connection:
        rows = connection.execute(
            "select class_id, pupil_count from mart_classes where school_year = ?",
            [str(SHOWN_YEAR)],
        ).fetchall()
    expected = {str(key): int(count) for key, count in shown_year.groupby("class").size().items()}
    shown = dict(rows)
    assert set(shown) == set(expected)
    small = {key for key, count in expected.items() if count < settings.thresholds["small_cell"]}
    assert small
    assert all(shown[key] is None for key in small)
    wrong = {key: count for key, count in shown.items() if count not in (None, expected[key])}
    assert wrong == {}
    # Hiding more than the small ones is allowed (so that none can be worked back), but not much.
    assert sum(count is not None for count in shown.values()) >= 0.95 * len(expected)


def test_every_room_of_the_year_holds_its_own_pupils_and_no_others(
    built: build.Built, shown_year: pd.DataFrame
) -> None:
    wrong = []
    few = shown_year[shown_year["school"].isin(ROOM_SCHOOLS)]
    assert few["class"].nunique() > 10
    for class_id, pupils in few.groupby("class")["pupil"]:
        room = built.snapshot / "rooms" / f"{to_file_stem(str(class_id))}.duckdb"
        with duckdb.connect(str(room), read_only=True) as connection:
            rows = connection.execute(
                "select distinct class_id, pupil_id from room_turns"
            ).fetchall()
        if {pupil for _, pupil in rows} != set(pupils) or {key for key, _ in rows} != {class_id}:
            wrong.append(class_id)
    assert wrong == []
