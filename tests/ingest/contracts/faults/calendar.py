"""Faults of terms, school days and closures."""

from __future__ import annotations

from datetime import date, timedelta

from .model import Fault, aside, row, warned, warned_of_file

_AUGUST = date(2026, 8, 3)
# 46 weeks of a later school year without a single day off: 230 days of instruction.
_NO_HOLIDAYS = tuple(
    row(day_on=_AUGUST + timedelta(days=7 * week + weekday))
    for week in range(46)
    for weekday in range(5)
)

CALENDAR = (
    Fault(
        "term_ends_before_it_begins",
        "terms",
        (row(first_on="2025-10-17", last_on="2025-09-01"),),
        aside("term_ends_before_it_begins", "last_on"),
    ),
    Fault(
        "terms_overlap",
        "terms",
        (
            row(last_on="2025-10-03"),
            row(term_id="qb-2026-autumn-b", first_on="2025-09-29", last_on="2025-12-19"),
        ),
        aside("terms_overlap", "first_on", 3),
    ),
    Fault(
        "terms_with_gap",
        "terms",
        (
            row(last_on="2025-09-19"),
            row(term_id="qb-2026-autumn-b", first_on="2025-10-06", last_on="2025-12-19"),
        ),
        warned("terms_with_gap", "first_on", 3),
    ),
    Fault(
        "term_outside_parent",
        "terms",
        (row(first_on="2025-08-25"),),
        aside("term_outside_parent", "first_on"),
    ),
    Fault(
        "term_of_unknown_parent",
        "terms",
        (row(parent_term_id="qb-1999"),),
        aside("unknown_reference", "parent_term_id"),
    ),
    Fault(
        "weekend_marked_instruction",
        "school_days",
        (row(day_on="2025-10-18"), row()),
        aside("weekend_marked_instruction", "day_on"),
    ),
    Fault(
        "applies_to_nobody",
        "school_days",
        (row(applies_to="qb-hazel"), row(applies_to="02")),
        aside("applies_to_nobody", "applies_to"),
    ),
    Fault(
        "closure_after_lessons",
        "school_days",
        (row(day_on="2025-09-02", day_kind="closed_emergency", label="Burst pipe"),),
        warned("closure_after_lessons", "day_on"),
    ),
    Fault(
        "instruction_days_out_of_range",
        "school_days",
        (row(day_on="2026-06-18"),),
        warned_of_file("instruction_days_out_of_range", "day_kind"),
    ),
    Fault(
        "too_many_instruction_days",
        "school_days",
        _NO_HOLIDAYS,
        warned_of_file("instruction_days_out_of_range", "day_kind"),
    ),
)
