"""What was sent and is not in the build yet: to look at, to change, or to take back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from app.capture import may_write, waiting

if TYPE_CHECKING:
    from app.classroom.visits import Asker

FEEDS = ("routine_lessons", "observation_sessions")


def sent_part(visit: Asker) -> list[dict[str, Any]]:
    """Lessons and looks that wait for the next build, each in its last revision.

    A teacher's and a class tablet's are those of the class, the support team's a person's own.
    """
    found: list[dict[str, Any]] = []
    for feed in FEEDS:
        if not may_write(visit.scope, feed):
            continue
        for one in waiting(
            visit.scope, visit.workspace, feed, frozenset(), visit.snapshot.built_at
        ):
            if _is_of(visit, one.record):
                cells = dict(one.record)
                told = {"key": one.key, "revision": one.revision, "feed": feed, "cells": cells}
                found.append({**told, "is_taken": one.is_taken})
    return found


def _is_of(visit: Asker, record: Mapping[str, str]) -> bool:
    if visit.class_id is not None:
        return record.get("class_id") == visit.class_id
    return bool(visit.person_id) and record.get("observer_id") == visit.person_id
