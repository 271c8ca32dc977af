"""What a teacher reads about offers of help and about the records of her class."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from app.access import Visit
from app.look import cards, evidence, words
from app.pages.parts.choose import Row
from app.queries import room
from app.text import agenda, data_matters, offer_course, offers, own_decisions, room_words


def offers_of_help(visit: Visit) -> None:
    """What the team would offer, shown to the teacher first."""
    rows = room.offers(visit.scope)
    is_open = (rows["state_code"] == "offer") & ~rows["course_code"].isin(agenda.DECIDED)
    open_rows = rows[is_open].to_dict("records")
    names = room_words.routine_names(room.teach_next(visit.scope))
    if open_rows:
        with cards.card("help"):
            words.card_title("A hand, if you would like one")
            for row in open_rows:
                _one_offer(visit, row, names.get(row["routine_id"], "A routine"))
            if (rows[is_open]["course_code"] == "new").any():
                words.note("You see what is new here before the support team talks about it.")
    _why_none(rows, names)


def _one_offer(visit: Visit, row: Row, routine: str) -> None:
    words.plain(offers.what_was_seen(row, routine))
    words.plain(offers.what_might_help(row).replace("The teacher may", "You may"))
    said = (offers.how_sure(row), offer_course.since_when(row), offer_course.closing(row))
    words.note(" ".join(part for part in said if part))
    is_back = row["course_code"] == "returned"
    words.note(own_decisions.BACK if is_back else offer_course.seen_first(row))
    history = room.offer_history(visit.scope, row["routine_id"])
    table, key = offer_course.reviews_table(history), f"reviews-{row['routine_id']}"
    evidence.as_table(table, "What each review found", key, "What each review found")


def _why_none(rows: pd.DataFrame, names: Mapping[str, str]) -> None:
    """Every routine of the term with its offer or the reason why there is none."""
    if rows.empty:
        return
    with cards.card("why-none"), cards.fold("Offers, and why there is none", "why-none"):
        table = offer_course.reasons_table(rows.to_dict("records"), names)
        evidence.table(table, "Every routine, with its offer or why there is none")


def records(visit: Visit) -> None:
    """What the school would ask about the records of the class, apart from how it is taught."""
    lines = data_matters.lines(room.data_offers(visit.scope), by_class=False)
    if lines:
        with cards.card("records"):
            words.card_title("About the records")
            words.lines(lines)
            words.note("It is about what was written down, never about how a routine is taught.")
