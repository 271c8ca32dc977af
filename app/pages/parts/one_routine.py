"""The parts of the page about one routine."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from app.access import Visit
from app.charts.range_bar import range_bar, range_words
from app.charts.sides import sides, sides_words
from app.charts.stave import stave, stave_words
from app.charts.stave_looks import changes_of, look_of_term, within
from app.look import cards, evidence, states, words
from app.pages.parts import calendars, choose
from app.pages.parts.choose import Row
from app.queries import measures, weeks
from app.queries import school as ask
from app.text import fidelity, sentences, tables
from app.text.dates import as_date
from app.text.readings import pick
from app.text.routines import weakest_step


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
    line, pauses = float(school["criterion"]), ask.breaks(scope, school_id)
    with cards.card("terms"):
        words.card_title("Terms beside each other")
        words.note(str(measure["question"]))
        found = terms.to_dict("records")
        for term, place in zip(found, st.columns(len(found)), strict=True):
            own = rows[rows["term_id"] == term["term_id"]]
            with place:
                got = pick(ends, routine_id=routine["routine_id"], term_id=term["term_id"])
                words.row_name(term["title"], sentences.measured(got, "share"))
                own_changes = within(changed, term["first_on"], term["last_on"])
                look = look_of_term(
                    line, pauses, term["last_on"], own_changes, has_dates=True, height=92
                )
                spec = stave(own, look, as_date(term["last_on"]))
                evidence.picture(spec, stave_words(term["title"], own, line), term["term_id"])
        evidence.legend(*evidence.STAVE_KEY)
        named = {routine["routine_id"]: routine["name"]}
        evidence.as_table(tables.weeks_table(rows, named), "Week by week", "terms")


def this_term(visit: Visit, school: Row, routine: Row, measure: Row) -> None:
    """The number of this term with its range, and the sides of it."""
    rows = measures.by_school(visit.scope, school["school_id"], school["term_id"])
    rows = rows[rows["routine_id"] == routine["routine_id"]]
    got = pick(rows, measure_name=measure["measure_name"])
    line = float(school["criterion"])
    with cards.card("this-term"):
        words.card_title(f"This term: {str(measure['title']).lower()}")
        words.lead(f"**{sentences.measured(got, 'share')}**")
        evidence.picture(range_bar(got, line), range_words(measure["title"], got, line), "now")
        words.note(sentences.basis(got))
        several = fidelity.sides_of(rows)
        weakest_side = fidelity.weakest_of(rows)
        words.question("The sides of it")
        evidence.picture(sides(several, weakest_side), sides_words(several, weakest_side), "sides")
        evidence.as_table(tables.named_table(several, "Side"), "The sides of it", "sides")


def weakest(visit: Visit, school: Row, routine: Row) -> None:
    """The step that holds least often, and other ways the school accepts."""
    with cards.card("weakest"):
        words.card_title("Which step to look at")
        words.plain(weakest_step(routine))
        accepted = routine["accepted_alternatives"]
        if isinstance(accepted, str) and accepted:
            words.question("Also counts as met")
            words.plain(accepted)
        with cards.links("weakest"):
            st.page_link(
                "pages/numbers.py",
                label="How this is counted",
                query_params={"measure": "adherence"},
            )


def taught(visit: Visit, school: Row, routine: Row) -> None:
    """When it was taught, over the whole year."""
    rows = ask.teaching(visit.scope, school["school_id"])
    own = rows[(rows["routine_id"] == routine["routine_id"]) & (rows["lesson_kind"] == "*")]
    with cards.card("taught-when"):
        words.card_title("When it was taught")
        if own.empty:
            states.nothing_here("No lesson of this routine has been planned or given yet.")
        else:
            calendars.drawn(visit, school, own, "taught-when")
