"""Faults of supports and of practice at home."""

from __future__ import annotations

from .model import Fault, aside, refused, row, warned

SUPPORTS = (
    Fault(
        "support_ends_before_it_begins",
        "support_plans",
        (row(end_on="2025-10-01"),),
        aside("support_ends_before_it_begins", "end_on"),
    ),
    Fault(
        "pupil_in_two_tiers",
        "support_plans",
        (row(pupil_id="pu-0022"), row(support_id="sup-92")),
        warned("pupil_in_two_tiers", "tier"),
    ),
    Fault(
        "free_text_in_supports",
        "support_plans",
        (row(what_happened="Said something"),),
        refused("unknown_column", "what_happened", 1),
    ),
    Fault(
        "delivered_over_planned",
        "support_checks",
        (row(sessions_delivered="3"), row(check_id="chk-92", checked_on="2025-10-15")),
        aside("delivered_over_planned", "sessions_delivered"),
    ),
    Fault(
        "support_steps_over_applicable",
        "support_checks",
        (row(steps_done="7"),),
        aside("support_steps_over_applicable", "steps_done"),
    ),
    Fault(
        "check_outside_plan",
        "support_checks",
        (row(support_id="sup-01", checked_on="2025-10-15"), row(check_id="chk-92")),
        aside("check_outside_plan", "checked_on"),
    ),
    Fault(
        "reported_over_asked",
        "family_practice",
        (row(families_reported="5"),),
        aside("reported_over_asked", "families_reported"),
    ),
    Fault(
        "week_does_not_begin_on_monday",
        "family_practice",
        (row(week_first_on="2025-10-01"),),
        aside("week_does_not_begin_on_monday", "week_first_on"),
    ),
)
