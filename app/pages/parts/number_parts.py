"""The parts of the page about one number."""

from __future__ import annotations

from app.access import Visit
from app.charts.range_bar import range_bar, range_words
from app.look import cards, evidence, html, words
from app.pages.parts.number_look import Found
from app.text import number_words as say
from app.text.catalogue import paragraphs
from app.text.numbers import figure


def opened(visit: Visit, found: Found) -> None:
    """The number, its counts, its range, and what may be said of it."""
    got, definition = found.got, found.definition
    unit = str(definition["unit"])
    left, right = cards.grid(1, 1.35)
    with left, cards.card("figure"):
        words.question(str(definition["question"]))
        words.sentence(say.said(got, unit))
        words.plain(say.withheld_words(got, found.settings.get("small_cell")))
        if unit == "share":
            line = figure(definition["criterion"])
            said = range_words(found.title, got, line)
            evidence.picture(range_bar(got, line), said)
        words.note(say.before(found.row, unit, found.earlier_term))
        words.note(say.lineage(found.row, visit.snapshot.built_at))
        evidence.one_number(found.title, got, "number", unit)
    with right, cards.card("behind"):
        words.card_title("What it was made of")
        html.facts(say.counts(got, found.row, definition))
        words.note(say.not_divided(definition) if got.is_known else "")
    with cards.card("sure"):
        words.card_title("How sure it is")
        html.facts(_sure(found))


def _sure(found: Found) -> dict[str, str]:
    got, definition = found.got, found.definition
    told = {
        "Range": say.how_made(got, found.place, definition, found.settings),
        "Days": say.window(found.place, found.term, found.row.get("as_of_on"), found.settings),
        "Enough?": say.enough(got, definition),
        "Our line": say.standing(got, definition),
        "Observers": found.held,
        "Left out": say.left_out(found.place, definition),
    }
    return {name: text for name, text in told.items() if text}


def meaning(found: Found) -> None:
    """What the measure tells in plain words, what it cannot say, and where that comes from."""
    with cards.card("meaning"):
        words.card_title("What it tells")
        for text in paragraphs(found.definition):
            words.plain(text)
        html.facts(
            {
                "Cannot say": str(found.definition["cannot_say"]),
                "Comes from": str(found.definition["source"]),
            }
        )
        cards.way("numbers", "This measure among all others", measure=found.place.measure)
