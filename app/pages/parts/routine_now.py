"""One routine this term: its number, its sides, its weakest step, when it was taught."""

from __future__ import annotations

from app.access import Visit
from app.charts.range_bar import range_bar, range_words
from app.charts.sides import sides, sides_words
from app.look import cards, evidence, states, words
from app.pages.parts import calendars
from app.pages.parts.choose import Row
from app.queries import measures
from app.queries import school as ask
from app.text import fidelity, sentences, spread, tables
from app.text.readings import pick, pick_row
from app.text.routines import weakest_step


def this_term(visit: Visit, school: Row, routine: Row, measure: Row) -> None:
    """The number of this term with its range, and the sides of it."""
    rows = measures.by_school(visit.scope, school["school_id"], school["term_id"])
    rows = rows[rows["routine_id"] == routine["routine_id"]]
    got = pick(rows, measure_name=measure["measure_name"])
    line = float(school["criterion"])
    with cards.card("this-term"):
        words.card_title(f"This term: {str(measure['title']).lower()}")
        words.lead(f"**{sentences.measured(got, 'share')}**")
        evidence.picture(range_bar(got, line), range_words(measure["title"], got, line))
        words.note(sentences.basis(got))
        evidence.one_number(str(measure["title"]), got, "now")
        several = fidelity.sides_of(rows)
        weakest_side = fidelity.weakest_of(rows)
        words.question("The sides of it")
        evidence.picture(sides(several, weakest_side), sides_words(several, weakest_side))
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
        words.question("Class matter or school matter?")
        rows = ask.spread(visit.scope, school["school_id"], school["term_id"], "responsiveness")
        words.plain(spread.one(pick_row(rows, routine_id=routine["routine_id"])))
        cards.way("numbers", "How this is counted", measure="adherence")


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
