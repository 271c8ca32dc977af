"""What the pack says about lessons: what is planned and not written down, and what is usual when.

Which lesson is likely is worked out on the device, because it depends on the time there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from app.capture import waiting
from app.capture.lessons import FEED, lesson_key
from app.capture.standing import last_revisions
from app.queries import room

if TYPE_CHECKING:
    from app.classroom.visits import Asker

Row = Mapping[Hashable, Any]
# Open lessons of the plan, from the first day they may be given; more are no help in class.
MOST_OPEN = 40
MOST_STARTS = 12
_OPEN = ("not_logged", "not_due")
_LESSON = ("lesson_id", "routine_id", "lesson_kind", "status", "minutes", "started_at_local")


def plan_part(visit: Asker, today: date) -> dict[str, Any]:
    """Open lessons of the plan, usual starts, and what the dashboard would teach next."""
    if visit.class_id is None:
        return {}
    card = room.card(visit.scope)
    pattern = str(card.iloc[0]["session_pattern"]) if len(card) else "full_day"
    return {
        "session_pattern": pattern,
        "unlogged": _open_slots(visit, today),
        "usual": _usual(room.usual_starts(visit.scope).to_dict("records")),
        "teach_next": [
            {"routine_id": str(row["routine_id"]), "reason": str(row["reason_code"])}
            for row in room.teach_next(visit.scope).to_dict("records")
        ],
        "logged": _logged_on(visit, today),
    }


def _open_slots(visit: Asker, today: date) -> list[dict[str, Any]]:
    """Planned lessons that may be given by now, the latest first; waiting ones are not open."""
    slots: Sequence[Row] = room.plan(visit.scope).to_dict("records")
    revisions = last_revisions(visit.workspace, FEED)
    taken = _standing(visit)
    numbers = _numbers(slots)
    found = [
        {
            "key": lesson_key(slot),
            "revision": revisions.get(lesson_key(slot), 0) + 1,
            "routine_id": str(slot["routine_id"]),
            "lesson_kind": str(slot["lesson_kind"]),
            "planned_minutes": float(slot["planned_minutes"]),
            "first_on": _day(slot["window_first_on"]).isoformat(),
            "last_on": _day(slot["window_last_on"]).isoformat(),
            "due_on": _day(slot["due_on"]).isoformat(),
            "number": numbers[str(slot["plan_slot_id"])],
        }
        for slot in slots
        if slot["status"] in _OPEN
        and _day(slot["window_first_on"]) <= today
        and lesson_key(slot) not in taken
    ]
    return sorted(found, key=lambda one: (one["due_on"], one["key"]), reverse=True)[:MOST_OPEN]


def _standing(visit: Asker) -> frozenset[str]:
    """Lessons that wait for the next build and were not taken back."""
    rows = waiting(visit.scope, visit.workspace, FEED, frozenset(), visit.snapshot.built_at)
    return frozenset(one.key for one in rows if one.record.get("voided") != "true")


def _numbers(slots: Sequence[Row]) -> dict[str, int]:
    """Which one of the same kind on the same day a slot is: two alike must not look like one."""
    seen: Counter[tuple[str, str, date]] = Counter()
    found: dict[str, int] = {}
    for slot in sorted(slots, key=lambda one: str(one["plan_slot_id"])):
        what = (str(slot["routine_id"]), str(slot["lesson_kind"]), _day(slot["due_on"]))
        seen[what] += 1
        found[str(slot["plan_slot_id"])] = seen[what]
    return found


def _usual(rows: Sequence[Row]) -> dict[str, list[list[Any]]]:
    """For each routine its most frequent starts with how often, as `[["09:45", 12], ...]`."""
    found: dict[str, list[list[Any]]] = {}
    for row in rows:
        own = found.setdefault(str(row["routine_id"]), [])
        if len(own) < MOST_STARTS:
            own.append([str(row["started_at_local"])[:5], int(row["lesson_count"])])
    return found


def _logged_on(visit: Asker, today: date) -> list[dict[str, Any]]:
    """Lessons of today that the build knows already: shown, so that none is written down twice."""
    rows = room.lessons_on(visit.scope, today).to_dict("records")
    return [{name: _plain(row[name]) for name in _LESSON} for row in rows]


def _plain(value: object) -> str | float | None:
    if isinstance(value, str):
        return value
    return value if isinstance(value, float) and value == value else None


def _day(value: object) -> date:
    found = value.date() if isinstance(value, datetime) else value
    if not isinstance(found, date):
        raise TypeError(f"A planned lesson has days, not {value!r}")
    return found
