"""Pages of plain counts: what is counted, and the rows that are counted."""

from __future__ import annotations

from app.access import Refused, Visit
from app.look import cards, html, states, words
from app.pages.parts.choose import Row
from app.pages.parts.plain_rooms import OF_ROOM
from app.pages.parts.plain_school import OF_SCHOOL, OF_TEAM
from app.queries import school as ask
from app.text.number_words import lineage, scope_of_plain
from app.text.places import Place
from app.text.plain_numbers import PLAIN


def can_show(visit: Visit, place: Place) -> bool:
    """Whether there is such a count on a level of this reader's."""
    if place.measure in OF_SCHOOL and place.level == "school":
        is_teams = place.measure in OF_TEAM and visit.reader.role != "support"
        return not is_teams and _school(visit, place) is not None
    if place.measure in OF_ROOM and place.level == "class":
        role, room = visit.reader.role, visit.reader.class_id
        return role in OF_ROOM[place.measure][0] and room in (None, place.key)
    return False


def title(place: Place) -> str:
    """The name of the count."""
    return PLAIN[place.measure].title


def under(visit: Visit, place: Place) -> str:
    """Of whom and in which routine."""
    school = _school(visit, place)
    routines = ask.routines(visit.scope, str(school["school_id"])) if school is not None else None
    names = (
        {} if routines is None else dict(zip(routines["routine_id"], routines["name"], strict=True))
    )
    return scope_of_plain(place, "" if school is None else str(school["school_name"]), names)


def opened(visit: Visit, place: Place) -> None:
    """What is counted, and the rows behind it."""
    school = _school(visit, place)
    if school is None:
        raise Refused("This number belongs to other readers.")
    with cards.card("figure"):
        words.card_title("What is counted")
        html.facts(PLAIN[place.measure].facts())
        words.note(lineage(school, visit.snapshot.built_at))
    with cards.card("rows"):
        words.card_title("What it was made of")
        shows = OF_SCHOOL.get(place.measure) if place.level == "school" else None
        if not (shows or OF_ROOM[place.measure][1])(visit, school, place):
            states.nothing_here("There is nothing to count here in this build.")


def _school(visit: Visit, place: Place) -> Row | None:
    """The school of a place; for a class, the reader's first."""
    rows = ask.schools(visit.scope).to_dict("records")
    fits = (row for row in rows if place.level == "class" or row["school_id"] == place.school)
    return next(fits, None)
