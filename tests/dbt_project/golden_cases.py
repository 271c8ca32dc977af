"""Golden cases that turn figures round when they are handled wrongly, a small school for each.

The working stands in the test of the case: `test_golden_<case>.py`.
"""

from __future__ import annotations

from tests.dbt_project.golden import Feeds, Row, _class, _lesson, _plan, _pupil, _school, day
from tests.dbt_project.golden_visits import _steps, _visit


def _two_terms(school_id: str) -> list[Row]:
    first = {"school_id": school_id, "kind": "term"}
    return [
        {**first, "term_id": f"{school_id}-t1", "title": "One", "first_on": day(1),
         "last_on": day(12)},
        {**first, "term_id": f"{school_id}-t2", "title": "Two", "first_on": day(15),
         "last_on": day(26)},
    ]  # fmt: skip


def simpson() -> Feeds:
    """Two classes, both better in the second term; the weaker one is then visited more often."""
    visits = [
        *((f"s1-{on}", "strong", on, 3) for on in (1, 2, 3, 4)),
        ("s2", "weak", 5, 1),
        ("s3", "strong", 15, 4),
        *((f"s4-{on}", "weak", on, 2) for on in (16, 17, 18, 19)),
    ]
    return {
        **_school("simpson"),
        "terms": _two_terms("simpson"),
        "classes": [_class("simpson", "strong", "01"), _class("simpson", "weak", "01")],
        "observation_sessions": [_visit(key, of, on) for key, of, on, _ in visits],
        "observation_rows": [row for key, _, _, n in visits for row in _steps(key, n, 4 - n)],
    }


def mixed_grades() -> Feeds:
    """A class of two grades beside a class of one of them, each with its visits and lessons."""
    return {
        **_school("blend"),
        "classes": [_class("blend", "both", "02;03"), _class("blend", "older", "03")],
        "memberships": [_pupil("both", "b-p1"), _pupil("older", "b-p2")],
        "teaching_plan": [
            _plan("b2", "blend", "listen", 4, grade="02"),
            _plan("b3", "blend", "listen", 6, grade="03"),
        ],
        "routine_lessons": [
            *(_lesson(f"b{on}", "both", "listen", on) for on in (1, 2, 3)),
            *(_lesson(f"o{on}", "older", "listen", on) for on in (1, 2, 3, 4, 5, 8)),
        ],
        "observation_sessions": [_visit("b-v1", "both", 3), _visit("b-v2", "older", 3)],
        "observation_rows": [*_steps("b-v1", 1, 1), *_steps("b-v2", 2, 0)],
    }


def mover() -> Feeds:
    """A child who changes from one class to the other on the 8th."""
    return {
        **_school("move"),
        "classes": [_class("move", "left", "01"), _class("move", "right", "01")],
        "memberships": [
            *(_pupil("left", f"l-p{number}") for number in (1, 2, 3)),
            *(_pupil("right", f"r-p{number}") for number in (1, 2)),
            _pupil("left", "m-p", end=8),
            _pupil("right", "m-p", begin=8),
        ],
        "teaching_plan": [
            _plan("ml", "move", "listen", 2, class_id="left"),
            _plan("mr", "move", "listen", 2, class_id="right"),
        ],
        "routine_lessons": [
            _lesson("ml1", "left", "listen", 3, pupils_present=3),
            _lesson("ml2", "left", "listen", 10, pupils_present=3),
            _lesson("mr1", "right", "listen", 3, pupils_present=2),
            _lesson("mr2", "right", "listen", 10, pupils_present=2),
        ],
        "support_plans": [
            {"support_id": "m-s", "pupil_id": "m-p", "tier": 2, "support_kind": "small_group",
             "begin_on": day(1), "sessions_per_week": 5, "minutes_each": 10.0},
        ],
        "support_checks": [
            {"check_id": f"m-k{on}", "support_id": "m-s", "checked_on": day(on),
             "method": "own_record", "sessions_planned": 5, "sessions_delivered": given}
            for on, given in ((5, 5), (12, 2))
        ],
    }  # fmt: skip


