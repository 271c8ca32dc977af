"""Schools for paper: the small invented one, bent until a page might break."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from app.access import Reader, Scope, Snapshot, current_snapshot, scope_for
from tests.app.invented import rows
from tests.app.snapshot import write_snapshot

Row = dict[str, Any]
Rows = dict[str, list[Row]]
LONG = "The Very Long and Often Renamed Community Primary School of Saint Somebody by the Old Mill "
WITHHELD_VALUE = 0.4321


def opened(workspace: Path, role: str = "principal") -> tuple[Scope, Snapshot]:
    snapshot = current_snapshot(workspace)
    return scope_for(snapshot, Reader(role)), snapshot


def written(workspace: Path, told: Rows, *, is_demo: bool = False) -> Path:
    write_snapshot(workspace, told, is_demo=is_demo)
    return workspace


def with_a_long_name() -> Rows:
    told = rows()
    told["mart_school"][0]["school_name"] = LONG * 4
    return told


def with_routines(count: int) -> Rows:
    """Copies of one routine under other names, seen in every term."""
    told = rows()
    kinds = ("mart_routines", "mart_measures_by_school", "mart_class_spread")
    first = {kind: [r for r in told[kind] if r["routine_id"] == "settle"] for kind in kinds}
    for kind in kinds:
        for number in range(count - 4):
            more: Row = {"routine_id": f"more-{number:02}"}
            if kind == "mart_routines":
                name = f"Routine {number + 5} of walking quietly past other people’s open doors"
                more |= {"name": name, "sort_order": 10 + number}
            told[kind] += [{**row, **more} for row in first[kind]]
    return told


def with_grades(count: int) -> Rows:
    told = rows()
    measured = [r for r in told["mart_measures_by_grade"] if r["grade_code"] == "01"]
    for number in range(4, count + 1):
        code = f"{number:02}"
        base = told["mart_grades"][0]
        name = f"Grade {number} with a name of its own"
        told["mart_grades"].append({**base, "grade_code": code, "name": name, "sort_order": number})
        told["mart_measures_by_grade"] += [{**row, "grade_code": code} for row in measured]
    return told


def with_everything_withheld() -> Rows:
    """Every measured row is marked; the number stays in it, as a slip of the models might leave."""
    told = rows()
    hidden = {"is_withheld": True, "withheld_reason": "small_cell", "value": WITHHELD_VALUE}
    for name in told:
        if name.startswith(("mart_measures", "mart_weeks")) and name != "mart_weeks_band":
            told[name] = [{**row, **hidden} for row in told[name]]
    told["mart_coaching_by_school"] = [
        {**row, "cycle_count": None, "moved_count": None, "same_count": None, "early_count": None}
        for row in told["mart_coaching_by_school"]
    ]
    told["mart_offers_by_school"] = [
        {**row, "open_count": None, "shown_class_count": None}
        for row in told["mart_offers_by_school"]
    ]
    return told


def before_the_first_term() -> Rows:
    told = rows(empty=True)
    told["mart_terms"] = [{**row, "elapsed_week_count": 0} for row in told["mart_terms"]]
    return told


def without_anything() -> Rows:
    """Only the school's own row."""
    return {"mart_school": rows(empty=True)["mart_school"]}


def with_other_letters(name: str) -> Rows:
    told = rows()
    told["mart_school"][0]["school_name"] = name
    told["mart_routines"][0]["name"] = name
    return told
