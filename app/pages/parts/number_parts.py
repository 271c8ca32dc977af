"""The parts of the page about one number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import streamlit as st

from app.access import Visit
from app.charts.range_bar import range_bar, range_words
from app.look import cards, evidence, html, words
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import school as ask
from app.queries import support
from app.text import number_words as say
from app.text.catalogue import paragraphs
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
    definition = _one(ask.catalogue(scope).to_dict("records"), measure_name=place.measure)
    rows = look.figure(
        scope, place.level, place.key, place.school, place.measure, place.routine, place.term,
        place.window, place.week,
    ).to_dict("records")  # fmt: skip
    if definition is None or not rows:
        return None
    row = {**rows[0], "window_code": place.window}
    school = str(row["school_id"])
    terms = ask.terms(scope, school).to_dict("records")
    term = _one(terms, term_id=place.term)
    earlier = _one(terms, term_id=row.get("previous_term_id"))
    told = ask.settings(scope).to_dict("records")
    return Found(
        place=place,
        row=row,
        got=reading(row),
        definition=definition,
        term=term,
        earlier_term="" if earlier is None else str(earlier["title"]),
        settings={str(one["setting_name"]): figure(one["value"]) or 0.0 for one in told},
        title=str(definition["title"]),
        scope=say.scope_words(place, _names(visit, school, place), term),
        held=_held(visit, school, place),
    )


def _held(visit: Visit, school_id: str, place: Place) -> str:
    """Whether observers do not see the same yet in what this number is made of."""
    rows = ask.held(visit.scope, school_id, place.term)
    row = _one(rows.to_dict("records"), measure_name=place.measure)
    return "" if row is None else say.held(row)


def _one(rows: Sequence[Row], **wanted: object) -> Row | None:
    fits = (row for row in rows if all(row[name] == value for name, value in wanted.items()))
    return next(fits, None)


def _names(visit: Visit, school_id: str, place: Place) -> dict[str, str]:
    scope = visit.scope
    home = _one(ask.schools(scope).to_dict("records"), school_id=school_id) or {}
    names = {"school": str(home.get("school_name", ""))}
    routines = ask.routines(scope, school_id).to_dict("records")
    names |= {f"routine {row['routine_id']}": row["name"] for row in routines}
    grades = ask.grades(scope, school_id).to_dict("records")
    names |= {f"grade {row['grade_code']}": row["name"] for row in grades}
    if place.level == "class" and "support" in dict(scope.files):
        classes = support.classes(scope, school_id).to_dict("records")
        names |= {f"class {row['class_id']}": row["title"] for row in classes}
    elif place.level == "class":
        names[f"class {place.key}"] = "my class"
    return names


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
            evidence.picture(range_bar(got, line), said, "number")
        words.note(say.before(found.row, unit, found.earlier_term))
        words.note(say.lineage(found.row, visit.snapshot.built_at))
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
        with cards.links("meaning"):
            st.page_link(
                "pages/numbers.py",
                label="This measure among all others",
                query_params={"measure": found.place.measure},
            )
