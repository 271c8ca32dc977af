"""The three tiers: what was given of what was planned in each."""

from __future__ import annotations

import pandas as pd

from app.text.places import linked
from app.text.readings import Reading, pick
from app.text.words import TIER, withheld


def given(school: pd.DataFrame, tiers: pd.DataFrame) -> list[tuple[str, Reading]]:
    """Lessons for all pupils; support sessions for groups and for individual children."""
    return [
        (TIER["1"], pick(school, measure_name="dose", routine_id="*")),
        *(
            (TIER[code], pick(tiers, measure_name="support_delivery", tier_code=code))
            for code in ("2", "3")
        ),
    ]


def not_shown(rows: list[tuple[str, Reading]]) -> str:
    """Which tiers carry no number, and why."""
    said = [
        f"{name}: {linked(withheld(got), got.place) if got.is_withheld else 'nothing planned yet'}"
        for name, got in rows
        if not got.is_known
    ]
    return f"{'. '.join(said)}." if said else ""
