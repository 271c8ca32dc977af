"""Practice at home, for the teacher of the class."""

from __future__ import annotations

from app.access import Visit
from app.look import cards, evidence, words
from app.pages.parts.choose import Row
from app.queries import measures
from app.queries import school as ask
from app.text import families
from app.text.readings import pick
from app.text.tables import named_table

_MEASURE = "family_practice"


def at_home(visit: Visit, card: Row) -> None:
    """How many families said that they practised; nothing where families are never asked."""
    rows = measures.by_class(visit.scope, card["class_id"])
    rows = rows[(rows["measure_name"] == _MEASURE) & (rows["session_count"] > 0)]
    if rows.empty:
        return
    now = rows[rows["term_id"] == card["term_id"]]
    got = pick(now, routine_id="*")
    named = [
        (str(one["name"]), pick(now, routine_id=str(one["routine_id"])))
        for one in ask.routines(visit.scope, card["school_id"]).to_dict("records")
    ]
    with cards.card("at-home"):
        words.card_title("Practice at home")
        words.sentence(families.practised(got))
        words.note(families.rests_on(got))
        words.note(families.NEVER_WHICH)
        known = [(name, one) for name, one in named if one.is_known]
        if known:
            evidence.as_table(
                named_table(known, "Routine"),
                "Families who practised, by routine",
                "at-home",
                "By routine",
            )
