"""Tally sheets: turns, lessons and a look round, with the columns of their feeds, to be typed in.

No sheet has a key of its own printed on it: copies of a sheet would then pass for one another. A
key is made of what was written.
"""

from __future__ import annotations

from collections.abc import Sequence

from app.access import Scope, Snapshot
from app.capture.columns import Column, Sheet, sheet_of
from app.paper import press
from app.paper.facts import rows_of
from app.paper.pieces import Piece, table
from app.paper.whose import Whose, whose
from app.queries import room
from app.text import room_paper
from app.text.numbers import NBSP
from app.text.room_words import child_name

_TEMPLATE = "tally"
# What a sheet does not ask for: the keys, the class, and what the office knows or learns later.
LEFT = {
    "participation_draws": ("draw_id", "class_id", "entered_at"),
    "routine_lessons": ("lesson_id", "class_id", "entered_at", "entered_by"),
    "observation_sessions": ("observation_id", "class_id", "feedback_at"),
    "observation_rows": ("observation_id",),
}
_ROWS = {"participation_draws": 23, "routine_lessons": 20}
_LOOK_ROWS = 18


def printed(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> bytes:
    """The sheets as a tagged PDF; keys of children only for the teacher of the class."""
    told = contents(scope, snapshot, school_id, routine)
    return press.pressed(_TEMPLATE, told, snapshot.built_at)


def contents(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> Piece:
    """A sheet for turns, one for lessons, one for a look, and the keys that they need."""
    found = whose(scope, snapshot, school_id, routine)
    class_id = "" if found.card is None else str(found.card["class_id"])
    return {
        **found.frame(room_paper.TALLY, room_paper.TALLY_FOOT),
        "sheets": [_sheet(feed, class_id) for feed in _ROWS],
        "look": _look(class_id),
        "keys": _keys(found),
        "keys_title": room_paper.TALLY_KEYS,
        "keys_note": room_paper.TALLY_KEYS_NOTE,
    }


def _sheet(feed: str, class_id: str) -> Piece:
    found = sheet_of(feed, LEFT[feed])
    return {
        "title": found.title,
        "columns": [_column(one) for one in found.columns],
        "rows": _ROWS[feed],
        "codes": _codes(found.columns),
        "office": _office(found, class_id),
    }


def _look(class_id: str) -> Piece:
    visit = sheet_of("observation_sessions", LEFT["observation_sessions"])
    rows = sheet_of("observation_rows", LEFT["observation_rows"])
    return {
        "title": visit.title,
        "blanks": [_column(one) for one in visit.columns],
        "columns": [_column(one) for one in rows.columns],
        "rows": _LOOK_ROWS,
        "rows_title": rows.title,
        "codes": _codes(rows.columns),
        "office": _office(visit, class_id),
    }


def _column(column: Column) -> Piece:
    return {
        "name": column.name,
        "title": f"{column.title}{NBSP + '*' if column.is_needed else ''}",
        "width": column.width,
        "codes": " · ".join(column.codes),
    }


def _codes(columns: Sequence[Column]) -> list[Piece]:
    return [
        {"title": one.title, "text": one.description, "codes": ", ".join(one.codes)}
        for one in columns
        if one.codes
    ]


def _office(found: Sheet, class_id: str) -> str:
    names = [one.name for one in found.left]
    return room_paper.left_to_the_office(found.feed, found.title, names, class_id)


def _keys(found: Whose) -> Piece:
    routines = [[str(one["name"]), str(one["routine_id"])] for one in found.routines]
    children = [] if found.card is None else rows_of(room.turns(found.scope))
    named = sorted((child_name(row), str(row["pupil_id"])) for row in children)
    half = -(-len(named) // 2)
    return {
        "routines": table(["Routine", "routine_id"], routines) if routines else None,
        "children": [
            table(["Child", "pupil_id"], part) for part in (named[:half], named[half:]) if part
        ],
    }
