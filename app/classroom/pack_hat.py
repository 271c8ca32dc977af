"""What the current build says about the turns of a class: who may be drawn, who still waits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd

from app.queries import room

if TYPE_CHECKING:
    from app.access import Scope


def hat_part(scope: Scope) -> dict[str, Any]:
    """For the pack: the children of a class in the order of the queue."""
    rows = room.turns(scope)
    return {"queue": [str(one) for one in rows[rows["is_eligible"]]["pupil_id"]]}


def waiting(scope: Scope) -> tuple[int, dict[str, bool]]:
    """The round that the build knows to be running (0: none) and who still waits in it."""
    card = room.card(scope)
    rows = room.turns(scope)
    rows = rows[rows["is_eligible"]]
    running = card.iloc[0]["cycle_number"] if len(card) else None
    if running is None or pd.isna(running):
        return 0, {str(key): True for key in rows["pupil_id"]}
    still = rows["is_waiting"].astype(bool)
    return int(running), dict(zip(rows["pupil_id"].astype(str), still, strict=True))
