"""Faults of the team's decisions."""

from __future__ import annotations

from .model import Fault, aside, row

DECISIONS = (
    Fault(
        "follow_up_not_later",
        "offer_decisions",
        (
            row(follow_up_on="2025-10-08"),
            row(decision_id="dec-92", decision="close", follow_up_on="2025-10-01"),
        ),
        aside("follow_up_not_later", "follow_up_on", 2, 3),
    ),
    Fault(
        "follow_up_missing",
        "offer_decisions",
        (
            row(follow_up_on=""),
            row(decision_id="dec-92", decision="decline", follow_up_on=""),
            row(decision_id="dec-93", decision="wait", follow_up_on=""),
        ),
        aside("follow_up_missing", "follow_up_on", 2, 4),
    ),
    Fault(
        "decided_after_today",
        "offer_decisions",
        (row(decided_on="2025-10-19", follow_up_on="2025-11-03"),),
        aside("decided_after_today", "decided_on"),
    ),
)
