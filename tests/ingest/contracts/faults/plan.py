"""Faults of the teaching plan and of the routines it speaks of."""

from __future__ import annotations

from .model import Fault, aside, row, warned_of_file

PLAN = (
    Fault(
        "wording_ends_before_it_begins",
        "routines",
        (row(valid_from_on="2025-10-01", valid_to_on="2025-09-01"),),
        aside("wording_ends_before_it_begins", "valid_to_on"),
    ),
    Fault(
        "two_wordings_at_once",
        "routines",
        (row(routine_id="settle", version="2", kind="posture", valid_from_on="2025-10-01"), row()),
        aside("two_wordings_at_once", "valid_from_on"),
    ),
    Fault(
        "steps_not_three_to_eight",
        "routine_steps",
        (
            row(routine_id="line-up", step_number="1", text="Stand behind the one before you"),
            row(routine_id="line-up", step_number="2", text="Walk"),
        ),
        warned_of_file("steps_not_three_to_eight", "step_number"),
        before={"routines": (row(),)},
    ),
    Fault(
        "plan_for_nobody",
        "teaching_plan",
        (row(class_id=""), row(plan_id="plan-92", grade="03"), row(plan_id="plan-93")),
        aside("plan_for_nobody", "class_id", 2, 3),
    ),
    Fault(
        "plan_of_zero_lessons",
        "teaching_plan",
        (row(planned_lessons="0"),),
        aside("plan_of_zero_lessons", "planned_lessons"),
    ),
    Fault(
        "plan_window_ends_before_it_begins",
        "teaching_plan",
        (row(window_first_on="2025-10-17", window_last_on="2025-10-06"),),
        aside("plan_window_ends_before_it_begins", "window_last_on"),
    ),
    Fault(
        "plan_window_without_school_day",
        "teaching_plan",
        (row(window_first_on="2025-10-11", window_last_on="2025-10-13"), row(plan_id="plan-92")),
        aside("plan_window_without_school_day", "window_first_on"),
    ),
    Fault(
        "two_live_plan_versions",
        "teaching_plan",
        (
            row(
                plan_version="2",
                class_id="qb-willow",
                routine_id="settle",
                lesson_kind="full",
                window_first_on="2025-09-15",
            ),
            row(plan_id="plan-92", class_id="qb-willow", routine_id="settle", plan_version="2"),
        ),
        aside("two_live_plan_versions", "plan_version"),
    ),
    Fault(
        "plan_back_dated",
        "teaching_plan",
        (
            row(
                class_id="qb-willow",
                routine_id="settle",
                window_first_on="2025-09-01",
                window_last_on="2025-09-05",
            ),
        ),
        aside("plan_back_dated", "window_last_on"),
    ),
    Fault(
        "grade_plan_twice_on_mixed_class",
        "teaching_plan",
        (
            row(
                class_id="",
                grade="04",
                routine_id="settle",
                lesson_kind="full",
                window_first_on="2025-09-01",
            ),
        ),
        warned_of_file("grade_plan_twice_on_mixed_class", "grade"),
    ),
)
