"""Small schools worked out by hand: each holds one or two cases that are easy to get wrong.

All share one term, Monday 2025-09-01 to Friday 2025-09-26, and are as of its last day. Rows name
only what matters to the case.
"""

from __future__ import annotations

from typing import Any

AS_OF = "2025-09-26"
Row = dict[str, Any]
Feeds = dict[str, list[Row]]


def day(number: int) -> str:
    """A day of September 2025; the 1st is a Monday."""
    return f"2025-09-{number:02d}"


def _school(school_id: str) -> Feeds:
    return {
        "schools": [{"school_id": school_id, "name": school_id.title()}],
        "terms": [
            {
                "term_id": f"{school_id}-t1",
                "school_id": school_id,
                "kind": "term",
                "title": "Autumn",
                "first_on": day(1),
                "last_on": day(26),
            }
        ],
    }


def _class(school_id: str, class_id: str, grades: str, pattern: str = "full_day") -> Row:
    return {
        "class_id": class_id,
        "school_id": school_id,
        "title": class_id,
        "grades": grades,
        "session_pattern": pattern,
    }


def _pupil(class_id: str, pupil_id: str, begin: int = 1, end: int | None = None) -> Row:
    return {
        "class_id": class_id,
        "person_id": pupil_id,
        "role": "student",
        "begin_on": day(begin),
        "end_on": None if end is None else day(end),
    }


def _plan(plan_id: str, school_id: str, routine_id: str, count: int, **who: str) -> Row:
    return {
        "plan_id": plan_id,
        "plan_version": 1,
        "school_id": school_id,
        "routine_id": routine_id,
        "lesson_kind": "full",
        "window_first_on": day(1),
        "window_last_on": day(12),
        "planned_lessons": count,
        "planned_minutes_each": 5.0,
        **who,
    }


def _lesson(lesson_id: str, class_id: str, routine_id: str, on: int, **rest: Any) -> Row:
    return {
        "lesson_id": lesson_id,
        "class_id": class_id,
        "routine_id": routine_id,
        "taught_on": day(on),
        "minutes": 5.0,
        "lesson_kind": "full",
        "mode": "in_person",
        "pupils_present": 8,
        "status": "delivered",
        "entered_at": f"{day(on)} 15:00:00+01:00",
        **rest,
    }


def definitions() -> Feeds:
    """Two routines; `listen` is reworded on the 8th, from four steps to two."""
    listen = {"routine_id": "listen", "name": "Listen", "setting": "carpet", "kind": "posture"}
    steps = [(1, number) for number in range(1, 5)] + [(2, number) for number in range(1, 3)]
    return {
        "routines": [
            {**listen, "version": 1, "tier": 1, "valid_from_on": "2025-08-01"},
            {**listen, "version": 2, "tier": 1, "valid_from_on": day(8)},
            {
                "routine_id": "walk",
                "version": 1,
                "name": "Walk",
                "setting": "hall",
                "kind": "movement",
                "tier": 2,
                "valid_from_on": "2025-08-01",
            },
        ],
        "routine_steps": [
            {
                "routine_id": "listen",
                "version": version,
                "step_number": number,
                "text": f"step {number}",
                "is_critical": False,
            }
            for version, number in steps
        ],
    }


def dose() -> Feeds:
    """Extra of one routine, little of another, a part, one called off, one nobody wrote down.

    One more lesson was written down after the as-of day and is not known yet.
    """
    walk = [
        _lesson("w1", "n1", "walk", 1),
        _lesson("w2", "n1", "walk", 3, status="partly"),
        _lesson("w3", "n1", "walk", 5, status="cancelled", cancel_reason="trip", minutes=None),
        _lesson("w4", "n1", "walk", 12, entered_at="2025-10-01 09:00:00+01:00"),
    ]
    listen = [_lesson(f"l{on}", "n1", "listen", on) for on in (1, 2, 3, 4, 5, 8, 9, 10, 11, 12)]
    extra = [
        _lesson("l5b", "n1", "listen", 5, entered_at=f"{day(8)} 08:00:00+01:00"),
        _lesson("l9b", "n1", "listen", 9, entered_at=f"{day(9)} 23:30:00+01:00"),
    ]
    return {
        **_school("north"),
        "classes": [_class("north", "n1", "02")],
        "memberships": [_pupil("n1", f"n-p{number}") for number in range(10)],
        "teaching_plan": [
            _plan("pl", "north", "listen", 10, class_id="n1"),
            _plan("pw", "north", "walk", 4, class_id="n1"),
        ],
        "routine_lessons": walk + listen + extra,
    }


