"""What the pack says about practice at home: what was written down for the last weeks, and keys."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from app.capture.families import Week, week_of
from app.queries import school

if TYPE_CHECKING:
    from app.classroom.visits import Asker

# Weeks from the present one: a tablet may be without a net when the next one begins.
_WEEKS = (1, 0, -1, -2)


def family_part(visit: Asker, school_id: str, day: date) -> dict[str, Any]:
    """For each week and routine the key of its record and its newest numbers, if any."""
    if visit.class_id is None:
        return {}
    monday = day - timedelta(days=day.weekday())
    routines = [str(one) for one in school.routines(visit.scope, school_id)["routine_id"]]
    mondays = [monday + timedelta(weeks=number) for number in _WEEKS]
    return {
        "families": [
            _told(first_on, routine, week_of(visit.workspace, visit.class_id, routine, first_on))
            for first_on in mondays
            for routine in routines
        ]
    }


def _told(first_on: date, routine_id: str, week: Week) -> dict[str, Any]:
    told = {
        "week_first_on": first_on.isoformat(),
        "routine_id": routine_id,
        "key": week.key,
        "revision": week.revision,
    }
    return told | ({"cells": dict(week.record)} if week.revision else {})
