"""The cards of the meeting that ask for a look or for a card to be put right."""

from __future__ import annotations

import pandas as pd

from app.access import Visit
from app.look import cards, words
from app.pages.parts.choose import Row
from app.queries import support
from app.text import agenda as say
from app.text import data_matters


def too_little(visit: Visit, school: Row, offers: pd.DataFrame) -> None:
    """Classes that need a look or two before anything can be said."""
    said, lines = say.thin_classes(support.classes(visit.scope, school["school_id"]))
    with cards.card("thin"):
        words.question("4 · Too little to say")
        words.plain(said)
        words.lines(lines)
        words.note(say.thin_routines(offers))


def data_prompts(visit: Visit, school: Row, term: Row) -> None:
    """What to put right in the data: apart from how routines are taught."""
    rows = support.turn_checks(visit.scope, school["school_id"], term["term_id"])
    audits = support.draw_audits(visit.scope, school["school_id"], term["term_id"])
    lines = [*say.check_lines(rows), *data_matters.audit_lines(audits)]
    with cards.card("data"):
        words.question("5 · To put right in the draws")
        if lines:
            words.lines(lines)
            words.note("Found by a replay of the draws. It is about cards, not about children.")
        else:
            words.plain("A replay of the draws found nothing to put right.")
        words.note(data_matters.audit_note(audits))
    _records(visit, school, term)


def _records(visit: Visit, school: Row, term: Row) -> None:
    rows = support.data_offers(visit.scope, school["school_id"], term["term_id"])
    lines = data_matters.lines(rows, by_class=True)
    with cards.card("records"):
        words.question("6 · To ask about the records")
        if lines:
            words.lines(lines)
        else:
            words.plain("Nothing has to be asked about the records.")
        words.note("It is about what was written down, never about how a routine is taught.")
