"""Takes the records of a device: each is answered by itself, so that one bad one holds up none.

The class and the person come from the visit, never from what was sent.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from app.access import Refused
from app.capture import (
    AlreadyKept,
    CannotKeep,
    Fault,
    NotRight,
    Sent,
    form_of,
    land,
    may_write,
)
from app.classroom.bodies import NotTaken
from app.queries import room, school, support
from app.text.in_class import reason

if TYPE_CHECKING:
    from app.classroom.visits import Asker

Answer = dict[str, Any]
MOST_RECORDS = 50
_MOST_ROWS = 1000
# Which column says the key of a record, where one does; an envelope has a key of its own.
_KEYS = {
    "routine_lessons": "lesson_id",
    "participation_draws": "draw_id",
    "observation_sessions": "observation_id",
    "family_practice": "",
}
_BY = {"routine_lessons": "entered_by", "observation_sessions": "observer_id"}


class _NotRead(Exception):  # noqa: N818 - an answer, not a mistake
    """What was sent is no record of this visit; `rule` says why."""

    def __init__(self, rule: str) -> None:
        super().__init__(rule)
        self.rule = rule


def take(visit: Asker, body: Mapping[str, Any]) -> dict[str, Any]:
    """Answer every record of a body, in its order; `NotTaken` when it is none of ours."""
    given = body.get("records")
    if not isinstance(given, list) or not all(isinstance(one, dict) for one in given):
        raise NotTaken(422, "This cannot be read.")
    if len(given) > MOST_RECORDS:
        raise NotTaken(413, "This is more than can be sent at once.")
    known = _known(visit)
    return {"answers": [_one(visit, one, known) for one in given]}


def _one(visit: Asker, given: Mapping[str, Any], known: Mapping[str, frozenset[str]]) -> Answer:
    try:
        sent = _sent(visit, given)
        is_new = land(visit.scope, visit.workspace, sent, known)
    except _NotRead as problem:
        return _answer(given, "refused", [_reason("", Fault("", problem.rule))])
    except Refused:
        return _answer(given, "refused", [_reason("", Fault("", "not_yours"))])
    except AlreadyKept:
        return _answer(given, "refused", [_reason("", Fault("", "changed_elsewhere"))])
    except NotRight as problem:
        feed = str(given.get("feed"))
        return _answer(given, "refused", [_reason(feed, one) for one in problem.faults])
    except CannotKeep:
        return _answer(given, "stopped", [_reason("", Fault("", "no_room"))])
    return _answer(given, "kept" if is_new else "known", [])


def _answer(given: Mapping[str, Any], outcome: str, reasons: list[dict[str, str]]) -> Answer:
    own = {"key": given.get("key"), "revision": given.get("revision")}
    return {**own, "outcome": outcome, "reasons": reasons}


def _reason(feed: str, fault: Fault) -> dict[str, str]:
    title = fault.field
    with suppress(KeyError):
        title = form_of(feed).blank(fault.field).title
    words = reason(fault.rule, title, fault.bound)
    return {"field": fault.field, "rule": fault.rule, "words": words}


def _sent(visit: Asker, given: Mapping[str, Any]) -> Sent:
    """What was sent, as a record of this visit; `_NotRead` when it is none."""
    feed, key, revision = given.get("feed"), given.get("key"), given.get("revision")
    if not isinstance(feed, str) or feed not in _KEYS or not may_write(visit.scope, feed):
        raise _NotRead("not_yours")
    if not isinstance(key, str) or type(revision) is not int:
        raise _NotRead("not_a_record")
    cells = _cells(given.get("cells"))
    rows = given.get("rows")
    if rows is not None and (not isinstance(rows, list) or len(rows) > _MOST_ROWS):
        raise _NotRead("not_a_record")
    own = _KEYS[feed]
    if own:
        cells[own] = key
    _fill(visit, feed, cells, is_own=given.get("by") == visit.self_key)
    return Sent(feed, key, revision, cells, None if rows is None else tuple(map(_cells, rows)))


def _cells(given: object) -> dict[str, str]:
    if not isinstance(given, dict):
        raise _NotRead("not_a_record")
    if not all(isinstance(one, str) for pair in given.items() for one in pair):
        raise _NotRead("not_a_record")
    return dict(given)


def _fill(visit: Asker, feed: str, cells: dict[str, str], *, is_own: bool) -> None:
    """The class and the person of the visit, whatever was sent in their places.

    A record that a colleague had left on the device keeps the place of the person empty.
    """
    if visit.class_id is not None:
        cells["class_id"] = visit.class_id
    by = _BY.get(feed)
    if by is not None:
        cells[by] = visit.person_id if is_own else ""
    if feed == "observation_sessions" and not cells[by or ""]:
        raise _NotRead("no_person" if is_own else "not_yours")


def _known(visit: Asker) -> Mapping[str, frozenset[str]]:
    """The keys that a record may name: of the class of the visit, or of all for the team."""
    if visit.class_id is not None:
        schools = [str(one) for one in room.card(visit.scope)["school_id"]]
        classes = frozenset({visit.class_id})
    else:
        schools = [str(one) for one in school.schools(visit.scope)["school_id"]]
        classes = frozenset(
            str(one) for name in schools for one in support.classes(visit.scope, name)["class_id"]
        )
    routines = frozenset(
        str(one) for name in schools for one in school.routines(visit.scope, name)["routine_id"]
    )
    return {"classes": classes, "routines": routines}