def closure() -> Feeds:
    """Ten lessons on ten days, one of them lost to an emergency; and a reworded routine."""
    parts = [
        _lesson("c2", "s1", "listen", 2, status="partly", steps_done=2),
        _lesson("c9", "s1", "listen", 9, status="partly", steps_done=1),
    ]
    return {
        **_school("snow"),
        "classes": [_class("snow", "s1", "01")],
        "school_days": [
            {
                "school_id": "snow",
                "day_on": day(3),
                "day_kind": "closed_emergency",
                "applies_to": "*",
                "label": "Snow",
            }
        ],
        "teaching_plan": [_plan("ps", "snow", "listen", 10, grade="01")],
        "routine_lessons": [_lesson(f"c{on}", "s1", "listen", on) for on in (1, 4, 5, 8)] + parts,
    }


def calendars() -> Feeds:
    """A mixed-grade class whose grades have different days, and an afternoon class."""
    entries = [
        (2, "closed_planned", "02"),
        (4, "closed_planned", "02"),
        (4, "closed_planned", "03"),
        (5, "staff_only", "m1"),
        (8, "half_am", "*"),
    ]
    return {
        **_school("mix"),
        "classes": [_class("mix", "m1", "02;03"), _class("mix", "m2", "KG", "pm")],
        "school_days": [
            {"school_id": "mix", "day_on": day(on), "day_kind": kind, "applies_to": applies}
            for on, kind, applies in entries
        ],
        "teaching_plan": [
            _plan("p2", "mix", "listen", 4, grade="02"),
            _plan("p3", "mix", "listen", 6, grade="03"),
            _plan("p4", "mix", "walk", 6, grade="02"),
            _plan("p5", "mix", "walk", 2, class_id="m1"),
        ],
    }


def turns() -> Feeds:
    """Four children, one of whom leaves as a fifth comes; one is away, one passes."""
    draws = [
        (1, "t-p1", "answered"),
        (1, "t-p2", "passed"),
        (2, "t-p3", "absent"),
        (2, "t-p1", "answered"),
        (10, "t-p5", "helped"),
    ]
    return {
        **_school("turn"),
        "classes": [_class("turn", "t1", "03")],
        "memberships": [
            _pupil("t1", "t-p1"),
            _pupil("t1", "t-p2"),
            _pupil("t1", "t-p3"),
            _pupil("t1", "t-p4", end=10),
            _pupil("t1", "t-p5", begin=10),
        ],
        "participation_draws": [
            {
                "draw_id": f"d{number}",
                "class_id": "t1",
                "drawn_on": day(on),
                "sequence_number": number,
                "cycle_number": 1,
                "method": "cycle",
                "pupil_id": pupil,
                "outcome": outcome,
                "wait_seconds": wait,
            }
            for number, ((on, pupil, outcome), wait) in enumerate(
                zip(draws, (1.0, 2.0, None, 3.0, 6.0), strict=True), start=1
            )
        ],
    }


def supports() -> Feeds:
    """A child in two tiers at once; sessions lost to absence and sessions simply not given."""
    plan = {"pupil_id": "u-p1", "begin_on": day(1), "sessions_per_week": 5, "minutes_each": 10.0}
    check = {"support_id": "u2", "method": "own_record", "sessions_planned": 5}
    return {
        **_school("up"),
        "classes": [_class("up", "u1", "04")],
        "memberships": [_pupil("u1", f"u-p{number}") for number in range(1, 5)],
        "support_plans": [
            {**plan, "support_id": "u2", "tier": 2, "support_kind": "small_group"},
            {**plan, "support_id": "u3", "tier": 3, "support_kind": "individual"},
        ],
        "support_checks": [
            {**check, "check_id": "k1", "checked_on": day(5), "sessions_delivered": 3,
             "not_delivered_reason": "pupil_absent"},
            {**check, "check_id": "k2", "checked_on": day(12), "sessions_delivered": 4,
             "not_delivered_reason": "no_time"},
        ],
    }  # fmt: skip
