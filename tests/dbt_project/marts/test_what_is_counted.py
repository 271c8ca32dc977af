"""Every number that leaves the warehouse says what it counts, so that none slips through."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

MODELS = Path(__file__).resolve().parents[3] / "dbt_project" / "models"
PUBLISHED = MODELS / "marts" / "published"
MEASURES = MODELS / "intermediate" / "measures"

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


def test_every_measure_says_whether_its_counts_are_people() -> None:
    measures = {}
    for path in sorted(MEASURES.glob("*.yml")):
        for model in yaml.safe_load(path.read_text("utf-8"))["models"]:
            measures[model["name"]] = model["config"]["meta"]["measure"]
    assert len(measures) >= 30
    for name, meta in measures.items():
        counts = meta.get("counts", {})
        assert set(counts) == {"numerator", "denominator", "units"}, name
        assert set(counts.values()) <= {"people", "looks"}, name
        assert meta.get("about", "all") in ("all", "supported", "groups"), name


def test_a_measure_of_groups_is_never_made_for_a_class() -> None:
    for path in sorted(MEASURES.glob("*.yml")):
        for model in yaml.safe_load(path.read_text("utf-8"))["models"]:
            meta = model["config"]["meta"]["measure"]
            if meta.get("about") == "groups":
                assert set(meta["levels"]) <= {"grade", "school"}, model["name"]
