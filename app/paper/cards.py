"""Cards for drawing names: those of the reader's own class and blank ones, eight a page."""

from __future__ import annotations

from app.access import Scope, Snapshot
from app.paper import press
from app.paper.facts import rows_of
from app.paper.pieces import Piece
from app.paper.whose import whose
from app.queries import room
from app.text import room_paper
from app.text.room_words import drawn_names

PER_PAGE = 8
_BLANK = 4
_TEMPLATE = "cards"


def printed(scope: Scope, snapshot: Snapshot, school_id: str = "", routine: str = "") -> bytes:
    """The cards as a tagged PDF; only blank ones for a reader without a class of her own."""
    del routine  # these cards are the same for every routine
    return press.pressed(_TEMPLATE, contents(scope, snapshot, school_id), snapshot.built_at)


def contents(scope: Scope, snapshot: Snapshot, school_id: str = "") -> Piece:
    """Every card in the order of the names, then blank ones until the last page is full."""
    told = whose(scope, snapshot, school_id)
    names = [] if told.card is None else drawn_names(rows_of(room.turns(scope)))
    blank = _BLANK + -(len(names) + _BLANK) % PER_PAGE
    return {
        **told.frame(room_paper.CARDS, room_paper.CARDS_FOOT),
        "names": [*names, *[""] * blank],
        "room": told.class_title,
    }
