"""The rooms of the small invented school: each with its own children."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from tests.app.contracts import contracts
from tests.app.invented import AS_OF, CLASSES, LINEAGE, ROUTINES, SCHOOL
from tests.app.invented_decisions import own_decision_rows
from tests.app.invented_team import _offers, visit
from tests.app.invented_watching import watching_rows

Row = dict[str, Any]
NAMES = ("Imani", "Teo", "Wren", "Sol", "Ada", "Bo", "Cleo", "Dov", "Esi", "Finn")


def room_rows() -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {
        "room_class": [], "room_turns": [], "room_lessons": [], "room_plan": [],
        "room_teach_next": [], "room_visits": [], "room_offers": [],
        "room_marks": [
            {"class_id": "room-3", "routine_id": "voice", "label": "coaching begins",
             "marked_on": date(2026, 4, 20), "mark_code": "coaching_start"}
        ],
    }  # fmt: skip
    for class_id, (title, grade) in CLASSES.items():
        found["room_class"].append(_card(class_id, title, grade))
        found["room_turns"] += [_child(class_id, n, name) for n, name in enumerate(NAMES)]
        for number, (routine, (name, _, _)) in enumerate(ROUTINES.items()):
            found["room_lessons"].append(_lesson(class_id, routine, name, number))
            found["room_plan"] += [_slot(class_id, routine, name, number, n) for n in range(3)]
            found["room_teach_next"].append(_next(class_id, routine, name, number))
        found["room_visits"] += [_visit(class_id, n) for n in range(6)]
    found |= {k: v for k, v in watching_rows().items() if k.startswith("room_")}
    columns = contracts()["room_offers"].column_names
    for offer in _offers():
        if offer["class_id"]:
            own = {k: v for k, v in offer.items() if k in columns}
            own["course_code"] = "returned" if offer["state_code"] == "offer" else "none"
            found["room_offers"].append(own)
    found["room_decisions"] = own_decision_rows()
    return found


def _card(class_id: str, title: str, grade: str) -> Row:
    return {
        "class_id": class_id, "school_id": SCHOOL, "title": title, "grade_codes": grade,
        "school_name": "Quillbrook Primary (invented)", "session_pattern": "full_day",
        "pupil_count": len(NAMES), "term_id": "spring", "term_title": "Spring term",
        "week_number": 5, "week_count": 10, "cycle_number": 4,
        "cycle_began_on": date(2026, 5, 12), "cycle_pupil_count": len(NAMES),
        "cycle_had_turn_count": 6, "longest_open_wait_days": 4, "unlogged_count": 4,
        "criterion": 0.8, **LINEAGE,
    }  # fmt: skip


def _child(class_id: str, number: int, name: str) -> Row:
    return {
        "class_id": class_id, "pupil_id": f"{class_id}-{number}",
        "given_name": f"{name}" if class_id != "room-5" else None, "family_initial": "K",
        "term_id": "spring", "offered": 6, "taken": 5, "present_draws": 60, "expected": 6.2,
        "open_wait_days": number % 5, "longest_wait_days": 5, "last_turn_on": AS_OF,
        "is_eligible": True, "is_waiting": number < 4, "is_newcomer": number == 9,
        "queue_position_basis": 0.2, "queue_position": number + 1, **LINEAGE,
    }  # fmt: skip


def _lesson(class_id: str, routine: str, name: str, number: int) -> Row:
    when = AS_OF - timedelta(days=number)
    return {
        "lesson_id": f"{class_id}-{routine}", "class_id": class_id, "routine_id": routine,
        "routine_name": name, "term_id": "spring", "week_first_on": date(2026, 5, 11),
        "taught_on": when, "started_at_local": "09:15", "minutes": 10.0,
        "lesson_kind": "booster", "mode": "in_person", "status": "delivered",
        "pupils_present_count": 9, "steps_done_count": 4, "step_count": 4,
    }  # fmt: skip


def _slot(class_id: str, routine: str, name: str, number: int, slot: int) -> Row:
    when = AS_OF - timedelta(days=3 * slot)
    return {
        "plan_slot_id": f"{class_id}-{routine}-{slot}", "class_id": class_id,
        "routine_id": routine, "routine_name": name, "term_id": "spring",
        "lesson_kind": "reminder", "slot_number": slot + 1, "window_first_on": when,
        "window_last_on": when, "due_on": when, "planned_minutes": 5.0,
        "status": "not_logged" if slot == 0 else "delivered",
    }  # fmt: skip


def _next(class_id: str, routine: str, name: str, number: int) -> Row:
    return {
        "class_id": class_id, "routine_id": routine, "routine_name": name,
        "reason_code": "data_dip" if number == 0 else "none", "last_taught_on": AS_OF,
        "days_since_taught": 9, "value": 0.7, "low": 0.6, "high": 0.8, "session_count": 4,
        "sufficiency": "usable", "own_past_value": 0.82, "next_due_on": date(2026, 5, 20),
        "next_lesson_kind": "booster", "sort_order": number, **LINEAGE,
    }  # fmt: skip


def _visit(class_id: str, number: int) -> Row:
    columns = contracts()["room_visits"].column_names
    row = {k: v for k, v in visit(class_id, number).items() if k in columns}
    return {**row, "routine_name": ROUTINES[row["routine_id"]][0], "has_feedback": number > 0}
