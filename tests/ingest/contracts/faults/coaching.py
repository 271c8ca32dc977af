"""Faults of coaching."""

from __future__ import annotations

from .model import Fault, aside, row, warned

COACHING = (
    Fault(
        "phases_reversed",
        "coaching_events",
        (
            row(event_on="2025-10-06", event_kind="model", phase="coaching"),
            row(event_id="cev-92", event_kind="observe"),
        ),
        aside("phases_reversed", "phase", 3),
    ),
    Fault(
        "chosen_start_not_an_option",
        "coaching_events",
        (row(start_options="2025-10-20;2025-10-27", chosen_start_on="2025-10-21"),),
        aside("chosen_start_not_an_option", "chosen_start_on"),
    ),
    Fault(
        "start_chosen_after_data",
        "coaching_events",
        (row(start_options="2025-10-06;2025-10-14", chosen_start_on="2025-10-14"),),
        aside("start_chosen_after_data", "chosen_start_on"),
    ),
    Fault(
        "overlapping_cycles",
        "coaching_events",
        (row(class_id="qb-willow"), row(event_id="cev-92", cycle_id="cyc-92")),
        warned("overlapping_cycles", "cycle_id"),
    ),
)
