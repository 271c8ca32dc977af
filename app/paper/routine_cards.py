"""Routine cards: one a page, as large as its words allow."""

from __future__ import annotations

from typing import Any

from app.access import Refused, Scope, Snapshot
from app.paper import press, steps
from app.paper.facts import Row
from app.paper.pieces import Piece
from app.paper.whose import Whose, whose
from app.text import room_paper

_TEMPLATE = "routine_cards"
# Points of a step's text, from roomy to tight.
SIZES = (30, 26, 22, 18, 15, 12)


def printed(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> bytes:
    """The cards of one routine or of all as a tagged PDF."""
    told = contents(scope, snapshot, school_id, routine)
    return press.pressed(_TEMPLATE, told, snapshot.built_at)


def contents(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> Piece:
    """Every card in the largest size that keeps it on its page; `Refused` without a routine."""
    found = whose(scope, snapshot, school_id, routine)
    if not found.routines:
        raise Refused("No routine has been defined yet.")
    return _told(found, [_fitted(found, one) for one in found.routines])


def _told(found: Whose, routines: list[dict[str, Any]]) -> Piece:
    title = str(routines[0]["name"]) if len(routines) == 1 else room_paper.ROUTINE_CARDS
    return {**found.frame(title, room_paper.ALWAYS), "routines": routines}


def _fitted(found: Whose, routine: Row) -> dict[str, Any]:
    card = steps.told(found, routine)
    sized = steps.fitted(_TEMPLATE, SIZES, lambda one: _told(found, [one]), card)
    if sized is None:
        raise press.TooLong(f"The card of “{card['name']}” does not fit one page.")
    return sized
