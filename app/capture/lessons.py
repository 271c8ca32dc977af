"""A planned lesson of a teacher's own class, written down afterwards as one row of its feed.

The class is the one of the visit. Where and for how long it was given was not asked, so minutes,
steps and children stay empty: an empty cell counts as not known, never as nothing.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from datetime import date, datetime
from pathlib import Path
from uuid import UUID, uuid5

from app.access import Refused, Scope
from app.capture.keep import AlreadyKept, CannotKeep, NotRight, keep
from app.capture.pending import Waiting, waiting

FEED = "routine_lessons"
# The same planned lesson always gets the same key: told twice, it is one lesson.
_PLAN = UUID("6d0d4a52-5f0c-4c8e-9f39-0f3a1c6f1b7e")
Slot = Mapping[Hashable, object]


def lesson_key(slot: Slot) -> str:
    """The key of the lesson that fills one slot of the plan."""
    parts = (slot["class_id"], slot["plan_slot_id"], _day(slot["due_on"]))
    return str(uuid5(_PLAN, "/".join(str(part) for part in parts)))


def write_down(
    scope: Scope, workspace: Path, slot: Slot, *, was_given: bool, at: datetime | None
) -> Path:
    """Put one planned lesson into the inbox as given in the room, or as called off.

    `Refused` unless the slot is of the class that the visit is for; what else can stand in the
    way is told by `keep`. `at` is the moment of writing, with its offset; None where the calendar
    stands still, as in the invented school: a moment after its last day would not count there.
    """
    own = scope.reader.class_id
    if own is None or slot["class_id"] != own:
        raise Refused("A teacher writes down lessons of her own class only.")
    record = {
        "lesson_id": lesson_key(slot),
        "class_id": own,
        "routine_id": str(slot["routine_id"]),
        "taught_on": _day(slot["due_on"]),
        "lesson_kind": str(slot["lesson_kind"]),
        "mode": "in_person",
        "status": "delivered" if was_given else "cancelled",
        "entered_at": at.isoformat(timespec="seconds") if at else "",
    }
    known = {"classes": {own}}
    return keep(scope, workspace, FEED, record, known)


def write_all(
    scope: Scope, workspace: Path, slots: Iterable[Slot], at: datetime | None, *, was_given: bool
) -> str:
    """Write several; `kept`, `known` when one stands there otherwise, `stopped` when it cannot."""
    try:
        for slot in slots:
            write_down(scope, workspace, slot, was_given=was_given, at=at)
    except AlreadyKept:
        return "known"
    except (NotRight, CannotKeep):
        return "stopped"
    return "kept"


def written_down(scope: Scope, workspace: Path, built_at: datetime) -> list[Waiting]:
    """Lessons of the own class that were written down after the build, in the order of writing."""
    rows = waiting(scope, workspace, FEED, frozenset(), built_at)
    return [one for one in rows if one.record.get("class_id") == scope.reader.class_id]


def _day(value: object) -> str:
    found = value.date() if isinstance(value, datetime) else value
    if not isinstance(found, date):
        raise TypeError(f"A planned lesson has a day, not {value!r}")
    return found.isoformat()
