"""Every number that leaves the warehouse says what it counts, so that none slips through."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import duckdb
import pytest
import yaml

MODELS = Path(__file__).resolve().parents[3] / "dbt_project" / "models"
PUBLISHED = MODELS / "marts" / "published"
MEASURES = MODELS / "intermediate" / "measures"
SMALL_CELL = 10

# people: children, withheld below the setting. staff: observers, coaches. classes: each stands for
# its teacher. looks: visits, lessons, draws, steps, sessions. rows: rows of files. number: a place,
# a version, a setting, days. measure: as the measure says. thing: as `counted_thing` says.
KINDS = {"people", "staff", "classes", "looks", "rows", "number", "measure", "thing"}


def _columns(folder: Path) -> Iterator[tuple[str, dict[str, Any]]]:
    for path in sorted(folder.rglob("*.yml")):
        for model in (yaml.safe_load(path.read_text("utf-8")) or {}).get("models", []):
            for column in model["columns"]:
                yield model["name"], column


def _is_counted(column: dict[str, Any]) -> bool:
    return column["data_type"] in ("bigint", "integer") or column["name"].endswith("_count")


def _said(column: dict[str, Any]) -> str | None:
    said: str | None = column.get("config", {}).get("meta", {}).get("counts")
    return said


def test_every_count_of_a_published_table_says_what_it_counts() -> None:
    found = [(model, column) for model, column in _columns(PUBLISHED) if _is_counted(column)]
    assert len(found) > 150
    silent = [(model, column["name"]) for model, column in found if _said(column) not in KINDS]
    assert silent == [], "add `config: {meta: {counts: ...}}` beside the column"


def test_what_is_called_a_pupil_or_an_observer_is_counted_as_people() -> None:
    for model, column in _columns(PUBLISHED):
        name = column["name"]
        if "pupil" in name or "child" in name or "famil" in name:
            assert _said(column) == ("people" if _is_counted(column) else None), (model, name)
        if _is_counted(column) and ("observer" in name or "coach" in name or "teacher" in name):
            assert _said(column) == "staff", (model, name)
        if _is_counted(column) and name.endswith("class_count"):
            assert _said(column) == "classes", (model, name)


def _measures() -> dict[str, dict[str, Any]]:
    return {
        model["name"]: model["config"]["meta"]["measure"]
        for path in sorted(MEASURES.glob("*.yml"))
        for model in yaml.safe_load(path.read_text("utf-8"))["models"]
    }


def test_every_measure_says_whether_its_counts_are_people() -> None:
    measures = _measures()
    assert len(measures) >= 30
    for name, meta in measures.items():
        counts = meta.get("counts", {})
        assert set(counts) == {"numerator", "denominator", "units"}, name
        assert set(counts.values()) <= {"people", "looks"}, name
        assert meta.get("about", "all") in ("all", "supported", "groups"), name


def test_a_measure_of_groups_is_never_made_for_a_class() -> None:
    groups = {name: meta for name, meta in _measures().items() if meta.get("about") == "groups"}
    assert groups
    for name, meta in groups.items():
        assert set(meta["levels"]) <= {"grade", "school"}, name


def _published(audience: str) -> Iterator[tuple[str, str, str]]:
    """Table, column and kind of every count in an audience's file."""
    for path in sorted(PUBLISHED.rglob("*.yml")):
        for model in (yaml.safe_load(path.read_text("utf-8")) or {}).get("models", []):
            if model["config"]["meta"]["audience"] == audience:
                for column in model["columns"]:
                    if _said(column):
                        yield model["name"], column["name"], str(_said(column))


@pytest.mark.parametrize("audience", ["school", "support"])
def test_no_file_counts_fewer_children_than_the_setting(
    warehouse: duckdb.DuckDBPyConnection, audience: str
) -> None:
    found = [place for place in _published(audience) if place[2] == "people"]
    assert found
    for table, column, _ in found:
        rows = warehouse.execute(
            f"select {column} from published.{table} where {column} < {SMALL_CELL}"
        ).fetchall()
        assert rows == [], (table, column)


@pytest.mark.parametrize("audience", ["school", "support"])
@pytest.mark.parametrize("side", ["numerator", "denominator", "units"])
def test_no_measure_counts_fewer_children_than_the_setting(
    warehouse: duckdb.DuckDBPyConnection, audience: str, side: str
) -> None:
    """That nobody was counted at all, no newcomer and no family asked, is said."""
    names = [
        name.split("_", 2)[2] for name, meta in _measures().items()
        if meta["counts"][side] == "people"
    ]  # fmt: skip
    column = {"units": "unit"}.get(side, side) + "_count"
    for table in sorted({table for table, _, kind in _published(audience) if kind == "measure"}):
        rows = warehouse.execute(
            f"select measure_name from published.{table}"
            f" where list_contains(?, measure_name) and {column} between 1 and {SMALL_CELL} - 1",
            [names],
        ).fetchall()
        assert rows == [], table


def test_the_schools_file_counts_no_one_or_two_of_the_staff(
    warehouse: duckdb.DuckDBPyConnection,
) -> None:
    """How many classes a grade has is its roster; how many of them show something is not."""
    found = [
        place for place in _published("school")
        if place[2] in ("staff", "classes") and place[1] != "class_count"
    ]  # fmt: skip
    assert len(found) > 8
    for table, column, _ in found:
        rows = warehouse.execute(
            f"select {column} from published.{table} where {column} between 1 and 2"
        ).fetchall()
        assert rows == [], (table, column)
