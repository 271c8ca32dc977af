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

    Lessons are those of the class, looks those of the person.
    """
    found: list[dict[str, Any]] = []
    for feed in FEEDS:
        if not may_write(visit.scope, feed):
            continue
        for one in waiting(
            visit.scope, visit.workspace, feed, frozenset(), visit.snapshot.built_at
        ):
            if _is_of(visit, feed, one.record):
                cells = dict(one.record)
                told = {"key": one.key, "revision": one.revision, "feed": feed, "cells": cells}
                found.append({**told, "is_taken": one.is_taken})
    return found


def _is_of(visit: Asker, feed: str, record: Mapping[str, str]) -> bool:
    if visit.class_id not in (None, record.get("class_id")):
        return False
    if feed == "routine_lessons":
        return True
    # A look is its observer's alone, whoever teaches the class.
    return bool(visit.person_id) and record.get("observer_id") == visit.person_id
