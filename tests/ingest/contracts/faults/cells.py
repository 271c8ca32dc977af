"""Faults of single cells, keys and days that every feed may have."""

from __future__ import annotations

from .model import Fault, aside, row


def _lesson(name: str, rule: str, column: str, value: str) -> Fault:
    """A lesson with one bad cell, beside a good one."""
    rows = (row(**{column: value}), row(lesson_id="les-902", started_at_local="13:00"))
    return Fault(name, "routine_lessons", rows, aside(rule, column))


CELLS = (
    _lesson("scientific_notation", "scientific_notation", "lesson_id", "1.23E+11"),
    _lesson("trailing_space_in_key", "space_or_case_in_key", "class_id", "qb-willow "),
    _lesson("case_change_in_key", "space_or_case_in_key", "class_id", "QB-Willow"),
    _lesson("two_digit_year", "two_digit_year", "taught_on", "08/10/25"),
    _lesson("spreadsheet_date", "spreadsheet_date", "taught_on", "45938"),
    _lesson("percent_for_count", "percent_for_count", "pupils_present", "80%"),
    _lesson("formula_in_cell", "formula_in_cell", "minutes", "=5+5"),
    _lesson("unknown_code", "unknown_code", "mode", "in_persson"),
    _lesson("future_date", "future_date", "taught_on", "2025-11-08"),
    _lesson("closed_day", "closed_day", "taught_on", "2025-10-13"),
    _lesson("missing_value", "missing_value", "routine_id", ""),
    _lesson("not_a_number", "not_a_number", "minutes", "ten"),
    _lesson("not_whole", "not_whole", "steps_done", "3.5"),
    _lesson("not_a_date", "not_a_date", "taught_on", "2025-02-30"),
    _lesson("not_a_time", "not_a_time", "started_at_local", "9 o'clock"),
    _lesson("not_a_moment", "not_a_moment", "entered_at", "2025-10-08T14:10:00"),
    _lesson("not_true_false", "not_true_false", "is_substitute", "maybe"),
    _lesson("too_small", "too_small", "minutes", "0.1"),
    _lesson("too_large", "too_large", "steps_done", "9"),
    _lesson("too_long", "too_long", "note", "n" * 301),
    _lesson("unknown_reference", "unknown_reference", "routine_id", "hop-and-skip"),
    Fault(
        "closed_day_of_one_grade",
        "routine_lessons",
        (
            row(taught_on="2025-09-12", entered_at="2025-09-12T14:10:00+00:00"),
            row(
                lesson_id="les-902",
                class_id="qb-robin",
                taught_on="2025-09-12",
                pupils_present="4",
                entered_at="2025-09-12T14:10:00+00:00",
            ),
        ),
        aside("closed_day", "taught_on", 3),
    ),
    Fault(
        "leading_zero_lost",
        "classes",
        (row(grades="5"), row(class_id="qb-elm", title="Elm", grades="K;01")),
        aside("leading_zero_lost", "grades"),
    ),
    Fault(
        "unknown_code_in_list",
        "classes",
        (row(grades="05;grade 4"),),
        aside("unknown_code", "grades"),
    ),
    Fault(
        "bad_pattern",
        "observation_rows",
        (row(target_slot="by the window"[:4]), row(row_number="91", target_slot="12")),
        aside("bad_pattern", "target_slot"),
    ),
    Fault(
        "duplicate_key",
        "routine_lessons",
        (row(), row(minutes="12"), row(lesson_id="les-902", started_at_local="13:00")),
        aside("duplicate_key", "lesson_id", 2, 3),
    ),
    Fault(
        "key_reused",
        "participation_draws",
        (row(), row(draw_id="drw-9002")),
        aside("key_reused", "draw_id", 3),
    ),
)
