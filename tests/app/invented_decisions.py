"""What the team of the small invented school decided: every kind of decision once."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.app.contracts import contracts
from tests.app.invented import CLASSES, LINEAGE, SCHOOL

Row = dict[str, Any]
_HOME = {"school_id": SCHOOL, "term_id": "spring"}
# class, routine, decision, day, day to come back, how it stands, what moved, visits since
_MADE = (
    ("room-1", "settle", "offer", date(2026, 4, 1), date(2026, 4, 29), "due", "moved_up", 5),
    ("room-2", "turns", "offer", date(2026, 5, 6), date(2026, 6, 3), "under_way", "early", 1),
    ("room-3", "voice", "wait", date(2026, 4, 29), date(2026, 5, 13), "due", "same", 3),
    ("room-4", "line", "wait", date(2026, 5, 6), date(2026, 5, 27), "waiting", "early", 0),
    ("room-5", "settle", "decline", date(2026, 5, 6), None, "resting", "early", 1),
    ("room-6", "turns", "close", date(2026, 5, 6), None, "ended", "early", 0),
)


def decision_rows() -> dict[str, list[Row]]:
    """The two tables of decisions, and the setting that a form rests on."""
    made = [_decision(number, *one) for number, one in enumerate(_MADE, start=1)]
    earlier = {**made[5], "decision_id": "decided-0", "decision_code": "offer", "is_last": False}
    earlier |= {"decided_on": date(2026, 3, 1), "decision_number": 1, "standing_code": "past"}
    earlier |= {"moved_code": "moved_up", **_side("then", 0.58, 6), **_side("later", 0.81, 9)}
    return {
        "mart_offer_decisions": [earlier, *made],
        "mart_offer_courses": [_course(class_id) for class_id in CLASSES],
    }


def own_decision_rows() -> list[Row]:
    """The same for the classes' own teachers: without who wrote it down and the team's note."""
    columns = contracts()["room_decisions"].column_names
    made = decision_rows()["mart_offer_decisions"]
    return [{name: cell for name, cell in row.items() if name in columns} for row in made]


def _decision(
    number: int, class_id: str, routine: str, code: str, decided_on: date, back: date | None,
    standing: str, moved: str, visits: int,
) -> Row:  # fmt: skip
    return {
        "decision_id": f"decided-{number}", "class_id": class_id, **_HOME,
        "class_title": CLASSES[class_id][0], "routine_id": routine, "decision_code": code,
        "offer_id": f"class:{class_id}:{routine}:spring", "decided_on": decided_on,
        "follow_up_on": back, "decided_by": "support", "is_last": True,
        "note": "A short booster each morning" if code == "offer" else None,
        "decision_number": 2 if code == "close" else 1, "measure_name": "responsiveness",
        **_side("then", 0.62, 6), **_side("later", 0.84 if visits else None, visits),
        "change_value": None if moved == "early" else 0.22,
        "change_low": None if moved == "early" else 0.05,
        "change_high": None if moved == "early" else 0.39,
        "moved_code": moved, "standing_code": standing, **LINEAGE,
    }  # fmt: skip


def _side(name: str, value: float | None, visits: int) -> Row:
    ends: Row = {"low": None, "high": None}
    if value is not None:
        ends = {"low": value - 0.1, "high": value + 0.1}
    counted = {f"{name}_value": value, f"{name}_session_count": visits}
    return {**counted, f"{name}_low": ends["low"], f"{name}_high": ends["high"]}


def _course(class_id: str) -> Row:
    is_back = class_id == "room-3"
    return {
        "offer_id": f"class-{class_id}-voice", "class_id": class_id, **_HOME,
        "routine_id": "voice", "decision_id": "decided-3" if is_back else None,
        "decision_code": "wait" if is_back else None,
        "decided_on": date(2026, 4, 29) if is_back else None,
        "follow_up_on": date(2026, 5, 13) if is_back else None,
        "course_code": "returned" if is_back else "none", "has_hand": is_back,
        "is_to_consider": is_back, **LINEAGE,
    }  # fmt: skip
