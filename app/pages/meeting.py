"""Meeting: what we said we would do, what many share, offers to consider, too little to say."""

from __future__ import annotations

from functools import partial

from app.access import here
from app.look import cards, replay, states, words
from app.pages.parts import agenda, around, choose, decide, offer, old_actions, prints, prompts
from app.queries import school as ask
from app.queries import support
from app.text.agenda import meeting_under
from app.text.headings import school_under


def show() -> None:
    """The support team's agenda."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
    if term is None:
        with heading:
            words.title("Meeting", school_under(school, None))
        states.nothing_here("The first term has not begun yet. The agenda will stand here.")
        around.bottom(visit)
        return
    offers = support.offers(visit.scope, school["school_id"], term["term_id"])
    with heading:
        words.title("Meeting", meeting_under(school, offers))
    pending = decide.waiting(visit)
    old_actions.what_we_said(visit, school, offers, pending)
    left, right = cards.grid(1, 2.7)
    with left:
        agenda.matters(visit, school, term)
        opened = agenda.offers_to_consider(visit, school, offers)
        prompts.too_little(visit, school, offers)
        agenda.coaching(visit, school, term)
    with right:
        draw = partial(offer.evidence_of, visit, school, term, opened)
        replay.body(f"offer {opened and opened['offer_id']}", visit.scope, draw)
        decide.about_offer(visit, school, opened, pending)
        prints.coach_page(visit, school, term, opened)
        prompts.data_prompts(visit, school, term)
    around.bottom(visit)


show()
