"""The real roster built and published: what is shown agrees with its source, class by class.

Project STAR (Achilles et al.), mlmRev::star: see `star_roster`. The warehouse holds all four school
years; what is shown is the year of the as-of date, the last one (grade 3): its classes alone.
"""

from __future__ import annotations

from datetime import date

import duckdb
import pandas as pd
import pytest

from ingest import build
from ingest.load import FileReport
from ingest.room_keys import to_file_stem
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.real_input.conftest import NOW

pytestmark = pytest.mark.slow

AS_OF = date(2026, 5, 15)
SHOWN_YEAR = 2026


@pytest.fixture(scope="module")
def built(landed: tuple[Workspace, list[FileReport]], settings: Settings) -> build.Built:
    return build.run(landed[0], settings, AS_OF, NOW)


@pytest.fixture(scope="module")
def shown_year(pupil_years: pd.DataFrame) -> pd.DataFrame:
    return pupil_years[pupil_years["year"] == SHOWN_YEAR]


@pytest.fixture(scope="module")
def current_classes(pupil_years: pd.DataFrame) -> set[str]:
    """The classes of each school's last year: five schools of the study left it before its end."""
    last = pupil_years.groupby("school")["year"].transform("max")
    return {str(key) for key in pupil_years[pupil_years["year"] == last]["class"].unique()}


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


def test_grade_3_shows_its_classes_and_pupils_unless_they_are_too_few_to_show(
    built: build.Built, shown_year: pd.DataFrame, settings: Settings
) -> None:
    with duckdb.connect(str(built.snapshot / "school.duckdb"), read_only=True) as connection:
        rows = connection.execute(
            "select school_id, grade_code, class_count, pupil_count, withheld_reason"
            " from mart_grades"
        ).fetchall()
    by_school = shown_year.groupby("school")
    pupils = {str(key): int(count) for key, count in by_school.size().items()}
    classes = {str(key): int(count) for key, count in by_school["class"].nunique().items()}
    # One row a school: its grades of the years before count for nothing. Five schools left the
    # study early; nobody is in their last classes now.
    assert len(rows) == len({school for school, *_ in rows}) == 80
    left = [row for row in rows if row[0] not in pupils]
    assert {(count, reason) for *_, count, reason in left} == {(None, "small_cell")}
    rows = [row for row in rows if row[0] in pupils]
    assert {(school, grade) for school, grade, *_ in rows} == {(key, "03") for key in pupils}
    assert {school: count for school, _, count, _, _ in rows} == classes
    # Each school has this one grade, so that none is withheld to keep another company.
    expected = {
        key: "small_cell"
        if pupils[key] < settings.thresholds["small_cell"]
        else "few_classes"
        if classes[key] < settings.thresholds["grade_matter_classes"]
        else None
        for key in pupils
    }
    assert {school: reason for school, *_, reason in rows} == expected
    shown = {key: pupils[key] if reason is None else None for key, reason in expected.items()}
    assert {school: count for school, _, _, count, _ in rows} == shown
    assert sum(count is not None for count in shown.values()) > 0.5 * len(shown)


def test_no_small_class_can_be_worked_out_from_the_others(
    built: build.Built, shown_year: pd.DataFrame, settings: Settings
) -> None:
    with duckdb.connect(str(built.snapshot / "support.duckdb"), read_only=True) as connection:
        rows = connection.execute("select class_id, pupil_count from mart_classes").fetchall()
    hidden = shown_year[shown_year["class"].isin([key for key, count in rows if count is None])]
    left_over = hidden.groupby("school").agg(classes=("class", "nunique"), pupils=("pupil", "size"))
    assert len(left_over) > 0
    # The school's total minus the classes shown is what two or more of them add up to.
    assert left_over["classes"].min() >= 2
    assert left_over["pupils"].min() >= settings.thresholds["small_cell"]


def test_only_the_rooms_of_current_classes_are_published(
    built: build.Built, current_classes: set[str]
) -> None:
    files = {path.stem for path in (built.snapshot / "rooms").glob("*.duckdb")}
    assert files == {to_file_stem(key) for key in current_classes}
    assert len(files) < 400


def test_every_class_shows_its_pupils_unless_they_are_too_few_to_show(
    built: build.Built,
    shown_year: pd.DataFrame,
    current_classes: set[str],
    settings: Settings,
) -> None:
    with duckdb.connect(str(built.snapshot / "support.duckdb"), read_only=True) as connection:
        rows = connection.execute("select class_id, pupil_count from mart_classes").fetchall()
    expected = {str(key): int(count) for key, count in shown_year.groupby("class").size().items()}
    shown = dict(rows)
    assert set(shown) == current_classes
    assert {shown.pop(key) for key in current_classes - set(expected)} == {None}
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
    for class_id, pupils in shown_year.groupby("class")["pupil"]:
        room = built.snapshot / "rooms" / f"{to_file_stem(str(class_id))}.duckdb"
        with duckdb.connect(str(room), read_only=True) as connection:
            rows = connection.execute(
                "select distinct class_id, pupil_id from room_turns"
            ).fetchall()
        if {pupil for _, pupil in rows} != set(pupils) or {key for key, _ in rows} != {class_id}:
            wrong.append(class_id)
    assert wrong == []
