"""Half a page for home: one routine in plain words, twice on a sheet to cut."""

from __future__ import annotations

from typing import Any

from app.access import Refused, Scope, Snapshot
from app.paper import press, steps
from app.paper.facts import Row
from app.paper.pieces import Piece
from app.paper.whose import Whose, whose
from app.text import room_paper

_TEMPLATE = "family"
SIZES = (11.5, 10.5, 9.5, 8.6, 7.8, 7.0)


def printed(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> bytes:
    """The half pages of one routine or of all as a tagged PDF, a routine a sheet."""
    told = contents(scope, snapshot, school_id, routine)
    return press.pressed(_TEMPLATE, told, snapshot.built_at)


def contents(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> Piece:
    """Each half page in the largest type that keeps it on its sheet; `Refused` without one."""
    found = whose(scope, snapshot, school_id, routine)
    if not found.routines:
        raise Refused("No routine has been defined yet.")
    return _told(found, [_fitted(found, one) for one in found.routines])


def _told(found: Whose, halves: list[dict[str, Any]]) -> Piece:
    title = room_paper.HOME if len(halves) > 1 else f"{room_paper.HOME}: {halves[0]['name']}"
    return {
        **found.frame(title, room_paper.CUT),
        "halves": halves,
        "home": room_paper.HOME,
        "steps_title": room_paper.HOME_STEPS,
        "minutes_title": room_paper.HOME_PRACTICE,
        "care_title": room_paper.HOME_CARE_TITLE,
        "care": list(room_paper.HOME_CARE),
        "slip": room_paper.HOME_SLIP_LINE,
        "slip_note": room_paper.HOME_SLIP_NOTE,
    }


def _fitted(found: Whose, routine: Row) -> dict[str, Any]:
    half = {**steps.told(found, routine), "minutes": list(room_paper.practice(routine["kind"]))}
    sized = steps.fitted(_TEMPLATE, SIZES, lambda one: _told(found, [one]), half)
    if sized is None:
        raise press.TooLong(f"The half page of “{half['name']}” does not fit its sheet.")
    return sized
