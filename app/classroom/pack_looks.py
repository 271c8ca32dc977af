"""What the pack says about looking round: whether this person may, where, and what is usual."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.queries import room, school, support

if TYPE_CHECKING:
    from app.classroom.visits import Asker

_NO_PERSON = (
    "A look round has to say who looked, by the key in the people file, and your account does not "
    "say it yet. Please ask the person who looks after Roundelay in your school to add it: "
    "roundelay account person NAME KEY. Then sign in again."
)
_NO_SIGN_IN = (
    "A look round has to say who looked. Without a sign-in nobody can tell; with one, your account "
    "says who you are."
)


def looks_part(visit: Asker, school_id: str) -> dict[str, Any]:
    """Whether this visit may look round, or why not; settings, activities and sizes of classes."""
    can_look = bool(visit.person_id)
    why_not = _NO_PERSON if visit.source else _NO_SIGN_IN
    routines = school.routines(visit.scope, school_id)
    settings = sorted({one for one in routines["setting"] if isinstance(one, str) and one})
    return {
        "can_look": can_look,
        "why_no_look": None if can_look else why_not,
        "settings": settings,
        "activities": _activities(visit, school_id),
        "sizes": _sizes(visit, school_id),
    }


def _activities(visit: Asker, school_id: str) -> list[str]:
    """The school's own words for what a class was doing, from looks of this reader's classes."""
    if visit.class_id is None:
        rows = support.activities(visit.scope, school_id)
    else:
        rows = room.activities(visit.scope)
    return [str(one) for one in rows["activity"]]


def _sizes(visit: Asker, school_id: str) -> dict[str, int]:
    """How many children a class has, for the support team: seats to go round, no names."""
    if visit.class_id is not None:
        return {}
    rows = support.classes(visit.scope, school_id).to_dict("records")
    return {
        str(row["class_id"]): int(row["pupil_count"])
        for row in rows
        if row["pupil_count"] == row["pupil_count"]
    }
