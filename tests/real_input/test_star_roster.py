"""A real roster, read and landed: counts per school, grade and class agree with its source.

Project STAR (Achilles et al.), mlmRev::star: see `star_roster`.
"""

from __future__ import annotations

from pathlib import Path

import duckdb
import pandas as pd
import pytest

from ingest.load import FileReport, load_files
from ingest.readers.oneroster import RosterOptions, read
from ingest.readers.table import Table
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.real_input.conftest import NOW
from tests.real_input.star_roster import PUBLISHED


@pytest.fixture(scope="module")
def tables(roster: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Table]:
    scratch = tmp_path_factory.mktemp("scratch")
    return {table.feed: table for table in read(roster, scratch, RosterOptions())}


def test_the_source_has_the_published_counts(pupil_years: pd.DataFrame) -> None:
    found = {
        "rows": len(pupil_years),
        "pupils": pupil_years["pupil"].nunique(),
        "schools": pupil_years["school"].nunique(),
        "teachers": pupil_years["teacher"].nunique(),
        "grades": pupil_years["grade"].nunique(),
    }
    assert found == PUBLISHED


def test_the_keys_of_the_roster_are_complete_at_the_source(pupil_years: pd.DataFrame) -> None:
    assert int(pupil_years.isna().to_numpy().sum()) == 0
    assert not pupil_years.duplicated(["pupil", "year"]).any()
    # What makes a class out of a teacher code: one school, one grade, one year each.
    places = pupil_years.groupby("class")[["school", "grade", "year"]].nunique()
    assert (places == 1).to_numpy().all()


def test_every_row_is_read_and_nothing_is_refused(tables: dict[str, Table]) -> None:
    counts = {feed: _count(table) for feed, table in tables.items()}
    assert counts == {
        "schools": PUBLISHED["schools"],
        # A school has a term only for the years in which the study has a class there.
        "terms": 79 + 76 + 75 + 75,
        "classes": PUBLISHED["teachers"],
        "people": PUBLISHED["pupils"] + PUBLISHED["teachers"],
        "memberships": PUBLISHED["rows"] + PUBLISHED["teachers"],
    }
    assert not any(table.is_refused for table in tables.values())


def test_counts_per_school_grade_and_class_agree_after_reading(
    tables: dict[str, Table], pupil_years: pd.DataFrame
) -> None:
    with duckdb.connect() as connection:
        for feed in ("classes", "memberships"):
            connection.execute(
                f"create view {feed} as from read_csv(?, all_varchar = true)".replace(
                    "?", f"'{tables[feed].path.as_posix()}'"
                )
            )
        assert _class_counts(connection, "classes", "memberships") == _expected(pupil_years)


def test_the_roster_is_landed_whole_with_nothing_set_aside(
    landed: tuple[Workspace, list[FileReport]],
) -> None:
    _, reports = landed
    assert {report.feed: report.status for report in reports} == dict.fromkeys(
        ("schools", "terms", "classes", "people", "memberships"), "loaded"
    )
    for report in reports:
        assert report.quarantined == report.refused == report.known == 0
        assert report.received == report.accepted > 0


def test_counts_per_school_grade_and_class_agree_after_landing(
    landed: tuple[Workspace, list[FileReport]], pupil_years: pd.DataFrame
) -> None:
    with duckdb.connect(str(landed[0].landing), read_only=True) as connection:
        found = _class_counts(connection, "latest.classes", "latest.memberships")
        pupils = connection.execute(
            "select count(*) from latest.people where role = 'student'"
        ).fetchone()
    assert found == _expected(pupil_years)
    assert pupils == (PUBLISHED["pupils"],)


def test_the_same_roster_again_changes_nothing(
    landed: tuple[Workspace, list[FileReport]], roster: Path, settings: Settings
) -> None:
    workspace, first = landed
    again = load_files([roster], workspace, settings, NOW)
    assert {report.feed: report.known for report in again} == {
        report.feed: report.received for report in first
    }
    assert all(report.accepted == 0 for report in again)


def _count(table: Table) -> int:
    """Count the rows of a table's file."""
    with table.path.open(encoding="utf-8") as stream:
        return sum(1 for _ in stream) - 1


def _class_counts(
    connection: duckdb.DuckDBPyConnection, classes: str, memberships: str
) -> set[tuple[str, str, str, int, int]]:
    """Return school, grade, class, year and number of pupils of each class."""
    rows = connection.execute(
        f"""
        select c.school_id, c.grades, c.class_id, c.school_year::integer, count(*)
        from {memberships} as m
        inner join {classes} as c on m.class_id = c.class_id
        where m.role = 'student'
        group by all
        """
    ).fetchall()
    return set(rows)


def _expected(pupil_years: pd.DataFrame) -> set[tuple[str, str, str, int, int]]:
    """Count the same from the source, without the roster."""
    columns = ["school", "grade", "class", "year"]
    grouped = pupil_years.groupby(columns, as_index=False).size()
    return set(zip(*(grouped[column].tolist() for column in (*columns, "size")), strict=True))
