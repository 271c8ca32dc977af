"""Looks a number up: its row, its definition, its term and the names around it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.access import Visit
from app.pages.parts.choose import Row
from app.pages.parts.number_names import held, names_of, one
from app.queries import number as look
from app.queries import school as ask
from app.text import number_words as say
from app.text.numbers import figure
from app.text.places import Place
from app.text.readings import Reading, reading


@dataclass(frozen=True)
class Found:
    """A number with everything its page needs."""

    place: Place
    row: Row
    got: Reading
    definition: Row
    term: Row | None
    earlier_term: str
    settings: Mapping[str, float]
    title: str
    scope: str
    held: str


def look_up(visit: Visit, place: Place) -> Found | None:
    """The number at a place; None when this build or this reader has none there."""
    scope = visit.scope
    definition = one(ask.catalogue(scope).to_dict("records"), measure_name=place.measure)
    rows = look.figure(
        scope, place.level, place.key, place.school, place.measure, place.routine, place.term,
        place.window, place.week,
    ).to_dict("records")  # fmt: skip
    if definition is None or not rows:
        return None
    row = {**rows[0], "window_code": place.window}
    school = str(row["school_id"])
    terms = ask.terms(scope, school).to_dict("records")
    term = one(terms, term_id=place.term)
    earlier = one(terms, term_id=row.get("previous_term_id"))
    told = ask.settings(scope).to_dict("records")
    return Found(
        place=place,
        row=row,
        got=reading(row),
        definition=definition,
        term=term,
        earlier_term="" if earlier is None else str(earlier["title"]),
        settings={str(line["setting_name"]): figure(line["value"]) or 0.0 for line in told},
        title=str(definition["title"]),
        scope=say.scope_words(place, names_of(visit, school, place), term),
        held=held(visit, school, place),
    )
