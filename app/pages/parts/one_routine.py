"""The parts of the page about one routine."""

from __future__ import annotations

import pandas as pd

from app.access import Visit
from app.charts.stave import stave_and_words
from app.charts.stave_looks import changes_of, look_of_term, spans, within
from app.look import cards, evidence, words
from app.pages.parts import choose
from app.pages.parts.choose import Row
from app.queries import measures, weeks
from app.queries import school as ask
from app.text import change as say
from app.text import fidelity, sentences, tables, watching
from app.text.dates import as_date
from app.text.readings import pick, pick_row


def measure_choice(visit: Visit) -> Row:
    """What is measured: one of the shares that visits give."""
    catalogue = ask.catalogue(visit.scope)
    chosen = choose.the_measure(catalogue, fidelity.DRAWN)
    return chosen or {"measure_name": fidelity.DRAWN[0], "title": "In place", "question": ""}


def terms_side_by_side(
    visit: Visit, school: Row, routine: Row, terms: pd.DataFrame, measure: Row
) -> None:
    """A stave for each term of the year so far, beside each other."""
    scope, school_id = visit.scope, school["school_id"]
    rows = weeks.by_school(scope, school_id, measure["measure_name"])
    rows = rows[rows["routine_id"] == routine["routine_id"]]
    ends = measures.by_school_all_terms(scope, school_id, measure["measure_name"])
    reworded = ask.rewordings(scope, school_id)
    changed = changes_of(reworded, routine["routine_id"], "changed_on", "label")
    line, pauses = float(school["criterion"]), spans(ask.breaks(scope, school_id))
    with cards.card("terms"):
        words.card_title("Terms beside each other")
        words.note(str(measure["question"]))
        found = terms.to_dict("records")
        for term, place in zip(found, cards.columns(*(1 for _ in found)), strict=True):
            own = rows[rows["term_id"] == term["term_id"]]
            with place:
                got = pick(ends, routine_id=routine["routine_id"], term_id=term["term_id"])
                words.row_name(term["title"], sentences.measured(got, "share"))
                own_changes = within(changed, term["first_on"], term["last_on"])
                look = look_of_term(
                    line, pauses, term["last_on"], own_changes, has_dates=True, height=92
                )
                spec, said = stave_and_words(term["title"], own, look, as_date(term["last_on"]))
                evidence.picture(spec, said)
        hidden = ["withheld"] if rows["is_withheld"].any() else []
        evidence.legend(*evidence.STAVE_KEY, *hidden)
        change = weeks.change_of_school(scope, school_id, measure["measure_name"])
        held = ask.held_terms(scope, school_id, measure["measure_name"])
        words.plain(watching.held_in_terms(list(held["title"])))
        until = ask.held_until(scope, school_id, measure["measure_name"])
        words.plain(say.one(pick_row(change, routine_id=routine["routine_id"]), "week", until))
        named = {routine["routine_id"]: routine["name"]}
        evidence.as_table(tables.weeks_table(rows, named), "Week by week", "terms")
