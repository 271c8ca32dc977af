"""Watching together: whether observers see the same, and what a number rests on."""

from __future__ import annotations

from app.access import Visit
from app.look import cards, evidence, states, words
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text import looking, watching


def together(visit: Visit, school: Row, term: Row) -> None:
    """Agreement of the term, each observer beside the others, and how many visits it takes."""
    _agreement(visit, school, term)
    _observers(visit, school)
    _dependability(visit, school)


def _agreement(visit: Visit, school: Row, term: Row) -> None:
    rows = support.agreement(visit.scope, school["school_id"], term["term_id"])
    held = ask.held(visit.scope, school["school_id"], term["term_id"])
    catalogue = ask.catalogue(visit.scope)
    titles = dict(zip(catalogue["measure_name"], catalogue["title"], strict=True))
    with cards.card("agreement"):
        words.card_title("Watching together")
        aim = watching.aim_sentence(rows, ask.level(visit.scope, "double_watched_line"))
        words.lead(f"{watching.agreement_sentence(rows)} {aim}".strip())
        words.plain(watching.held_sentence(held, titles))
        if not rows.empty:
            evidence.table(watching.agreement_table(rows), "How far two observers agree")
            words.note(watching.KAPPA_NOTE)


def _observers(visit: Visit, school: Row) -> None:
    rows = support.observers(visit.scope, school["school_id"])
    with cards.card("observers"):
        words.card_title("How each observer sees")
        words.note(watching.OBSERVER_NOTE)
        if rows.empty:
            states.nothing_here(
                "In a school with so few observers nothing is said about single ones."
            )
        else:
            words.lead(looking.observers_sentence(rows))
            words.note(watching.OBSERVER_TABLE_NOTE)
            table = watching.observers_table(rows)
            evidence.as_table(
                table, "How each observer sees, by key", "observers", "Every observer, by key"
            )


def _dependability(visit: Visit, school: Row) -> None:
    rows = ask.dependability(visit.scope, school["school_id"])
    with cards.card("dependability"):
        words.card_title("How many visits it takes")
        words.plain(watching.dependability_sentence(rows))
        if not rows.empty:
            words.note(looking.VISITS_NOTE)
            words.note(watching.tells_note(ask.level(visit.scope, "dependability_target")))
            table = watching.dependability_table(rows)
            evidence.table(table, "How far other visits would tell the same", has_long_text=True)
