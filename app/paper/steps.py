"""A routine as it stands on paper: its steps with their pictures, its voice, its other ways."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from app.paper import press
from app.paper.drawings import Drawing, of_kind, of_step
from app.paper.facts import Row, rows_of
from app.paper.pieces import Piece
from app.paper.whose import Whose
from app.queries import school as ask
from app.text import room_paper
from app.text.numbers import missing


def told(found: Whose, routine: Row) -> Piece:
    """One routine in its present wording."""
    level = routine["expected_voice_level"]
    steps = rows_of(ask.steps(found.scope, found.school_id))
    own = [step for step in steps if step["routine_id"] == routine["routine_id"]]
    return {
        "name": str(routine["name"]),
        "setting": "" if missing(routine["setting"]) else str(routine["setting"]).replace("_", " "),
        "picture": _piece(of_kind(str(routine["kind"]))),
        "voice": None if missing(level) else int(level),
        "voice_words": room_paper.voice_words(level),
        "voice_alt": room_paper.voice_alt(level),
        "steps": [_step(step) for step in own],
        "no_steps": "" if own else room_paper.NO_STEPS,
        "other_title": room_paper.OTHER_WAYS,
        "other": room_paper.other_ways(routine),
    }


def fitted(
    template: str, sizes: Sequence[float], laid_out: Callable[[Piece], Piece], piece: Piece
) -> Piece | None:
    """A piece in the first of the sizes that keeps it on one page; None when none of them does."""
    for size in sizes:
        sized = {**piece, "points": size}
        if press.page_count(template, laid_out(sized)) == 1:
            return sized
    return None


def _step(step: Row) -> Piece:
    drawn = of_step(str(step["step_text"]))
    return {
        "number": str(step["step_number"]),
        "text": str(step["step_text"]),
        "picture": None if drawn is None else _piece(drawn),
    }


def _piece(drawn: Drawing) -> Piece:
    return {"svg": drawn.svg, "alt": drawn.alt}
