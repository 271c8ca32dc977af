"""What paper for the room begins from: the class of the reader, if any, and the chosen routines."""

from __future__ import annotations

from dataclasses import dataclass

from app.access import Refused, Scope, Snapshot
from app.paper.facts import Row, one_row, rows_of
from app.paper.pieces import Piece
from app.queries import room
from app.queries import school as ask
from app.text import brief

_NAMES = ("routine_id", "name")


@dataclass(frozen=True)
class Whose:
    """One school, the reader's own class (None for a reader without one), and routines."""

    scope: Scope
    snapshot: Snapshot
    school: Row
    card: Row | None
    routines: tuple[Row, ...]

    @property
    def school_id(self) -> str:
        """The key of the school."""
        return str(self.school["school_id"])

    @property
    def class_title(self) -> str:
        """What the class is called; empty for a reader without one."""
        return "" if self.card is None else str(self.card["title"])

    def frame(self, title: str, foot: str) -> Piece:
        """What every sheet says of itself."""
        whose = self.class_title or str(self.school["school_name"])
        return {
            "title": f"{title} · {whose}",
            "heading": title,
            "whose": whose,
            "mark": brief.INVENTED if self.snapshot.is_demo else "",
            "foot": foot,
        }


def whose(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> Whose:
    """The reader's class and one routine by key or name, all of them when none is named.

    `Refused` says which schools or routines there are.
    """
    card = None if scope.reader.class_id is None else rows_of(room.card(scope))[0]
    wanted = school_id if card is None else str(card["school_id"])
    school = one_row(rows_of(ask.schools(scope)), wanted, ("school_id", "school_name"), "school")
    if school is None:
        raise Refused("There is no school in the current build.")
    every = rows_of(ask.routines(scope, str(school["school_id"])))
    chosen = one_row(every, routine, _NAMES, "routine") if routine else None
    return Whose(scope, snapshot, school, card, tuple(every if chosen is None else [chosen]))