def half_days() -> Feeds:
    """A morning and an afternoon class; on the 8th the school is open in the morning only."""
    return {
        **_school("half"),
        "classes": [_class("half", "h-am", "KG", "am"), _class("half", "h-pm", "KG", "pm")],
        "school_days": [
            {"school_id": "half", "day_on": day(8), "day_kind": "half_am", "applies_to": "*"}
        ],
        "teaching_plan": [
            _plan("ha", "half", "listen", 10, class_id="h-am"),
            _plan("hp", "half", "listen", 10, class_id="h-pm"),
        ],
        "routine_lessons": [
            _lesson(f"{of}{on}", of, "listen", on)
            for of, days in (("h-am", (1, 2, 3, 4, 5, 8, 9, 10, 11)), ("h-pm", (1, 2, 3)))
            for on in days
        ],
    }


def closures() -> Feeds:
    """The same day lost by two classes, one to an emergency, one by the calendar."""
    kinds = (("storm", "closed_emergency"), ("trip", "closed_planned"))
    return {
        **_school("shut"),
        "classes": [_class("shut", of, "02") for of, _ in kinds],
        "school_days": [
            {"school_id": "shut", "day_on": day(3), "day_kind": kind, "applies_to": of}
            for of, kind in kinds
        ],
        "teaching_plan": [_plan(f"c-{of}", "shut", "listen", 10, class_id=of) for of, _ in kinds],
        "routine_lessons": [
            _lesson(f"{of}{on}", of, "listen", on)
            for of, _ in kinds
            for on in (1, 2, 4, 5, 8, 9, 10, 11, 12)
        ],
    }


def back_filled() -> Feeds:
    """Lessons written down the same day, the next, over a weekend, and after twelve school days."""
    entered = {1: 1, 2: 3, 5: 6, 4: 22}
    return {
        **_school("late"),
        "classes": [_class("late", "ink", "01")],
        "routine_lessons": [
            _lesson(f"k{on}", "ink", "listen", on, entered_at=f"{day(when)} 09:00:00+01:00")
            for on, when in entered.items()
        ],
    }


def substitute() -> Feeds:
    """Two visits to the teacher, one to her substitute, and a lesson that the substitute gave."""
    return {
        **_school("cover"),
        "classes": [_class("cover", "own", "01")],
        "teaching_plan": [_plan("cv", "cover", "listen", 2, class_id="own")],
        "routine_lessons": [
            _lesson("cv1", "own", "listen", 3),
            _lesson("cv2", "own", "listen", 8, is_substitute=True),
        ],
        "observation_sessions": [
            _visit("cv-v1", "own", 3),
            _visit("cv-v2", "own", 4),
            _visit("cv-v3", "own", 8, taught_by_role="substitute"),
        ],
        "observation_rows": [
            *_steps("cv-v1", 2, 0),
            *_steps("cv-v2", 1, 1),
            *_steps("cv-v3", 0, 2),
        ],
    }


def new_version() -> Feeds:
    """Parts of lessons either side of the 8th, when `listen` goes from four steps to two."""
    return {
        **_school("word"),
        "classes": [_class("word", "said", "01")],
        "teaching_plan": [_plan("wd", "word", "listen", 2, class_id="said")],
        "routine_lessons": [
            _lesson("wd1", "said", "listen", 5, status="partly", steps_done=2),
            _lesson("wd2", "said", "listen", 8, status="partly", steps_done=2),
        ],
        "observation_sessions": [
            _visit("wd-v1", "said", 5, routine_version=1),
            _visit("wd-v2", "said", 8, routine_version=2),
        ],
        "observation_rows": [*_steps("wd-v1", 1, 3), *_steps("wd-v2", 2, 0)],
    }
