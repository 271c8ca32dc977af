"""Faults of lessons."""

from __future__ import annotations

from .model import Fault, aside, row, warned

LESSONS = (
    Fault(
        "co_teachers_copies",
        "routine_lessons",
        (
            row(
                class_id="qb-oak",
                setting="hall",
                taught_on="2025-09-04",
                started_at_local="13:32",
                minutes="12",
                taught_by="st-004",
                pupils_present="4",
                entered_at="2025-09-04T15:00:00+00:00",
                entered_by="st-004",
            ),
            row(lesson_id="les-902", taught_by="st-001;st-004"),
        ),
        aside("co_teachers_copies", "lesson_id"),
    ),
    Fault(
        "minutes_as_clock_time",
        "routine_lessons",
        (row(minutes="0:15"), row(lesson_id="les-902")),
        aside("minutes_as_clock_time", "minutes"),
    ),
    Fault(
        "minutes_as_seconds",
        "routine_lessons",
        (row(minutes="900"), row(lesson_id="les-902")),
        aside("minutes_as_seconds", "minutes"),
    ),
    Fault(
        "cancelled_with_minutes",
        "routine_lessons",
        (row(status="cancelled", cancel_reason="trip", steps_done=""),),
        aside("cancelled_with_minutes", "status"),
    ),
    Fault(
        "steps_done_over_steps",
        "routine_lessons",
        (row(steps_done="5"), row(lesson_id="les-902", started_at_local="13:00")),
        aside("steps_done_over_steps", "steps_done"),
    ),
    Fault(
        "present_over_roster",
        "routine_lessons",
        (row(pupils_present="6"),),
        warned("present_over_roster", "pupils_present"),
    ),
    Fault(
        "present_far_over_roster",
        "routine_lessons",
        (row(pupils_present="12"),),
        aside("present_far_over_roster", "pupils_present"),
    ),
    Fault(
        "identical_rows_in_one_minute",
        "routine_lessons",
        tuple(
            row(
                lesson_id=f"les-90{number}",
                taught_on=f"2025-10-0{number}",
                entered_at=f"2025-10-10T15:00:0{number}+00:00",
            )
            for number in (1, 2, 3, 6, 7, 8)
        ),
        warned("identical_rows_in_one_minute", "entered_at", *range(2, 8)),
    ),
    Fault(
        "half_day_class_at_wrong_time",
        "routine_lessons",
        (
            row(class_id="qb-robin", started_at_local="13:30", pupils_present="4"),
            row(lesson_id="les-902", class_id="qb-robin", pupils_present="4"),
        ),
        aside("half_day_class_at_wrong_time", "started_at_local"),
    ),
    Fault(
        "day_total_over_session",
        "routine_lessons",
        tuple(
            row(
                lesson_id=f"les-90{number}",
                class_id="qb-robin",
                started_at_local=f"{number + 7:02d}:15",
                minutes="60",
                pupils_present="4",
            )
            for number in (1, 2, 3, 4)
        ),
        aside("day_total_over_session", "minutes", 2, 3, 4, 5),
    ),
    Fault(
        "entered_late",
        "routine_lessons",
        (row(taught_on="2025-09-03"), row(lesson_id="les-902", taught_on="2025-09-24")),
        warned("entered_late", "entered_at"),
    ),
)
