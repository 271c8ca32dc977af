"""The support team's and the steward's tables of the small invented school."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from tests.app.invented import AS_OF, CLASSES, FEEDS, LINEAGE, SCHOOL, measure, share
from tests.app.invented_decisions import decision_rows
from tests.app.invented_watching import course_of, watching_rows

Row = dict[str, Any]
_HOME = {"school_id": SCHOOL}


def team_rows() -> dict[str, list[Row]]:
    return {
        "mart_classes": _classes(),
        "mart_offers": _offers(),
        "mart_offers_by_school": _matters(),
        "mart_coaching_cycles": _cycles(),
        "mart_coaching_by_school": [
            {**_HOME, "term_id": "spring", "cycle_count": 3, "open_count": 2, "closed_count": 1,
             "moved_count": 1, "same_count": 1, "early_count": 1, **LINEAGE}
        ],
        "mart_turn_checks": _checks(),
        "mart_visits": [visit(class_id, n) for class_id in CLASSES for n in range(6)],
        "mart_marks_by_class": [
            {**_HOME, "class_id": "room-3", "routine_id": "voice", "label": "coaching begins",
             "marked_on": date(2026, 4, 20), "mark_code": "coaching_start"}
        ],
        **_steward(),
        **decision_rows(),
        **{k: v for k, v in watching_rows().items() if k.startswith("mart_")},
    }  # fmt: skip


def visit(class_id: str, number: int) -> Row:
    when = AS_OF - timedelta(days=4 * number + int(class_id[-1]))
    return {
        "observation_id": f"{class_id}-{number}", "class_id": class_id, "school_id": SCHOOL,
        "routine_id": ("settle", "turns", "voice", "line")[number % 4], "observer_id": "obs-1",
        "term_id": "spring", "week_first_on": when - timedelta(days=when.weekday()),
        "observed_on": when, "time_of_day_code": "morning", "setting": "classroom",
        "activity": "partner work", "minutes_observed": 12.0, "minutes_instruction": 10.0,
        "purpose": "routine", "taught_by_role": "teacher", "is_scored": True,
        "responsiveness_rate": 0.78, "responsiveness_met_count": 31, "responsiveness_count": 40,
        "adherence_rate": 0.75, "adherence_done_count": 3, "adherence_count": 4,
        "quality_rate": 2 / 3, "quality_count": 2, "voice_match_rate": 0.5,
        "voice_match_count": 2, "voice_count": 4, "opportunity_count": 20, "praise_count": 6,
        "correction_count": 2, **LINEAGE,
    }  # fmt: skip


def _classes() -> list[Row]:
    return [
        {
            "class_id": class_id, **_HOME, "title": title, "grade_codes": grade,
            "session_pattern": "full_day", "school_year": "2025-26", "pupil_count": 22,
            "visit_count": 6, "last_visit_on": AS_OF, "seen_routine_count": 4,
            "open_offer_count": int(class_id == "room-3"), "is_thin": class_id == "room-6",
            **LINEAGE,
        }
        for class_id, (title, grade) in CLASSES.items()
    ]  # fmt: skip


def _offers() -> list[Row]:
    found = []
    for class_id, (title, grade) in CLASSES.items():
        is_offer = class_id == "room-3"
        now, was = (
            share(share(term, "voice", "responsiveness"), class_id) for term in ("spring", "winter")
        )
        found.append(
            {
                "offer_id": f"class-{class_id}-voice", **_HOME, "level_code": "class",
                "class_id": class_id, "class_title": title, "grade_code": grade,
                "routine_id": "voice", "term_id": "spring", "measure_name": "responsiveness",
                **{k: v for k, v in measure(now, 4).items() if k in _EVIDENCE},
                "state_code": "offer" if is_offer else "none",
                "reason_codes": "below_line;lasting" if is_offer else None, "sign_count": 2,
                "day_count": 4, "observer_count": 2, "previous_value": was,
                "previous_sufficiency": "usable", "weakest_dimension": "responsiveness",
                "criterion": 0.8, "sureness": "likely_below", "next_step_code": "booster",
                "closes_when": "back_at_line", "next_review_on": date(2026, 5, 19),
                **course_of(class_id), **LINEAGE,
            }
        )  # fmt: skip
    grade_line = {**found[0], "offer_id": "grade-02-line", "level_code": "grade", "class_id": None}
    grade_line |= {"class_title": None, "grade_code": "02", "routine_id": "line"}
    grade_line |= {"state_code": "offer", "why_not": None, "shown_class_count": 2, "class_count": 2}
    return [*found, grade_line]


_EVIDENCE = {
    "value", "numerator_count", "denominator_count", "low", "high", "session_count",
}  # fmt: skip


def _matters() -> list[Row]:
    base: Row = {**_HOME, "term_id": "spring", "routine_id": "*", "measure_name": "*", **LINEAGE}
    count = {**base, "matter_code": "offers", "grade_code": "*", "open_count": 1}
    grade = {**base, "matter_code": "grade", "grade_code": "02", "routine_id": "line"}
    grade |= {"measure_name": "responsiveness", "shown_class_count": 2, "class_count": 2}
    return [{**count, "held_count": 2}, {**grade, "held_count": 2}]


def _cycles() -> list[Row]:
    found = []
    for number, (class_id, outcome) in enumerate(
        (("room-1", "moved_up"), ("room-2", "same"), ("room-4", "early"))
    ):
        found.append(
            {
                "cycle_id": f"cycle-{number}", "class_id": class_id, **_HOME,
                "routine_id": "settle", "term_id": "spring", "coach_id": "coach-1",
                "began_on": date(2026, 4, 14), "last_event_on": date(2026, 5, 8),
                "coached_from_on": date(2026, 4, 21), "phase": "coaching", "event_count": 5,
                "is_open": number > 0, "goal_measure": "responsiveness", "goal_value": 0.8,
                "before_value": 0.62, "before_session_count": 4, "after_value": 0.78,
                "after_session_count": 5, "change_value": 0.16, "outcome_code": outcome,
                **LINEAGE,
            }
        )  # fmt: skip
    return found


def _checks() -> list[Row]:
    base: Row = {"class_id": "room-2", **_HOME, "term_id": "spring", "counted_thing": "cycles"}
    found = {"check_name": "never_drawn_in_cycle", "is_found": True, "finding_count": 3}
    return [{**base, **found, "checked_count": 9, "first_found_on": AS_OF, **LINEAGE}]


def _steward() -> dict[str, list[Row]]:
    counts = {"received_count": 812, "accepted_count": 800, "known_count": 4}
    counts |= {"quarantined_count": 8, "refused_count": 0, "warning_count": 2, "held_count": 8}
    files = [
        {"file_hash": feed, **_HOME, "feed": feed, "file_name": f"{feed}.csv", **counts,
         "received_on": AS_OF, "contract_version": "1", "status": "loaded", "is_balanced": True}
        for feed in FEEDS
    ]  # fmt: skip
    health = [
        {**_HOME, "feed": feed, "file_count": 1, **counts, "last_received_on": AS_OF,
         "last_event_on": AS_OF, "late_count": 40, "timed_count": 800, "late_rate": 0.05,
         "is_balanced": True, **LINEAGE}
        for feed in FEEDS
    ]  # fmt: skip
    place: Row = {**_HOME, "file_hash": FEEDS[0], "feed": FEEDS[0]}
    place |= {"file_name": "routine_lessons.csv", "line_number": 17, "column_name": "minutes"}
    place |= {"rule_name": "too_large", "message": "minutes is larger than 60."}
    place |= {"remedy": "Write the minutes of the lesson, at most 60."}
    finding = {**place, "finding_id": "f1", "verdict": "quarantine"}
    held = {**place, "quarantine_id": "q1", "can_release": False, "status": "held"}
    fresh = [
        {**_HOME, "feed": feed, "last_event_on": AS_OF, "last_received_on": AS_OF,
         "event_age_days": 0, "received_age_days": 0, **LINEAGE}
        for feed in FEEDS
    ]  # fmt: skip
    gaps = [
        {**_HOME, "class_id": class_id, "class_title": title, "term_id": "spring",
         "feed": "routine_lessons", "expected_count": 40.0, "seen_count": 36.0,
         "missing_count": 4.0, "completeness_rate": 0.9, "last_event_on": AS_OF,
         "silent_days": 0, **LINEAGE}
        for class_id, (title, _) in CLASSES.items()
    ]  # fmt: skip
    return {
        "mart_files": files, "mart_findings": [finding], "mart_quarantine": [held],
        "mart_freshness": fresh, "mart_completeness": gaps, "mart_data_health": health,
    }  # fmt: skip
