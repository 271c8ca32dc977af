"""One class's numbers beside its own last term."""

from __future__ import annotations

from app.access import Visit
from app.charts.pairs import pairs, pairs_of, pairs_words
from app.look import cards, evidence, states, words
from app.pages.parts.choose import Row
from app.queries import measures
from app.queries import school as ask
from app.text import tables


def own_past(visit: Visit, school: Row, term: Row, row: Row) -> None:
    """Each routine of the class: last term and this one."""
    rows = measures.by_class(visit.scope, row["class_id"])
    rows = rows[(rows["term_id"] == term["term_id"]) & (rows["measure_name"] == "responsiveness")]
    routines = ask.routines(visit.scope, school["school_id"])[["routine_id", "name", "sort_order"]]
    named = routines.merge(rows, on="routine_id")
    with cards.card("class-past"):
        words.card_title("Beside its own last term")
        if named.empty:
            states.nothing_here("Nobody has looked yet in this term.")
            return
        found = pairs_of(named, "name")
        said = pairs_words(f"{row['title']}, this term and last", found)
        spec = pairs(found, float(school["criterion"]), name_width=148)
        evidence.picture(spec, said)
        evidence.legend("before", "now", "few", "line")
        evidence.as_table(tables.pairs_table(named, "name", "Routine"), said, "class-past")
