"""What two observers see alike, what draws and records look like, and how offers ran."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.app.invented import CLASSES, LINEAGE, ROUTINES, SCHOOL

Row = dict[str, Any]
_HOME: Row = {"school_id": SCHOOL, "term_id": "spring"}
KINDS = ("moment", "rating", "step", "voice")
# What the newest review says of a line, by class.
COURSE: dict[str, Row] = {
    "room-1": {"why_not": "by_chance", "adjusted_p": 0.21, "closing_code": "more_visits"},
    "room-2": {"why_not": "measure_held"},
    "room-3": {
        "review_state": "held_on", "opened_on": date(2026, 5, 1), "review_count": 2,
        "closing_code": "back_at_line", "closing_value": 0.86, "adjusted_p": 0.03,
    },
    "room-4": {"why_not": "one_sign", "closing_code": "quiet_visits", "closing_value": 0.8},
    "room-5": {"why_not": "no_plan"},
    "room-6": {"why_not": "thin"},
}  # fmt: skip


def course_of(class_id: str) -> Row:
    plain: Row = {
        "review_state": "silent", "tested_count": 60, "closing_session_count": 3,
        "previous_term_id": "winter", "team_sees_from_on": date(2026, 5, 18),
    }  # fmt: skip
    return {**plain, **COURSE[class_id]}


def watching_rows() -> dict[str, list[Row]]:
    reviews = [
        {
            **_HOME, "level_code": "class", "class_id": class_id, "class_title": title,
            "grade_code": grade, "routine_id": "voice", "review_on": date(2026, 5, day),
            "review_number": number, "measure_name": "responsiveness", "review_state": state,
            "why_not": None if state == "opened" else "unclear", "sureness": "likely_below",
            "session_count": 4 + number, "day_count": 4, "value": 0.66, **LINEAGE,
        }
        for class_id, (title, grade) in CLASSES.items()
        for number, day, state in ((1, 1, "silent"), (2, 15, "opened"))
    ]  # fmt: skip
    asked = [
        {
            **_HOME, "class_id": class_id, "class_title": title, "data_code": code,
            "measure_name": name, "found_count": 5.0, "looked_count": 20.0, "found_rate": 0.25,
            "is_asked": class_id in ("room-2", "room-3"), **LINEAGE,
        }
        for class_id, (title, _) in CLASSES.items()
        for code, name in (
            ("missing_logs", "dose"), ("back_filled", "dose"), ("thin", "responsiveness"),
            ("conflicting", "responsiveness"),
        )
    ]  # fmt: skip
    audits = [
        {
            **_HOME, "class_id": class_id, "method": "cycle", "turn_count": 140,
            "verdict_code": "look_at_the_box" if class_id == "room-2" else "as_declared",
            "statistic": 9.0, "expected_statistic": 4.0, "simulation_count": 999, "p": 0.012,
            **LINEAGE,
        }
        for class_id in CLASSES
    ]  # fmt: skip
    return {
        "mart_offer_reviews": reviews,
        "room_offer_history": [
            {k: v for k, v in row.items() if k not in ("level_code", "class_title", "grade_code")}
            for row in reviews
        ],
        "mart_data_offers": asked,
        "room_data_offers": asked,
        "mart_draw_audits": audits,
        "room_draw_audits": [
            {k: v for k, v in row.items() if k != "school_id"} | {"pupil_count": 10}
            for row in audits
        ],
        **_observers(),
        **_change(),
        "mart_class_spread": [
            {
                **_HOME, "routine_id": routine, "measure_name": "responsiveness",
                "class_count": 6, "visit_sd": 0.1, "class_sd": 0.06 if number else 0.0,
                "between_share": 0.26, "is_withheld": False, **LINEAGE,
                "spread_code": "beyond_chance" if number else "within_chance",
            }
            for number, routine in enumerate(ROUTINES)
        ],
    }  # fmt: skip


def _change() -> dict[str, list[Row]]:
    """A routine that moved, one about the same, one too early; and one that is withheld."""
    codes = ("shift_up", "none", "too_few", "too_few")
    told: list[Row] = [
        {
            "school_id": SCHOOL, "routine_id": routine, "measure_name": "responsiveness",
            "baseline_first_on": date(2026, 1, 5), "baseline_code": "definition_change",
            "signal_code": code, "is_last_outside": False, "point_count": 14, "useful_count": 13,
            "longest_run": 9, "run_limit": 7, "crossing_count": 4, "median_value": 0.78,
            "last_value": 0.85, "limit_low": 0.6, "limit_high": 0.95, **LINEAGE,
        }
        for routine, code in zip(ROUTINES, codes, strict=True)
    ]  # fmt: skip
    of_class: Row = {"last_visit_on": date(2026, 5, 12), "trend_code": "up", "visit_count": 20}
    of_class |= {"slope": 0.04, "slope_days": 20}
    rooms = [{**row, **of_class, "class_id": class_id} for class_id in CLASSES for row in told]
    school = [{**row, "is_withheld": row["routine_id"] == "line"} for row in told]
    return {
        "mart_change_by_school": school,
        "mart_change_by_class": rooms,
        "room_change": rooms,
    }


def _observers() -> dict[str, list[Row]]:
    status = dict(zip(KINDS, ("agreed", "look_together", "too_few", "agreed"), strict=True))
    return {
        "mart_agreement": [
            {
                **_HOME, "measure_kind": kind, "visit_count": 36, "double_watched_count": 8,
                "double_watched_rate": 8 / 36, "pair_session_count": 8, "compared_count": 300,
                "agreement_rate": 0.9, "prevalence_rate": 0.8, "kappa": 0.6875,
                "kappa_low": 0.5512, "kappa_high": 0.8123, "status": status[kind], **LINEAGE,
            }
            for kind in KINDS
        ],
        "mart_observers": [
            {
                "school_id": SCHOOL, "measure_kind": "moment", "observer_id": f"obs-{number}",
                "basis_code": "pairs", "reading_code": "alike", "drift_code": "steady",
                "visit_count": 12, "pair_count": 4, "difference": 0.02, "difference_low": -0.04,
                "difference_high": 0.08, "lean": 0.01, "is_withheld": False, **LINEAGE,
            }
            for number in range(1, 5)
        ],
        "mart_dependability": [
            {
                "school_id": SCHOOL, "measure_kind": kind, "planned_visits": visits,
                "basis_code": "school" if kind == "moment" else "prior", "visit_count": 120,
                "prior_source": "an invented study 1999", "prior_status": "read",
                "phi": visits / (visits + 2.0), "visits_needed": 8, **LINEAGE,
            }
            for kind in KINDS
            for visits in range(1, 13)
        ],
        "mart_held_measures": [
            {
                **_HOME, "measure_name": "quality", "measure_kind": "rating",
                "reason_code": "observers_differ", "pair_session_count": 8, "kappa": 0.412,
                **LINEAGE,
            }
        ],
    }  # fmt: skip
