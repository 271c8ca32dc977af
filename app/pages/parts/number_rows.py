"""The rows that a number was made of, for those readers who may see them."""

from __future__ import annotations

from datetime import date, timedelta

from app.access import Visit
from app.look import cards, words
from app.pages.parts import number_kinds
from app.pages.parts.number_look import Found
from app.text.dates import as_date
from app.text.number_words import NOT_YOURS

_OF_CLASS = {
    "visits": number_kinds.visits,
    "lessons": number_kinds.lessons,
    "draws": number_kinds.draws,
}


def made_of(visit: Visit, found: Found) -> None:
    """The visits or lessons behind it, or why they are not shown."""
    days = _days(found)
    with cards.card("rows"):
        words.card_title("The rows behind it")
        if found.got.is_withheld:
            words.plain("They are withheld together with the number.")
        elif days is None:
            words.plain(
                "The single days of this window are not listed; the term’s own page has them."
            )
        elif not _shown(visit, found, *days):
            words.plain(NOT_YOURS[visit.reader.role])


def _days(found: Found) -> tuple[date, date] | None:
    """First and last day of the number's window, None where they differ by class."""
    if found.place.window == "last_20" or found.term is None:
        return None
    first, last = as_date(found.term["first_on"]), as_date(found.term["last_on"])
    if found.place.window == "week":
        first = as_date(found.place.week)
        last = None if first is None else first + timedelta(days=6)
    return None if first is None or last is None else (first, last)


def _shown(visit: Visit, found: Found, first: date, last: date) -> bool:
    kind, level = str(found.definition["rests_on"]), found.place.level
    role = visit.reader.role
    if kind == "visits" and role == "support" and level in ("class", "grade", "school"):
        return number_kinds.visits(visit, found, first, last)
    if role == "teacher" and level == "class" and kind in _OF_CLASS:
        return _OF_CLASS[kind](visit, found, first, last)
    return False
